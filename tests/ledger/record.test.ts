/** The text of an entry as it is kept. */

import { expect, it } from "vitest";
import { canonical, type Recorded, recordedFrom, textOf } from "../../src/ledger/record.js";
import { instant } from "../../src/time/instant.js";

const RECORDED: Recorded = {
  chain: "encounter/bed-4",
  sequence: 12,
  id: "rate",
  recordedAt: instant(Date.parse("2026-03-04T15:30:00Z")),
  by: { role: "nurse", name: 'A. "Quoted" Ñurse', id: "n-1" },
  source: "person",
  body: { rate: 80, kind: "rate-changed", channel: "pump-1", at: "2026-03-04T09:30:00-06:00" },
  previous: "ab".repeat(32),
};

it.each<[string, Recorded]>([
  ["a fact", RECORDED],
  ["a dose with what it came to", { ...RECORDED, frozen: { weight: { value: 70, unit: "kg" }, rate: 2.1 } }],
  ["a correction", { ...RECORDED, root: 3, body: { kind: "entry-voided", entry: "a", reason: "Twice." } }],
])("is canonical JSON of all that is recorded: %s", (_what, recorded) => {
  const text = textOf(recorded);
  expect(text).toBe(canonical({ ...recorded, recordedAt: "2026-03-04T15:30:00.000Z" }));
  expect(recordedFrom(text)).toEqual(recorded);
});
