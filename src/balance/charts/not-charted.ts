/** What the ledger has and the chart says nothing about: figures left empty, and what has no row of its own. */

import type { Microlitres } from "../../infusion/entry.js";
import type { Instant } from "../../time/instant.js";
import {
  countedIn,
  isUnder,
  isWithin,
  keyOf,
  type LedgerItem,
  type LedgerSide,
  type RowName,
} from "./chart.js";
import type { Figure } from "./figure.js";
import type { Sheet } from "./sheet.js";
import { leftEmptyIn } from "./total-question.js";
import type { Addition } from "./totals.js";

interface Named {
  readonly row: RowName;
  readonly start: Instant;
  readonly end: Instant;
}

export interface NotCharted extends Named {
  readonly ledger: Microlitres;
  readonly entries: readonly string[];
  /** Of what stands outside the hours: in which row. */
  readonly standsIn: string | null;
}

/**
 * Within the chart's own span. Where a side of the balance is charted as nothing but a sum, that covers all of it;
 * where it has rows, what only a sum covers is listed, unless the sum comes out with it.
 */
export function notChartedIn({ figures, empty, totals }: Sheet, ledger: LedgerSide): NotCharted[] {
  const rows = figures.filter(({ row }) => !("sum" in row));
  const inRows = new Set(rows.flatMap(({ counted }) => counted.map(({ item }) => item.direction)));
  const added = new Set([...totals].flatMap(([total, addition]) => addedBesides(total, addition)));
  const missing = new Set(
    [...totals].flatMap(([total, addition]) =>
      leftEmptyIn(total, addition, empty).flatMap(({ counted }) => counted.map(({ item }) => item)),
    ),
  );
  const all = [...figures, ...empty];
  const open = ledger.items
    .filter((item) => item.volume !== 0 && all.some((one) => isWithin(item, one)))
    .filter((item) => missing.has(item) || !isCovered(item, inRows.has(item.direction) ? rows : figures));
  const left = empty.map((one) =>
    listed(
      one,
      open.filter((item) => isCovered(item, [one])),
    ),
  );
  const without = open.filter((item) => !isCovered(item, empty) && !added.has(item));
  const outside = ledger.outside.filter(
    (item) => item.volume !== 0 && all.some((one) => isWithin(item, one)),
  );
  return [...left.filter(({ ledger }) => ledger !== 0), ...byOwnRow(without), ...byOwnRow(outside)];
}

/** What has no row and was added into a total all the same: it only comes out with that. */
function addedBesides({ charted }: Figure, { sum, uncovered, uncoveredVolume, fit }: Addition): LedgerItem[] {
  const isAdded = Math.abs(charted - sum - uncoveredVolume) <= fit && Math.abs(uncoveredVolume) > fit;
  return isAdded ? uncovered.map(({ item }) => item) : [];
}

function isCovered(item: LedgerItem, figures: readonly Figure[]): boolean {
  return figures.some(
    (one) =>
      isUnder(one.under, item) && isWithin(item, one) && (!one.isOnBothSides || one.side === item.direction),
  );
}

function listed(one: Named & { readonly under: RowName }, items: readonly LedgerItem[]): NotCharted {
  const { row, start, end, under } = one;
  const ledger = items.reduce((sum, item) => sum + countedIn(under, item), 0);
  const standsIn = items[0]?.standsIn ?? null;
  return {
    row,
    start,
    end,
    ledger,
    standsIn,
    entries: [...new Set(items.flatMap(({ entries }) => entries))],
  };
}

function byOwnRow(items: readonly LedgerItem[]): NotCharted[] {
  const groups = new Map<string, LedgerItem[]>();
  for (const item of items) {
    const key = `${keyOf(ownRow(item))} ${item.start} ${item.end} ${item.standsIn ?? ""}`;
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  return [...groups.values()].map((group) => {
    const { start, end } = group[0]!;
    const row = ownRow(group[0]!);
    return listed({ row, under: row, start, end }, group);
  });
}

/** The narrowest row an item would stand in. */
function ownRow({ item, line, category, direction }: LedgerItem): RowName {
  if (item !== null) return { item };
  return line !== null && direction === "intake" ? { line } : { category };
}
