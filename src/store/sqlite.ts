/**
 * The store on SQLite: one connection, on which everything runs synchronously, so that nothing can
 * come between the asks and the writes of an inquiry. Other processes may have the same file open;
 * what they commit is noticed before anything remembered here is relied on.
 */

import type { Database } from "better-sqlite3";
import type { Instant } from "../time/instant.js";
import { accessesOf } from "./accesses.js";
import { accountsOf, sessionsOf } from "./accounts.js";
import { copyTo } from "./backup.js";
import type { TokenRecord } from "./callers.js";
import { checkpointsOf } from "./checkpoints.js";
import { isOutage, openHandle, refusal, settle } from "./dialect.js";
import { GroupCommit, unavailable } from "./group.js";
import { Heads } from "./heads.js";
import { keptAnswersOf } from "./kept-answers.js";
import { ensureNewest } from "./migrate.js";
import { placesOf } from "./places.js";
import { type Rows, rowsOf } from "./rows.js";
import { type Stays, staysOf } from "./stays.js";
import {
  type AccountStore,
  type Decision,
  type Inquiry,
  type PlaceStore,
  type Row,
  type SessionStore,
  type Stay,
  type Store,
  StoreUnavailable,
} from "./store.js";
import { type Tokens, tokensOf } from "./tokens.js";
import { type SqliteTransactions, transactionsOn } from "./transactions.js";

export { StoreRefused } from "./dialect.js";

export interface SqliteOptions {
  /** Whether a missing file is made and an older database migrated; else both are refused. */
  readonly migrate: boolean;
  /** How long to wait for another process that holds the file, in milliseconds (2,000). */
  readonly busyTimeout?: number;
}

/** How much longer than usual to wait while opening: another program that starts as well may be migrating. */
const OPENING_PATIENCE = 10;

/**
 * Opens the ledger in a file (`:memory:` for one that lives as long as the store).
 * Throws StoreRefused when the file is no ledger, is newer than the program, half-migrated, altered
 * by hand, or not migrated while `migrate` is false.
 */
export async function openSqlite(path: string, options: SqliteOptions): Promise<Store> {
  const { migrate, busyTimeout = 2_000 } = options;
  const patience = busyTimeout * OPENING_PATIENCE;
  let handle: Database | undefined;
  try {
    handle = openHandle(path, { create: migrate, busyTimeout: patience });
    await ensureNewest(handle, migrate);
    await settle(handle, patience);
    handle.pragma(`busy_timeout = ${busyTimeout}`);
  } catch (error) {
    handle?.close();
    throw refusal(path, error);
  }
  return new SqliteStore(handle);
}

class SqliteStore implements Store {
  readonly #handle: Database;
  readonly #rows: Rows;
  readonly #stays: Stays;
  readonly #tokens: Tokens;
  readonly #transactions: SqliteTransactions;
  readonly #groups: GroupCommit;
  /** Copies being made, which end before the connection is closed. */
  readonly #copies = new Set<Promise<void>>();
  readonly accounts: AccountStore;
  readonly sessions: SessionStore;
  readonly places: PlaceStore;

  constructor(handle: Database) {
    const rows = rowsOf(handle);
    const heads = new Heads(rows.last);
    const checkpoints = checkpointsOf(handle);
    const stays = staysOf(handle);
    const answers = keptAnswersOf(handle);
    const accesses = accessesOf(handle);
    this.#handle = handle;
    this.#rows = rows;
    this.#stays = stays;
    this.#tokens = tokensOf(handle);
    this.#transactions = transactionsOn(
      handle,
      heads,
      {
        head: ({ chain }) => heads.of(chain),
        ...rows.answering,
        ...checkpoints.answering,
        ...stays.answering,
        ...answers.answering,
        ...accesses.answering,
      },
      {
        row: ({ row }) => rows.add(row),
        ...checkpoints.writing,
        ...stays.writing,
        ...answers.writing,
        ...accesses.writing,
      },
    );
    const atOnce = <A extends unknown[], T>(run: (...given: A) => T) => {
      return async (...given: A) => this.#atOnce(() => run(...given));
    };
    const accounts = accountsOf(handle);
    this.accounts = {
      add: atOnce(accounts.add),
      byUsername: atOnce(accounts.byUsername),
      byId: atOnce(accounts.byId),
      page: atOnce(accounts.page),
      change: atOnce(accounts.change),
    };
    const sessions = sessionsOf(handle);
    this.sessions = {
      add: atOnce(sessions.add),
      byHash: atOnce(sessions.byHash),
      used: atOnce(sessions.used),
      end: atOnce(sessions.end),
      endOf: atOnce(sessions.endOf),
      endUnused: atOnce(sessions.endUnused),
    };
    const places = placesOf(handle);
    this.places = {
      known: atOnce(places.known),
      isAnybodys: atOnce(places.isAnybodys),
      used: atOnce(places.used),
    };
    this.#groups = new GroupCommit(this.#transactions);
  }

  async read<T>(inquire: () => Inquiry<T>): Promise<T> {
    return this.#atOnce(() => this.#transactions.read(inquire));
  }

  transact<T>(decide: () => Inquiry<Decision<T>>): Promise<T> {
    return this.#groups.transact(decide);
  }

  everyRow(): Iterable<Row> {
    return this.#rows.every();
  }

  whole<T>(look: (rows: Iterable<Row>, stays: readonly Stay[]) => T): T {
    return this.#handle.transaction(() => look(this.#rows.every(), this.#stays.every()))();
  }

  async unitOf(encounter: string): Promise<string | undefined> {
    return this.#atOnce(() => this.#stays.unitOf(encounter));
  }

  async createToken(token: TokenRecord): Promise<void> {
    this.#atOnce(() => this.#tokens.add(token));
  }

  async tokenByHash(hash: string): Promise<TokenRecord | undefined> {
    return this.#atOnce(() => this.#tokens.byHash(hash));
  }

  async tokens(): Promise<readonly TokenRecord[]> {
    return this.#atOnce(() => this.#tokens.every());
  }

  async revokeToken(id: string, at: Instant): Promise<boolean> {
    return this.#atOnce(() => this.#tokens.revoke(id, at));
  }

  async backup(path: string): Promise<void> {
    const copy = this.#atOnce(() => copyTo(this.#handle, path));
    this.#copies.add(copy);
    await copy.finally(() => this.#copies.delete(copy));
  }

  async close(): Promise<void> {
    this.#groups.close();
    await Promise.allSettled(this.#copies);
    if (!this.#handle.open) return;
    // Leaves one file that can be copied by any means.
    this.#handle.pragma("wal_checkpoint(TRUNCATE)");
    this.#handle.close();
  }

  /** Runs what needs no waiting; an outage, or a closed store, becomes StoreUnavailable. */
  #atOnce<T>(run: () => T): T {
    if (!this.#handle.open) throw new StoreUnavailable("the store is closed");
    try {
      return run();
    } catch (error) {
      throw isOutage(error) ? unavailable(error) : error;
    }
  }
}
