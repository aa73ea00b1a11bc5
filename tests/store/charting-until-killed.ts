/**
 * A program that records entries as fast as it can in the ledger it is given, with ten waiting at a
 * time, and prints each sequence only once the store has acknowledged it. It is stopped by killing it.
 */

import { openSqlite } from "../../src/store/sqlite.js";
import { appendTo, BED_4 } from "./entries.js";

async function chartForever(path: string): Promise<void> {
  const store = await openSqlite(path, { migrate: true, busyTimeout: 10_000 });
  const nurse = async (): Promise<void> => {
    for (;;) process.stdout.write(`${await appendTo(store, BED_4)}\n`);
  };
  await Promise.all(Array.from({ length: 10 }, nurse));
}

const [path] = process.argv.slice(2);
if (path !== undefined) await chartForever(path);
