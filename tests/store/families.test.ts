/** Row questions answer with whole families: what was found, its original, all its corrections. */

import { expect, test } from "vitest";
import type { Store } from "../../src/store/store.js";
import { answer, BED_4, BED_5, entry, minutes, rows, sequences, write } from "./entries.js";
import { openLedger } from "./ledger-file.js";

/**
 * 1 line placed at minute 10, 2 bag hung at 20, 3 rate at 30, 4 the rate amended to minute 90,
 * 5 the amendment voided, 6 reading at 60, 7 a reading of another patient's bed (bed 5, sequence 1).
 */
async function night(): Promise<Store> {
  const store = await openLedger();
  await write(store, [
    ...rows(
      entry(BED_4, 1, { minute: 10, kind: "line-placed", declares: "line:forearm" }),
      entry(BED_4, 2, { minute: 20, kind: "bag-hung", declares: "bag:saline" }),
      entry(BED_4, 3, { minute: 30 }),
      entry(BED_4, 4, { minute: 90, kind: "entry-amended", root: 3 }),
      entry(BED_4, 5, { at: null, kind: "entry-voided", root: 3 }),
      entry(BED_4, 6, { minute: 60, kind: "total-read" }),
      entry(BED_5, 1, { minute: 60, kind: "total-read", declares: "line:forearm" }),
    ),
  ]);
  return store;
}

function between(from: number, to: number, upTo: number) {
  return { ask: "span", chain: BED_4, from: minutes(from), to: minutes(to), upTo } as const;
}

test("a span begins with its first minute and ends before its last", async () => {
  expect(sequences(await answer(await night(), between(10, 20, 6)))).toEqual([1]);
});

test("a rate changed within the span comes with its amendment and its void outside it", async () => {
  expect(sequences(await answer(await night(), between(30, 31, 6)))).toEqual([3, 4, 5]);
});

test("an amendment into the span brings the original that lies outside it", async () => {
  expect(sequences(await answer(await night(), between(90, 91, 6)))).toEqual([3, 4, 5]);
});

test("each entry comes once, in order of recording, when original and amendment both lie in the span", async () => {
  expect(sequences(await answer(await night(), between(0, 120, 6)))).toEqual([1, 2, 3, 4, 5, 6]);
});

test("as of a sequence, later corrections are not there yet", async () => {
  const store = await night();
  expect(sequences(await answer(store, between(0, 120, 4)))).toEqual([1, 2, 3, 4]);
  expect(sequences(await answer(store, between(90, 91, 3)))).toEqual([]);
});

test("a row comes back as it was recorded", async () => {
  const [first] = await answer(await night(), between(10, 11, 6));
  expect(first).toEqual(entry(BED_4, 1, { minute: 10, kind: "line-placed", declares: "line:forearm" }));
});

test("kinds of the stay are found up to a sequence, each in its own chain", async () => {
  const store = await night();
  await write(
    store,
    rows(entry(BED_4, 7, { minute: 70, kind: "moved" }), entry(BED_4, 8, { minute: 80, kind: "discharged" })),
  );
  const kinds = ["moved", "discharged"] as const;
  const found = async (upTo: number) =>
    sequences(await answer(store, { ask: "kinds", chain: BED_4, kinds, upTo }));
  expect(await found(8)).toEqual([7, 8]);
  expect(await found(7)).toEqual([7]);
  expect(await answer(store, { ask: "kinds", chain: BED_4, kinds: [], upTo: 8 })).toEqual([]);
});

test("ids are found in their own chain, a correction's with its family", async () => {
  const store = await night();
  const ids = ["entry-4", "entry-1", "never-recorded"];
  expect(sequences(await answer(store, { ask: "ids", chain: BED_4, ids }))).toEqual([1, 3, 4, 5]);
  expect(sequences(await answer(store, { ask: "ids", chain: BED_5, ids }))).toEqual([1]);
  expect(await answer(store, { ask: "ids", chain: "encounter/bed-6", ids })).toEqual([]);
});

test("a declared key is found in its own chain only", async () => {
  const store = await night();
  const found = await answer(store, { ask: "declares", chain: BED_4, keys: ["line:forearm", "line:hand"] });
  expect(found.map((row) => [row.chain, row.sequence])).toEqual([[BED_4, 1]]);
});

test("a page holds bare rows after one sequence up to another", async () => {
  const store = await night();
  const page = (after: number, upTo: number, limit: number) =>
    answer(store, { ask: "page", chain: BED_4, after, upTo, limit });
  expect(sequences(await page(2, 6, 3))).toEqual([3, 4, 5]);
  expect(sequences(await page(2, 4, 9))).toEqual([3, 4]);
});

test("the last row recorded by an instant: that of the same instant, none before the first", async () => {
  const store = await openLedger();
  const recorded = [5, 5, 7, 9, 9, 9, 12];
  await write(
    store,
    rows(...recorded.map((minute, place) => entry(BED_4, place + 1, { recordedAt: minutes(minute) }))),
  );
  const by = async (at: number) =>
    (await answer(store, { ask: "recorded-by", chain: BED_4, at: minutes(at) }))?.sequence;
  expect(await Promise.all([4, 5, 6, 7, 8, 9, 11, 12, 99].map(by))).toEqual([
    undefined,
    2,
    2,
    3,
    3,
    6,
    6,
    7,
    7,
  ]);
});

test("every row comes in order of chain and sequence, over as many pages as it takes", async () => {
  const store = await openLedger();
  const many = Array.from({ length: 1_001 }, (_, index) => entry(BED_5, index + 1));
  await write(store, rows(...many, entry("unit/icu", 1), entry(BED_4, 1)));
  const every = [...store.everyRow()].map((row) => `${row.chain} ${row.sequence}`);
  expect(every).toEqual([
    "encounter/bed-4 1",
    ...many.map((row) => `encounter/bed-5 ${row.sequence}`),
    "unit/icu 1",
  ]);
});
