/** A chart copied from the balance reconciles without a difference, whatever its intervals, by category, line and sum. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { INTAKE, OUTPUT } from "../../src/balance/balance.js";
import { type ChartFigure, ledgerOf, type RowName } from "../../src/balance/charts/chart.js";
import { contributionsOf } from "../../src/balance/charts/contributions.js";
import { reconcile } from "../../src/balance/charts/reconcile.js";
import type { CategoryRow, Figures, Table } from "../../src/balance/table.js";
import { stepOf } from "../../src/conventions/settings.js";
import type { Placed } from "../../src/infusion/entry.js";
import type { Period } from "../../src/time/instant.js";
import { BY_SHIFT, balance, day, HOURS, postings, WHOLE } from "./days.js";
import { PATIENCE, runs } from "./runs.js";

const words = { time: String, volume: String };
const none = {
  lastRead: () => undefined,
  chamberRead: () => undefined,
  labelOf: () => undefined,
  stepAt: () => stepOf(100),
};

/** What the ledger has of a day, cut at every hour, with the lines that were in place. */
const ledger = (entries: readonly Placed[]) =>
  ledgerOf(
    contributionsOf(postings(entries, HOURS), HOURS, none),
    balance(entries, HOURS).intake.rows.flatMap(({ parts }) => parts.flatMap(({ line }) => line ?? [])),
  );

const figures = (row: RowName, intervals: readonly Period[], { volumes }: Pick<Figures, "volumes">) =>
  volumes.map((volume, i): ChartFigure => ({ row, ...intervals[i]!, volume }));

/** The balance of a day as a chart of its intervals. */
function copied(entries: readonly Placed[], intervals: readonly Period[]): ChartFigure[] {
  const { intake, output, net } = balance(entries, intervals);
  const sums = (of: Table, sum: "intake" | "output") => figures({ sum }, intervals, of.sums);
  return [
    ...INTAKE.flatMap((category) => ofCategory(intake, category, intervals)),
    ...OUTPUT.flatMap((category) => ofCategory(output, category, intervals)),
    ...ofLines(intake.rows, intervals),
    ...sums(intake, "intake"),
    ...sums(output, "output"),
    ...figures({ sum: "net" }, intervals, net),
  ];
}

function ofCategory({ rows }: Table, category: string, intervals: readonly Period[]): ChartFigure[] {
  const row = rows.find((one) => one.category === category);
  return figures({ category }, intervals, row ?? { volumes: intervals.map(() => 0) });
}

function ofLines(rows: readonly CategoryRow[], intervals: readonly Period[]): ChartFigure[] {
  const parts = rows.flatMap((row) => row.parts);
  const lines = new Set(parts.flatMap(({ line }) => line ?? []));
  return [...lines].flatMap((line) => {
    const own = parts.filter((part) => part.line === line);
    const volumes = intervals.map((_, i) => own.reduce((sum, part) => sum + part.volumes[i]!, 0));
    return figures({ line }, intervals, { volumes });
  });
}

describe("a chart copied from the balance", () => {
  it.each([
    ["by the hour", HOURS],
    ["by the shift", BY_SHIFT],
    ["of the day", WHOLE],
  ])("%s has no difference, to the microlitre", { timeout: PATIENCE }, (_, intervals) => {
    const property = fc.property(day, (entries) => {
      const chart = copied(entries, intervals);
      const { matches, differences } = reconcile(chart, ledger(entries), 0, words);
      expect(differences).toEqual([]);
      expect(matches).toHaveLength(chart.length);
    });
    fc.assert(property, runs(40));
  });

  it("of hours, shifts and the day together has none either", { timeout: PATIENCE }, () => {
    const property = fc.property(day, (entries) => {
      const chart = [HOURS, BY_SHIFT, WHOLE].flatMap((intervals) => copied(entries, intervals));
      expect(reconcile(chart, ledger(entries), 0, words).differences).toEqual([]);
    });
    fc.assert(property, runs(5));
  });
});
