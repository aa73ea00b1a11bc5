/**
 * Brings a database to the newest shape, or refuses it: an opened database has the tables, indexes
 * and triggers the migrations make, word for word, or it is not opened. So a ledger whose
 * append-only triggers somebody took away does not start.
 *
 * All pending migrations, with the record that they were applied, are one transaction: after a
 * failure the file is as it was before, and of two programs that start at once one waits.
 */

import type { Database } from "better-sqlite3";
import { Kysely, type Migration, Migrator, SqliteDialect } from "kysely";
import * as ledger from "../../migrations/0001-ledger.js";
import * as acts from "../../migrations/0002-acts.js";
import * as segments from "../../migrations/0003-segments.js";
import * as access from "../../migrations/0004-access.js";
import * as signatures from "../../migrations/0005-signatures.js";
import * as ids from "../../migrations/0006-ids.js";
import * as audit from "../../migrations/0007-audit.js";
import * as accessAgain from "../../migrations/0008-access.js";
import * as trust from "../../migrations/0009-trust.js";
import { openHandle, StoreRefused } from "./dialect.js";

export type Migrations = Readonly<Record<string, Migration>>;

/** Every migration there is; their names sort in the order in which they are applied. */
export const migrations: Migrations = {
  "0001-ledger": ledger,
  "0002-acts": acts,
  "0003-segments": segments,
  "0004-access": access,
  "0005-signatures": signatures,
  "0006-ids": ids,
  "0007-audit": audit,
  "0008-access": accessAgain,
  "0009-trust": trust,
};

/** The migrator's own tables. */
const RECORD = "kysely_migration";
const LOCK = "kysely_migration_lock";

/**
 * Makes sure that a database has the newest shape, migrating it only if `migrate` says so.
 * Throws StoreRefused for a database that is newer than the program, is not a ledger, is
 * half-migrated, was altered by hand, or is older while `migrate` is false; throws a migration's
 * own error if one fails.
 */
export async function ensureNewest(
  handle: Database,
  migrate: boolean,
  known: Migrations = migrations,
): Promise<void> {
  const names = Object.keys(known).sort();
  const applied = appliedTo(handle);
  const unknown = applied.find((name) => !names.includes(name));
  if (unknown !== undefined) {
    throw new StoreRefused(`it is newer than this program, which does not know the migration ${unknown}`);
  }
  if (applied.some((name, place) => name !== names[place])) {
    throw new StoreRefused(`it is half-migrated: only ${applied.join(", ")} of ${names.join(", ")}`);
  }
  if (applied.length < names.length) {
    if (!migrate) throw new StoreRefused(`it has not been migrated to ${names.at(-1)}: run migrate first`);
    await migrateAll(handle, known).catch((error: unknown) => {
      throw refusedByShape(error, names[applied.length]!);
    });
  }
  await refuseOtherShape(handle, known);
}

/** What a migration made before, or should have found, says that the record of migrations is not that of the tables. */
function refusedByShape(error: unknown, next: string): unknown {
  const message = error instanceof Error ? error.message : "";
  if (!/already exists|duplicate column name|no such (table|column|index|trigger)/.test(message))
    return error;
  return new StoreRefused(
    `it is half-migrated or altered: from ${next} on it cannot be migrated (${message})`,
  );
}

/** The names of the migrations applied to a database, in order. */
function appliedTo(handle: Database): string[] {
  const tables = handle
    .prepare<[], string>("select name from sqlite_schema where type = 'table'")
    .pluck()
    .all();
  if (tables.includes(RECORD)) {
    return handle.prepare<[], string>(`select name from ${RECORD} order by name`).pluck().all();
  }
  if (tables.length > 0) throw new StoreRefused(`it is another program's: it has a table ${tables[0]}`);
  return [];
}

/**
 * Applies what is pending. The transaction is opened here and not by the migrator, whose own would
 * leave out its record tables and begin without the write lock.
 */
async function migrateAll(handle: Database, known: Migrations): Promise<void> {
  const migrator = new Migrator({
    db: new Kysely({ dialect: new SqliteDialect({ database: handle }) }),
    provider: { getMigrations: async () => ({ ...known }) },
    disableTransactions: true,
  });
  handle.exec("BEGIN IMMEDIATE");
  const { error } = await migrator.migrateToLatest();
  handle.exec(error === undefined ? "COMMIT" : "ROLLBACK");
  if (error !== undefined) throw error;
}

/** Refuses a database in which anything the migrations make is missing or reads otherwise. */
async function refuseOtherShape(handle: Database, known: Migrations): Promise<void> {
  const model = openHandle(":memory:", { create: true, busyTimeout: 0 });
  try {
    await migrateAll(model, known);
    const present = shapeOf(handle);
    for (const [name, sql] of shapeOf(model)) {
      if (!present.has(name)) throw new StoreRefused(`it is half-migrated or altered: it lacks ${name}`);
      if (present.get(name) !== sql) throw new StoreRefused(`it was altered: its ${name} is another`);
    }
  } finally {
    model.close();
  }
}

function shapeOf(handle: Database): Map<string, string> {
  const things = handle
    .prepare<[], { name: string; sql: string }>(
      `select type || ' ' || name as name, sql from sqlite_schema
       where sql is not null and name not in ('${RECORD}', '${LOCK}')`,
    )
    .all();
  return new Map(things.map(({ name, sql }) => [name, sql]));
}
