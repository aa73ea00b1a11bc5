/**
 * Transactions on the one SQLite connection. Whatever a transaction begins with is known to be so:
 * if another process has committed since the last one, the remembered heads are forgotten first.
 */

import type { Database } from "better-sqlite3";
import { type Answering, carryOut, converse, type Writing } from "./conversation.js";
import { isOutage } from "./dialect.js";
import type { Transactions } from "./group.js";
import type { Heads } from "./heads.js";
import type { Inquiry } from "./store.js";

export interface SqliteTransactions extends Transactions {
  /** Runs an inquiry on one consistent snapshot and writes nothing. */
  read<T>(inquire: () => Inquiry<T>): T;
}

export function transactionsOn(
  handle: Database,
  heads: Heads,
  answering: Answering,
  writing: Writing,
): SqliteTransactions {
  const begin = handle.prepare("BEGIN IMMEDIATE");
  const beginReading = handle.prepare("BEGIN");
  const commit = handle.prepare("COMMIT");
  const rollback = handle.prepare("ROLLBACK");
  /** A number that changes when, and only when, another connection has committed. */
  const othersVersion = handle.prepare<[], number>("PRAGMA data_version").pluck();
  let lastVersion = othersVersion.get();

  // Asked inside the transaction, which no other commit can then come before.
  const noticeOthers = (): void => {
    const version = othersVersion.get();
    if (version !== lastVersion) heads.forget();
    lastVersion = version;
  };

  const undo = (): void => {
    heads.drop();
    // A full disk, among others, has already undone it.
    if (handle.inTransaction) rollback.run();
  };

  return {
    begin: () => {
      begin.run();
      noticeOthers();
    },
    converse: (inquiry) => converse(inquiry, answering),
    write: ({ writes }) => carryOut(writes, writing),
    commit: () => {
      commit.run();
      heads.keep();
    },
    rollback: undo,
    isOutage,
    read: (inquire) => {
      beginReading.run();
      try {
        noticeOthers();
        return converse(inquire(), answering);
      } finally {
        undo();
      }
    },
  };
}
