/** What is opened as a ledger, how it is set, and what is refused with which words. */

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { setTimeout } from "node:timers/promises";
import SqliteDatabase from "better-sqlite3";
import { type Kysely, sql } from "kysely";
import { expect, onTestFinished, test } from "vitest";
import { openHandle, settle } from "../../src/store/dialect.js";
import { ensureNewest, migrations } from "../../src/store/migrate.js";
import { openSqlite, StoreRefused } from "../../src/store/sqlite.js";
import { appendTo, BED_4 } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

/** Does something to a database by hand. */
function alter(path: string, statement: string): void {
  const handle = new SqliteDatabase(path);
  handle.exec(statement);
  handle.close();
}

/** A migrated ledger that nobody has open. */
async function closedLedger(): Promise<string> {
  const path = ledgerPath();
  await (await openSqlite(path, { migrate: true })).close();
  return path;
}

async function refusalOf(path: string, migrate = true): Promise<string> {
  const refused = await openSqlite(path, { migrate, busyTimeout: 0 }).then(
    () => undefined,
    (error: unknown) => error,
  );
  expect(refused).toBeInstanceOf(StoreRefused);
  return (refused as StoreRefused).message;
}

test("a commit waits for the disk, and the guards of the ledger are on", async () => {
  const handle = openHandle(ledgerPath(), { create: true, busyTimeout: 1_234 });
  onTestFinished(() => {
    handle.close();
  });
  await settle(handle, 0);
  const set = (name: string) => handle.pragma(name, { simple: true });
  const FULL = 2;
  expect(set("journal_mode")).toBe("wal");
  expect(set("synchronous")).toBe(FULL);
  expect(set("foreign_keys")).toBe(1);
  expect(set("recursive_triggers")).toBe(1);
  expect(set("busy_timeout")).toBe(1_234);
});

test("a ledger closed is one file, and opens again without migrating", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await appendTo(store, BED_4);
  await store.close();
  expect(existsSync(`${path}-wal`)).toBe(false);
  const again = await openSqlite(path, { migrate: false });
  expect([...again.everyRow()]).toHaveLength(1);
  await again.close();
});

test("a ledger may live in memory", async () => {
  const store = await openLedger(":memory:");
  expect(await appendTo(store, BED_4)).toBe(1);
});

test("without migrating, a file that is not there is not made", async () => {
  const path = ledgerPath();
  expect(await refusalOf(path, false)).toMatch(/no file there that can be opened/);
  expect(existsSync(path)).toBe(false);
});

test("a folder that is not there is named", async () => {
  const path = join(dirname(ledgerPath()), "nowhere", "ledger.db");
  expect(await refusalOf(path)).toContain(path);
});

test("without migrating, an empty database is refused", async () => {
  const path = ledgerPath();
  writeFileSync(path, "");
  expect(await refusalOf(path, false)).toMatch(/not been migrated to 0009-trust: run migrate first/);
});

test("a file that is no SQLite database is refused and left as it is", async () => {
  const path = ledgerPath();
  const letter = "Dear colleague, ".repeat(100);
  writeFileSync(path, letter);
  expect(await refusalOf(path)).toMatch(/not a SQLite database/);
  expect(readFileSync(path, "utf8")).toBe(letter);
});

test("a database of another program is refused and left as it is", async () => {
  const path = ledgerPath();
  alter(path, "create table recipe (name text)");
  const before = readFileSync(path);
  expect(await refusalOf(path)).toMatch(/another program's: it has a table recipe/);
  expect(readFileSync(path)).toEqual(before);
});

test("a database newer than the program is refused", async () => {
  const path = await closedLedger();
  alter(path, "insert into kysely_migration values ('0099-later', '2031-01-01T00:00:00.000Z')");
  expect(await refusalOf(path)).toMatch(
    /newer than this program, which does not know the migration 0099-later/,
  );
});

test("a database whose guards were taken away is refused", async () => {
  const path = await closedLedger();
  alter(path, "drop trigger entry_never_changed");
  expect(await refusalOf(path)).toMatch(/lacks trigger entry_never_changed/);
});

test("a database whose guards were weakened is refused", async () => {
  const path = await closedLedger();
  alter(
    path,
    "drop trigger entry_never_deleted; create trigger entry_never_deleted before delete on entry begin select 1; end",
  );
  expect(await refusalOf(path)).toMatch(/its trigger entry_never_deleted is another/);
});

test("a database that has a later migration but not an earlier one is refused", async () => {
  const handle = openHandle(":memory:", { create: true, busyTimeout: 0 });
  onTestFinished(() => {
    handle.close();
  });
  const known = { "0000-earlier": { up: async () => {} }, ...migrations };
  await ensureNewest(handle, true);
  await expect(ensureNewest(handle, true, known)).rejects.toThrow(
    "it is half-migrated: only 0001-ledger, 0002-acts, 0003-segments, 0004-access, 0005-signatures, 0006-ids, 0007-audit, 0008-access, 0009-trust of 0000-earlier, 0001-ledger, 0002-acts, 0003-segments, 0004-access, 0005-signatures, 0006-ids, 0007-audit, 0008-access, 0009-trust",
  );
});

test("a migration that fails at its second statement leaves nothing at all", async () => {
  const handle = openHandle(":memory:", { create: true, busyTimeout: 0 });
  onTestFinished(() => {
    handle.close();
  });
  const failing = {
    up: async (db: Kysely<unknown>) => {
      await sql`create table ward (name text)`.execute(db);
      await sql`create table ward (name text)`.execute(db);
    },
  };
  await expect(ensureNewest(handle, true, { "0001-failing": failing })).rejects.toThrow(/already exists/);
  expect(handle.prepare("select name from sqlite_schema").all()).toEqual([]);
  await ensureNewest(handle, true);
});

test("a ledger whose last migration is there but not recorded is refused in words, not in SQL alone", async () => {
  const path = await closedLedger();
  const last = Object.keys(migrations).sort().at(-1)!;
  alter(path, `delete from kysely_migration where name = '${last}'`);
  expect(await refusalOf(path)).toContain(
    `it is half-migrated or altered: from ${last} on it cannot be migrated`,
  );
});

test("a file that another program holds is turned to its write-ahead log once that lets go of it", async () => {
  const path = ledgerPath();
  const other = new SqliteDatabase(path);
  // SQLite gives up at once where two programs wait for each other: as with no busy timeout.
  const handle = openHandle(path, { create: false, busyTimeout: 0 });
  onTestFinished(() => {
    other.close();
    handle.close();
  });
  await ensureNewest(other, true);
  other.exec("begin; select count(*) from kysely_migration");
  await expect(settle(handle, 0)).rejects.toThrow("database is locked");
  const settled = settle(handle, 10_000);
  await setTimeout(50);
  other.exec("commit");
  await settled;
  expect(handle.pragma("journal_mode", { simple: true })).toBe("wal");
});
