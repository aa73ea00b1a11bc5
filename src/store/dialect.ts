/**
 * What is SQLite's own: opening a file, the settings a ledger depends on, and what its errors mean.
 */

import { setTimeout } from "node:timers/promises";
import SqliteDatabase, { type Database } from "better-sqlite3";

/** The path of a database that lives as long as its connection. */
const IN_MEMORY = ":memory:";

/** The file is not a ledger this program can work on; the message says why, and what to do about it. */
export class StoreRefused extends Error {
  override readonly name = "StoreRefused";
}

/** Room for the entries of a ward's open stays, which lie spread over the table. */
const CACHE_KIBIBYTES = 65_536;
/** 16 MB: the pages busy stays write again and again are copied to the main file once, not each second. */
const PAGES_BEFORE_CHECKPOINT = 4_000;

export interface Opening {
  /** Whether a file that is not there is made. */
  readonly create: boolean;
  /** How long to wait for another process that holds the file, in milliseconds; the tick waits too. */
  readonly busyTimeout: number;
}

/** Opens a file and changes nothing in it. */
export function openHandle(path: string, { create, busyTimeout }: Opening): Database {
  return new SqliteDatabase(path, { fileMustExist: !create && path !== IN_MEMORY, timeout: busyTimeout });
}

/**
 * Gives a file its write-ahead log. Turning to it needs the file for oneself, and SQLite does not wait for that as
 * long as its busy timeout: it is tried again until `patience` (ms) is over, for another program that starts as well.
 */
async function writeAheadLog(handle: Database, patience: number): Promise<unknown> {
  for (const end = performance.now() + patience; ; await setTimeout(BETWEEN_TRIES)) {
    try {
      return handle.pragma("journal_mode = WAL", { simple: true });
    } catch (error) {
      if (!isBusy(error) || performance.now() >= end) throw error;
    }
  }
}

/** In milliseconds. */
const BETWEEN_TRIES = 10;

function isBusy(error: unknown): boolean {
  return error instanceof SqliteDatabase.SqliteError && error.code.startsWith("SQLITE_BUSY");
}

/**
 * Gives a connection the settings of a ledger, waiting `patience` ms for whoever holds the file; throws StoreRefused
 * where there can be no write-ahead log.
 */
export async function settle(handle: Database, patience: number): Promise<void> {
  const journal = await writeAheadLog(handle, patience);
  if (journal !== "wal" && handle.name !== IN_MEMORY) {
    throw new StoreRefused("its file system allows no write-ahead log");
  }
  // This build of SQLite makes it NORMAL under WAL, which would acknowledge what a power cut undoes.
  handle.pragma("synchronous = FULL");
  handle.pragma("foreign_keys = ON");
  // Without it REPLACE deletes a row and no delete trigger sees it.
  handle.pragma("recursive_triggers = ON");
  handle.pragma("temp_store = MEMORY");
  handle.pragma(`cache_size = -${CACHE_KIBIBYTES}`);
  handle.pragma(`wal_autocheckpoint = ${PAGES_BEFORE_CHECKPOINT}`);
}

const NOT_TO_BE_HAD =
  /^SQLITE_(BUSY|LOCKED|FULL|IOERR|READONLY|CANTOPEN|CORRUPT|NOTADB|NOMEM|PERM|PROTOCOL|INTERRUPT)/;

/** Whether an error says that the database is not to be had, and nothing about what was written. */
export function isOutage(error: unknown): boolean {
  return error instanceof SqliteDatabase.SqliteError && NOT_TO_BE_HAD.test(error.code);
}

/** The refusal to start on a file, for whatever came up while it was opened. */
export function refusal(path: string, error: unknown): StoreRefused {
  return new StoreRefused(`${path} cannot be opened as a ledger: ${reason(error)}`, { cause: error });
}

function reason(error: unknown): string {
  if (error instanceof SqliteDatabase.SqliteError) {
    if (error.code === "SQLITE_NOTADB") return "it is not a SQLite database";
    if (error.code === "SQLITE_CANTOPEN") return "there is no file there that can be opened";
  }
  return error instanceof Error ? error.message : String(error);
}
