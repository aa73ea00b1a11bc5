/** Checkpoints: which one holds, for which sequences, and how one gives way to another. */

import { expect, test } from "vitest";
import type { Checkpoint, Store, Write } from "../../src/store/store.js";
import { answer, BED_4, BED_5, minutes, write } from "./entries.js";
import { openLedger } from "./ledger-file.js";

function checkpoint(minute: number, validFrom: number, text: string, validTo: number | null = null): Write {
  const state: Checkpoint = { chain: BED_4, at: minutes(minute), validFrom, validTo, text };
  return { write: "checkpoint", checkpoint: state };
}

function ending(after: number, before: number | null, validTo: number): Write {
  const end = before === null ? null : minutes(before);
  return { write: "end-checkpoints", chain: BED_4, after: minutes(after), before: end, validTo };
}

/** The text of the latest checkpoint up to a minute that holds as of a sequence. */
async function holding(store: Store, minute: number, sequence: number) {
  const found = await answer(store, {
    ask: "checkpoint",
    chain: BED_4,
    before: minutes(minute),
    sequence,
  });
  return found?.text;
}

async function after(store: Store, minute: number, limit = 10) {
  const found = await answer(store, {
    ask: "checkpoints-after",
    chain: BED_4,
    after: minutes(minute),
    limit,
  });
  return found.map(({ text }) => text);
}

test("the latest at or before the instant that was known by the sequence", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 10, "seven"), checkpoint(1140, 20, "nineteen")]);
  expect(await holding(store, 419, 30)).toBeUndefined();
  expect(await holding(store, 420, 30)).toBe("seven");
  expect(await holding(store, 1140, 30)).toBe("nineteen");
  expect(await holding(store, 1140, 19)).toBe("seven");
  expect(await holding(store, 1140, 9)).toBeUndefined();
});

test("a checkpoint comes back as it was written, and only to its own stay", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 10, "seven", 15)]);
  const ask = { ask: "checkpoint", before: minutes(500), sequence: 12 } as const;
  expect(await answer(store, { ...ask, chain: BED_4 })).toEqual({
    chain: BED_4,
    at: minutes(420),
    validFrom: 10,
    validTo: 15,
    text: "seven",
  });
  expect(await answer(store, { ...ask, chain: BED_5 })).toBeUndefined();
});

test("a late entry ends those after it; as of before, they hold still", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 10, "seven"), checkpoint(1140, 20, "nineteen"), ending(420, null, 31)]);
  expect(await holding(store, 1200, 30)).toBe("nineteen");
  expect(await holding(store, 1200, 31)).toBe("seven");
  expect(await after(store, 0)).toEqual(["seven"]);
});

test("only those between are ended, both bounds left alone, and those that ended already too", async () => {
  const store = await openLedger();
  const writes = [1, 2, 3, 4].map((minute) => checkpoint(minute, 1, `at ${minute}`));
  await write(store, [...writes, ending(2, 4, 5), ending(1, 4, 8)]);
  expect(await after(store, 0)).toEqual(["at 1", "at 4"]);
  expect(await holding(store, 3, 4)).toBe("at 3");
  expect(await holding(store, 3, 5)).toBe("at 2");
  expect(await holding(store, 3, 8)).toBe("at 1");
});

test("a newer state of the same instant takes over from where it was known", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 10, "as first charted"), checkpoint(420, 20, "as corrected")]);
  expect(await holding(store, 420, 19)).toBe("as first charted");
  expect(await holding(store, 420, 20)).toBe("as corrected");
  expect(await after(store, 0)).toEqual(["as corrected"]);
});

test("the same instant known from the same sequence is replaced", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 10, "first"), checkpoint(420, 10, "second")]);
  expect(await holding(store, 420, 10)).toBe("second");
  await write(store, [ending(0, null, 12), checkpoint(420, 10, "third")]);
  expect(await after(store, 0)).toEqual(["third"]);
});

test("a state learnt late of earlier sequences holds up to the one already there", async () => {
  const store = await openLedger();
  await write(store, [checkpoint(420, 20, "now"), checkpoint(420, 10, "then")]);
  expect(await holding(store, 420, 19)).toBe("then");
  expect(await holding(store, 420, 20)).toBe("now");
  expect(await after(store, 0)).toEqual(["now"]);
});

test("those after an instant that hold now, in order of time, as many as asked for", async () => {
  const store = await openLedger();
  await write(store, [
    checkpoint(3, 1, "c"),
    checkpoint(1, 1, "a"),
    checkpoint(2, 1, "b"),
    checkpoint(4, 1, "d", 2),
  ]);
  expect(await after(store, 1)).toEqual(["b", "c"]);
  expect(await after(store, 0, 2)).toEqual(["a", "b"]);
});
