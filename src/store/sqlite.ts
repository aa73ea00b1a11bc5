/**
 * The store on SQLite: one connection, on which everything runs synchronously, so that nothing can
 * come between the asks and the writes of an inquiry. Other processes may have the same file open;
 * what they commit is noticed before anything remembered here is relied on.
 */

import { open as openFile, rm } from "node:fs/promises";
import type { Database } from "better-sqlite3";
import { checkpointsOf } from "./checkpoints.js";
import { type Answering, carryOut, converse, type Writing } from "./conversation.js";
import { isOutage, openHandle, refusal, settle } from "./dialect.js";
import { GroupCommit, unavailable } from "./group.js";
import { Heads } from "./heads.js";
import { keptAnswersOf } from "./kept-answers.js";
import { ensureNewest } from "./migrate.js";
import { type Rows, rowsOf } from "./rows.js";
import { staysOf } from "./stays.js";
import type { Decision, Inquiry, Row, Store, TokenRecord } from "./store.js";
import { type Tokens, tokensOf } from "./tokens.js";

export interface SqliteOptions {
  /** Whether a missing file is made and an older database migrated; else both are refused. */
  readonly migrate: boolean;
  /** How long to wait for another process that holds the file, in milliseconds. */
  readonly busyTimeout?: number;
}

/**
 * Opens the ledger in a file (`:memory:` for one that lives as long as the store).
 * Throws StoreRefused when the file is no ledger, is newer than the program, half-migrated, altered,
 * or not migrated while `migrate` is false.
 */
export async function openSqlite(path: string, options: SqliteOptions): Promise<Store> {
  const { migrate, busyTimeout = 2_000 } = options;
  let handle: Database | undefined;
  try {
    handle = openHandle(path, { create: migrate, busyTimeout });
    await ensureNewest(handle, migrate);
    settle(handle);
  } catch (error) {
    handle?.close();
    throw refusal(path, error);
  }
  return new SqliteStore(handle);
}
