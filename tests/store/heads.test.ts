/** Heads, and what the ledger leaves at them: never anything that was not committed. */

import SqliteDatabase from "better-sqlite3";
import { expect, onTestFinished, test } from "vitest";
import { type Chain, type Store, StoreUnavailable, type Write } from "../../src/store/store.js";
import { answer, appendTo, BED_4, BED_5, entry, minutes, rows, write } from "./entries.js";
import { ledgerPath, openLedger } from "./ledger-file.js";

function head(store: Store, chain: Chain = BED_4) {
  return answer(store, { ask: "head", chain });
}

function leaving(memory: unknown, chain: Chain = BED_4): Write {
  return { write: "memory", chain, memory };
}

function anotherProgram(path: string) {
  const other = new SqliteDatabase(path);
  onTestFinished(() => {
    other.close();
  });
  return other;
}

test("a chain without rows stands at nothing", async () => {
  const store = await openLedger();
  expect(await head(store)).toEqual({ sequence: 0, recordedAt: 0, digest: "", memory: undefined });
});

test("the head is the last row, with what was left there", async () => {
  const store = await openLedger();
  await write(store, [...rows(entry(BED_4, 1), entry(BED_4, 2)), leaving("course at 2")]);
  expect(await head(store)).toEqual({
    sequence: 2,
    recordedAt: minutes(2),
    digest: "2".padStart(64, "0"),
    memory: "course at 2",
  });
});

test("what is left before a row does not outlive it", async () => {
  const store = await openLedger();
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  await write(store, [leaving("course at 1, again"), ...rows(entry(BED_4, 2))]);
  expect(await head(store)).toMatchObject({ sequence: 2, memory: undefined });
});

test("something may be left at a head without a row", async () => {
  const store = await openLedger();
  await write(store, rows(entry(BED_4, 1)));
  await write(store, [leaving("computed since")]);
  expect(await head(store)).toMatchObject({ sequence: 1, memory: "computed since" });
});

test("a store opened anew knows the head but nothing left there", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  await store.close();
  expect(await head(await openLedger(path))).toMatchObject({ sequence: 1, memory: undefined });
});

test("after writes that were refused the head is the committed one, and what was left is gone", async () => {
  const store = await openLedger();
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  await write(store, [...rows(entry(BED_5, 1)), leaving("course of bed 5", BED_5)]);
  const doubled = [...rows(entry(BED_4, 2), entry(BED_4, 3, { id: "entry-1" })), leaving("course at 3")];
  await expect(write(store, doubled)).rejects.toThrow();
  expect(await head(store)).toMatchObject({ sequence: 1, memory: undefined });
  expect(await head(store, BED_5)).toMatchObject({ sequence: 1, memory: "course of bed 5" });
  expect(await appendTo(store, BED_4)).toBe(2);
});

test("one turned away in a group leaves what others left there alone", async () => {
  const store = await openLedger();
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  // biome-ignore lint/correctness/useYield: turned away before it asks
  const turnedAway = store.transact(function* () {
    throw new Error("would lose a total");
  });
  await expect(turnedAway).rejects.toThrow("would lose a total");
  expect(await head(store)).toMatchObject({ memory: "course at 1" });
});

test("a row that another program added is seen, and what was left before it is gone", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  anotherProgram(path).exec(
    `insert into entry (place, chain, sequence, id, kind, recorded_at, text, digest)
     values (2, 1, 2, 'entry-2', 'total-read', 120000, '{}', '${"2".padStart(64, "0")}')`,
  );
  expect(await head(store)).toMatchObject({ sequence: 2, memory: undefined });
  expect(await appendTo(store, BED_4)).toBe(3);
});

test("a row that another program added before a group is taken into account by it", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  const other = await openLedger(path);
  expect(await appendTo(other, BED_4)).toBe(2);
  expect(await appendTo(store, BED_4)).toBe(3);
  expect(await appendTo(other, BED_4)).toBe(4);
});

test("after an outage the head is the committed one", async () => {
  const path = ledgerPath();
  const store = await openLedger(path);
  await write(store, [...rows(entry(BED_4, 1)), leaving("course at 1")]);
  const other = anotherProgram(path);
  other.exec("begin immediate");
  await expect(write(store, [...rows(entry(BED_4, 2)), leaving("course at 2")])).rejects.toBeInstanceOf(
    StoreUnavailable,
  );
  other.exec("rollback");
  expect(await head(store)).toMatchObject({ sequence: 1 });
});

test("of very many chains only those used last are remembered, the others are read again", async () => {
  const store = await openLedger();
  const chain = (number: number): Chain => `encounter/${number}`;
  const writes = Array.from({ length: 2_000 }, (_, number) => [
    ...rows(entry(chain(number), 1)),
    leaving(`course of ${number}`, chain(number)),
  ]);
  await write(store, writes.flat());
  await head(store, chain(0));
  await write(store, [...rows(entry(chain(2_000), 1)), leaving("course of 2000", chain(2_000))]);
  expect(await head(store, chain(0))).toMatchObject({ sequence: 1, memory: "course of 0" });
  expect(await head(store, chain(1))).toMatchObject({ sequence: 1, memory: undefined });
  expect(await head(store, chain(2))).toMatchObject({ sequence: 1, memory: "course of 2" });
});
