/**
 * What it costs to be sure that something is on the disk. The plain route pays it for each row and the ledger once
 * for a group, so the ratio of the two says little without it. It is measured, and it can be made dearer.
 */

import { closeSync, fsyncSync, openSync, writeSync } from "node:fs";
import { join } from "node:path";
import SqliteDatabase from "better-sqlite3";

const PAGE = Buffer.alloc(4_096, 1);
const ROOM = 64;

/**
 * How long small writes took to reach the disk, one by one, in milliseconds; each overwrites what is there, as the
 * database's log does.
 *
 * @param {string} directory of the databases
 * @returns {number[]}
 */
export function flushes(directory, count = 50) {
  const file = openSync(join(directory, "flushed"), "w");
  try {
    for (let page = 0; page < ROOM; page++) writeSync(file, PAGE);
    fsyncSync(file);
    return Array.from({ length: count }, (_, i) => {
      const begun = performance.now();
      writeSync(file, PAGE, 0, PAGE.length, (i % ROOM) * PAGE.length);
      fsyncSync(file);
      return performance.now() - begun;
    });
  } finally {
    closeSync(file);
  }
}

/**
 * Makes every commit of this process, whoever's it is, wait as for a disk that takes so much longer. It waits where
 * SQLite would: in the thread that commits, before anybody hears of it, and without using the processor.
 *
 * @param {number} milliseconds
 */
export function slowDisk(milliseconds) {
  const database = new SqliteDatabase(":memory:");
  const statements = Object.getPrototypeOf(database.prepare("select 1"));
  database.close();
  const { run } = statements;
  const asleep = new Int32Array(new SharedArrayBuffer(4));
  statements.run = function (...bound) {
    const commits = this.source === "COMMIT" || !(this.readonly || this.database.inTransaction);
    const done = run.apply(this, bound);
    if (commits) Atomics.wait(asleep, 0, 0, milliseconds);
    return done;
  };
}
