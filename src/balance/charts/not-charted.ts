/** What the ledger has and the chart says nothing about: figures left empty, and what has no row of its own. */

import type { Microlitres } from "../../infusion/entry.js";
import type { Instant } from "../../time/instant.js";
import {
  type ChartFigure,
  isUnder,
  isWithin,
  keyOf,
  type LedgerItem,
  type LedgerSide,
  type RowName,
} from "./chart.js";

export interface NotCharted {
  readonly row: RowName;
  readonly start: Instant;
  readonly end: Instant;
  readonly ledger: Microlitres;
  readonly entries: readonly string[];
}

/**
 * Within the chart's own span. Where a side of the balance is charted as nothing but a sum, that covers all of it;
 * where it has rows, what only a sum covers is listed, for the sum may or may not hold it.
 */
export function notChartedIn(chart: readonly ChartFigure[], ledger: LedgerSide): NotCharted[] {
  const empty = chart.filter(({ volume }) => volume === null);
  const written = chart.filter(({ volume }) => volume !== null);
  const rows = written.filter(({ row }) => !("sum" in row));
  const inRows = new Set(
    ledger.items
      .filter((item) => rows.some(({ row }) => isUnder(row, item)))
      .map(({ direction }) => direction),
  );
  const open = ledger.items
    .filter((item) => item.volume !== 0 && chart.some((one) => isWithin(item, one)))
    .filter((item) => !isCovered(item, inRows.has(item.direction) ? rows : written));
  const left = empty.map((one) =>
    listed(
      one,
      open.filter((item) => isCovered(item, [one])),
    ),
  );
  const without = open.filter((item) => !isCovered(item, empty));
  return [...left.filter(({ ledger }) => ledger !== 0), ...byOwnRow(without)];
}

function isCovered(item: LedgerItem, figures: readonly ChartFigure[]): boolean {
  return figures.some((one) => isUnder(one.row, item) && isWithin(item, one));
}

function listed(
  { row, start, end }: Pick<ChartFigure, "row" | "start" | "end">,
  items: readonly LedgerItem[],
): NotCharted {
  const ledger = items.reduce((sum, { volume }) => sum + volume, 0);
  return { row, start, end, ledger, entries: [...new Set(items.flatMap(({ entries }) => entries))] };
}

function byOwnRow(items: readonly LedgerItem[]): NotCharted[] {
  const groups = new Map<string, LedgerItem[]>();
  for (const item of items) {
    const key = `${keyOf(ownRow(item))} ${item.start} ${item.end}`;
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return [...groups.values()].map((group) => {
    const { start, end } = group[0]!;
    return listed({ row: ownRow(group[0]!), start, end }, group);
  });
}

/** The narrowest row an item would stand in. */
function ownRow({ item, line, category, direction }: LedgerItem): RowName {
  if (item !== null) return { item };
  return line !== null && direction === "intake" ? { line } : { category };
}
