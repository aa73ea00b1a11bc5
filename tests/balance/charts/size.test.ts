/** The largest chart there may be, of figures that overlap in every way and all differ, takes seconds and not minutes. */

import { expect, test } from "vitest";
import { HOUR, instant } from "../../../src/time/instant.js";
import { at, item, mL, reconciled } from "./ward.js";

// On a quiet machine two seconds; it was minutes when every total was asked about every cell of the other side.
test("seven hundred overlapping figures that all differ", { timeout: 120_000 }, () => {
  const clock = (hour: number) => `${String(hour).padStart(2, "0")}:00`;
  const ledger = Array.from({ length: 24 * 12 }, (_, i) => {
    const hour = Math.floor(i / 12);
    return item(`${clock(hour)}-${clock(hour + 1)}`, `cup ${i}`, 20 + ((i * 37) % 200));
  });
  const spans = Array.from({ length: 24 * 24 }, (_, i) => ({ from: Math.floor(i / 24), to: (i % 24) + 1 }))
    .filter(({ from, to }) => from < to)
    .slice(0, 140)
    .map(({ from, to }) => ({
      start: instant(at("00:00") + from * HOUR),
      end: instant(at("00:00") + to * HOUR),
    }));
  const rows = [
    { category: "oral" },
    { category: "urine" },
    ...(["intake", "output", "net"] as const).map((sum) => ({ sum })),
  ];
  const chart = rows.flatMap((row, r) =>
    spans.map((span, i) => ({ row, ...span, volume: mL(((r * 7 + i * 13) % 300) * 10) })),
  );
  const { matches, differences } = reconciled(ledger, chart);
  expect(matches.length + differences.length).toBe(700);
});
