/** Copies of the ledger, made while it is in use. */

import { existsSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { expect, test } from "vitest";
import { openSqlite } from "../../src/store/sqlite.js";
import { StoreUnavailable } from "../../src/store/store.js";
import { appendTo, BED_4, BED_5, sequences } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

test("a copy is a whole ledger of its own", async () => {
  const store = await openLedger();
  await appendTo(store, BED_4);
  await appendTo(store, BED_5);
  const path = ledgerPath();
  await store.backup(path);
  await appendTo(store, BED_4);
  const copy = await openSqlite(path, { migrate: false });
  expect([...copy.everyRow()].map((row) => `${row.chain} ${row.sequence}`)).toEqual([
    "encounter/bed-4 1",
    "encounter/bed-5 1",
  ]);
  await copy.close();
});

test("a copy is for its owner's eyes only", async () => {
  const store = await openLedger();
  const path = ledgerPath();
  await store.backup(path);
  expect(statSync(path).mode & 0o777).toBe(0o600);
});

test("a file that is there is not overwritten", async () => {
  const store = await openLedger();
  const path = ledgerPath();
  writeFileSync(path, "last week's copy");
  await expect(store.backup(path)).rejects.toThrow(expect.objectContaining({ code: "EEXIST" }));
  expect(readFileSync(path, "utf8")).toBe("last week's copy");
});

test("a copy that cannot be made says so and leaves no file", async () => {
  const store = await openLedger();
  const path = join(dirname(ledgerPath()), "nowhere", "copy.db");
  await expect(store.backup(path)).rejects.toThrow(expect.objectContaining({ code: "ENOENT" }));
  expect(existsSync(path)).toBe(false);
});

test("closing waits for a copy that is being made", async () => {
  const store = await openLedger();
  await appendTo(store, BED_4);
  const path = ledgerPath();
  const copying = store.backup(path);
  await store.close();
  await copying;
  const copy = await openSqlite(path, { migrate: false });
  expect(sequences([...copy.everyRow()])).toEqual([1]);
  await copy.close();
});

test("a closed store makes no copy", async () => {
  const store = await openLedger();
  await store.close();
  await expect(store.backup(ledgerPath())).rejects.toBeInstanceOf(StoreUnavailable);
});
