/** Group commit on a real file: one flush for all who wait, and each one's own mistakes. */

import { readFileSync } from "node:fs";
import SqliteDatabase from "better-sqlite3";
import { expect, onTestFinished, test } from "vitest";
import { ask, type Store, StoreUnavailable } from "../../src/store/store.js";
import { answer, appendTo, BED_4, BED_5, entry, minutes, rows, sequences, write } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

/** How many commits a write-ahead log holds: a frame that ends one says how large the file then is. */
function commitsIn(wal: Buffer): number {
  const [header, frameHeader, page] = [32, 24, wal.readUInt32BE(8)];
  let commits = 0;
  for (let frame = header; frame < wal.length; frame += frameHeader + page) {
    if (wal.readUInt32BE(frame + 4) > 0) commits += 1;
  }
  return commits;
}

async function page(store: Store, chain = BED_4) {
  return sequences(await answer(store, { ask: "page", chain, after: 0, upTo: 1_000, limit: 1_000 }));
}

test("fifty nurses who chart at once wait for one commit, and each sees those before", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await appendTo(store, BED_4);
  const before = commitsIn(readFileSync(`${path}-wal`));
  const taken = await Promise.all(Array.from({ length: 50 }, () => appendTo(store, BED_4)));
  expect(taken).toEqual(Array.from({ length: 50 }, (_, index) => index + 2));
  expect(commitsIn(readFileSync(`${path}-wal`)) - before).toBe(1);
});

test("rows staged by one are found by the questions of the next", async () => {
  const store = await openLedger();
  const first = write(store, rows(entry(BED_4, 1)));
  const second = store.transact(function* () {
    const found = yield* ask({ ask: "ids", chain: BED_4, ids: ["entry-1"] });
    return { writes: [], answer: sequences(found) };
  });
  expect(await second).toEqual([1]);
  await first;
});

test("whoever reads meanwhile sees nothing that is not committed", async () => {
  const store = await openLedger();
  const pending = appendTo(store, BED_4);
  expect(await page(store)).toEqual([]);
  await pending;
  expect(await page(store)).toEqual([1]);
});

test("an id taken twice in one group: the second fails, the others are recorded", async () => {
  const store = await openLedger();
  const [first, twice, other] = await Promise.allSettled([
    appendTo(store, BED_4, { id: "reading" }),
    appendTo(store, BED_4, { id: "reading" }),
    appendTo(store, BED_5),
  ]);
  expect(first).toEqual({ status: "fulfilled", value: 1 });
  expect(twice).toMatchObject({ status: "rejected", reason: { code: "SQLITE_CONSTRAINT_TRIGGER" } });
  expect(other).toEqual({ status: "fulfilled", value: 1 });
  expect(await page(store)).toEqual([1]);
});

test("what one decided wrongly does not fail the next, whose question brings it to light", async () => {
  const store = await openLedger();
  await write(store, rows(entry(BED_4, 1)));
  const [twice, asking, other] = await Promise.allSettled([
    write(store, rows(entry(BED_4, 2, { id: "entry-1" }))),
    store.transact(function* () {
      const found = yield* ask({ ask: "ids", chain: BED_4, ids: ["entry-1"] });
      return { writes: [], answer: sequences(found) };
    }),
    appendTo(store, BED_5),
  ]);
  expect(twice).toMatchObject({ status: "rejected", reason: { code: "SQLITE_CONSTRAINT_TRIGGER" } });
  expect(asking).toEqual({ status: "fulfilled", value: [1] });
  expect(other).toEqual({ status: "fulfilled", value: 1 });
  expect(await page(store)).toEqual([1]);
});

test("a decision is written whole or not at all", async () => {
  const store = await openLedger();
  await expect(write(store, rows(entry(BED_4, 1), entry(BED_4, 2, { id: "entry-1" })))).rejects.toThrow();
  expect(await page(store)).toEqual([]);
});

test("a row that does not follow its head is refused by name", async () => {
  const store = await openLedger();
  await write(store, rows(entry(BED_4, 1)));
  await expect(write(store, rows(entry(BED_4, 3)))).rejects.toThrow(
    new RangeError("encounter/bed-4: sequence 3 does not follow 1"),
  );
  await expect(write(store, rows(entry(BED_4, 2, { recordedAt: minutes(0) })))).rejects.toThrow(
    new RangeError("encounter/bed-4: sequence 2 is recorded before 1"),
  );
  expect(await page(store)).toEqual([1]);
});

test("while another program holds the file everyone is told to come again, and then may", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  const other = new SqliteDatabase(path);
  onTestFinished(() => {
    other.close();
  });
  other.exec("begin immediate");
  const [first, second] = await Promise.allSettled([appendTo(store, BED_4), appendTo(store, BED_5)]);
  for (const end of [first, second]) {
    expect(end).toMatchObject({ status: "rejected", reason: expect.any(StoreUnavailable) });
  }
  await expect(
    store.createToken({
      id: "t",
      hash: "h",
      role: "nurse",
      name: "tablet",
      units: null,
      createdAt: minutes(0),
      expiresAt: null,
      revokedAt: null,
    }),
  ).rejects.toBeInstanceOf(StoreUnavailable);
  other.exec("rollback");
  expect(await appendTo(store, BED_4)).toBe(1);
});

test("closing records what waits; afterwards nothing is taken or answered", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  const waiting = appendTo(store, BED_4);
  await store.close();
  expect(await waiting).toBe(1);
  await expect(appendTo(store, BED_4)).rejects.toBeInstanceOf(StoreUnavailable);
  await expect(page(store)).rejects.toBeInstanceOf(StoreUnavailable);
  await expect(store.tokens()).rejects.toBeInstanceOf(StoreUnavailable);
  await store.close();
  expect(await page(await openLedger(path))).toEqual([1]);
});
