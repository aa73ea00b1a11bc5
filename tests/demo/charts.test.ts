/** The demo's paper sheet: the slips that were planted in it are the ones that are named. */

import { expect, it } from "vitest";
import { seed } from "../../src/demo/seed.js";
import { Ledger } from "../../src/ledger/ledger.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import { done } from "../ledger/stay.js";

interface Answer {
  readonly chart: { readonly source: string };
  readonly matches: readonly object[];
  readonly differences: readonly {
    readonly row: object;
    readonly explanations: readonly { kind: string; entries: string[]; tied: boolean; together: object[] }[];
    readonly follows: readonly object[];
  }[];
}

it("names the four slips of the paper sheet, and what follows from them", async () => {
  const now = parseInstant("2026-03-04T10:00:00-06:00") as Instant;
  const store = await openSqlite(":memory:", { migrate: true });
  await seed(store, now);
  const ledger = new Ledger(store, () => now);
  const body = { chart: "paper-first-shift" };
  const { chart, matches, differences } = done(await ledger.reconciliation("demo-d", { body })) as Answer;
  await store.close();
  expect(chart.source).toContain("invented");
  const explained = differences.filter(({ explanations }) => explanations.length > 0);
  const told = explained.map(({ row, explanations: [first] }) => [row, first!.kind, ...first!.entries]);
  expect(told).toEqual([
    [{ category: "iv-fluid" }, "secondary-in-primary", "1-0700-secondary-pump-1"],
    [{ category: "urine" }, "transposed-digits", "1-1000-urine"],
    [{ category: "emesis" }, "left-out", "1-0430-emesis"],
    [{ category: "drain" }, "reading-not-differenced", "1-1200-empty-drain-1"],
  ]);
  for (const { follows, explanations } of differences) {
    if (explanations.length === 0) expect(follows).not.toEqual([]);
    else expect(explanations[0]).toMatchObject({ tied: false, together: [] });
  }
  expect(matches.length).toBeGreaterThan(45);
});
