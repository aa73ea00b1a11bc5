/**
 * Transactions on the one SQLite connection. Whatever a transaction begins with is known to be so:
 * if another process has committed since the last one, the remembered heads are forgotten first.
 *
 * What a group of inquiries decides moves the heads at once, and is put off until somebody asks the
 * database, or the commit: row after row, which saves a sixth of what recording an entry costs.
 */

import type { Database } from "better-sqlite3";
import { type Answering, carryOut, converse, type Stored, type Writing } from "./conversation.js";
import { isOutage } from "./dialect.js";
import { type Transactions, WritesRefused } from "./group.js";
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

  const putOff: Stored[] = [];

  /** Whose decision it is that is refused here nobody knows. */
  const catchUp = (): void => {
    try {
      carryOut(putOff.splice(0), writing);
    } catch (error) {
      throw isOutage(error) ? error : new WritesRefused(error);
    }
  };

  const undo = (): void => {
    heads.drop();
    putOff.length = 0;
    // A full disk, among others, has already undone it.
    if (handle.inTransaction) rollback.run();
  };

  return {
    begin: () => {
      begin.run();
      noticeOthers();
    },
    converse: (inquiry) =>
      converse(inquiry, answering, ({ ask }) => {
        if (ask !== "head" && putOff.length > 0) catchUp();
      }),
    write: ({ writes }) => {
      for (const write of writes) {
        if (write.write === "row") heads.advance(write.row);
        if (write.write === "memory") heads.leave(write.chain, write.memory);
        else putOff.push(write);
      }
    },
    commit: () => {
      catchUp();
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
