/**
 * What a total is a total of. A chart can be added up across its rows or along a row, by category, line or item,
 * through shifts or through hours: of all the ways its figures allow, the one that comes out is meant.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { isUnder, isWithin, type LedgerItem } from "./chart.js";
import type { Counted, Figure } from "./figure.js";
import { fitOf } from "./fineness.js";
import { ItemSet, numbersOf } from "./item-set.js";

export interface Addition {
  readonly parts: readonly Figure[];
  /** What the parts come to as charted, signed. */
  readonly sum: Microlitres;
  /** What the ledger has in the total and no part covers. */
  readonly uncovered: readonly Counted[];
  readonly uncoveredVolume: Microlitres;
  /** How far a total may be off by the rounding of its parts. */
  readonly fit: Microlitres;
}

/** How a part counts in a total: an output is taken off in the net. */
export function signIn(total: Figure, part: Figure): 1 | -1 {
  return total.side === "net" && part.side === "output" ? -1 : 1;
}

/** What a part adds to a total as charted, signed: to a sum without what stands in none. */
export function addedBy(total: Figure, part: Figure): Microlitres {
  return signIn(total, part) * (part.charted - ("sum" in total.row ? part.inNoTotal : 0));
}

/** Whether a figure can be part of a total. */
export function isPart(figure: Figure, total: Figure): boolean {
  if (figure === total || !isWithin(figure, total)) return false;
  if (figure.key === total.key) return figure.start !== total.start || figure.end !== total.end;
  if (!("sum" in total.row)) return isOfRow(figure, total);
  if (figure.isApart) return false;
  if ("sum" in figure.row) return total.row.sum === "net";
  return total.row.sum === "net" || figure.side === total.side;
}

/** Whether a row stands above another: what is an item, a drain or a line, and wholly of a category, or an item of a line. */
function isOfRow(figure: Figure, total: Figure): boolean {
  const finer = "item" in figure.row || ("line" in figure.row && "category" in total.row);
  if (!finer || "item" in total.row || figure.counted.length === 0) return false;
  return figure.counted.every(({ item }) => isUnder(total.under, item));
}

/** How each figure is the total of others; null where nothing charted is part of it. */
export function additionsOf(
  figures: readonly Figure[],
  items: readonly LedgerItem[],
  step: Microlitres,
): (total: Figure) => Addition | null {
  const numberOf = numbersOf(items);
  const covered = new Map(figures.map((figure) => [figure, itemsOf(figure, numberOf)] as const));
  const lists = ORDERS.flatMap((order) => [-1, 1].map((direction) => listed(figures, order, direction)));
  return (total) => {
    const inside = new Set(figures.filter((figure) => isPart(figure, total)));
    if (inside.size === 0) return null;
    const across = ({ start, end }: Figure) => start === total.start && end === total.end;
    const along = ({ key }: Figure) => key === total.key;
    let best: Addition | undefined;
    for (const isOf of [across, along, () => true]) {
      for (const list of lists) {
        const from = list.filter((figure) => inside.has(figure) && isOf(figure));
        if (from.length === 0) continue;
        const { parts, taken } = apart(from, covered, items.length);
        const addition = added(total, parts, ({ item }) => taken.has(numberOf.get(item)!), step);
        if (best === undefined || isBetter(total, addition, best)) best = addition;
      }
      // What comes out across the rows or along one is what was meant.
      if (best !== undefined && off(total, best) === 0) return best;
    }
    return best!;
  };
}

function itemsOf({ counted }: Figure, numberOf: ReadonlyMap<LedgerItem, number>): ItemSet {
  const set = new ItemSet(numberOf.size);
  for (const { item } of counted) set.add(numberOf.get(item)!);
  return set;
}

/** Sums come first in a net; categories, lines and items can each lead where they overlap. */
const ORDERS = [
  ["sum", "category", "line", "item"],
  ["sum", "item", "line", "category"],
  ["category", "line", "item"],
  ["item", "line", "category"],
] as const;

/** Figures in the order in which they are taken, the longest spans of a family first (-1), or the shortest (1). */
function listed(figures: readonly Figure[], order: readonly string[], direction: number): Figure[] {
  const rank = ({ row }: Figure) => order.findIndex((family) => family in row);
  const length = ({ start, end }: Figure) => end - start;
  return figures
    .filter((figure) => rank(figure) >= 0)
    .sort((a, b) => rank(a) - rank(b) || direction * (length(a) - length(b)));
}

/** Of some figures those that do not overlap, in their order; with all that they cover. */
function apart(from: readonly Figure[], covered: ReadonlyMap<Figure, ItemSet>, size: number) {
  const taken = new ItemSet(size);
  const parts: Figure[] = [];
  const spans = new Map<string, Figure[]>();
  for (const figure of from) {
    const ofRow = spans.get(figure.key);
    const own = covered.get(figure)!;
    if (taken.meets(own) || ofRow?.some(({ start, end }) => start < figure.end && figure.start < end))
      continue;
    parts.push(figure);
    taken.addAll(own);
    if (ofRow === undefined) spans.set(figure.key, [figure]);
    else ofRow.push(figure);
  }
  return { parts, taken };
}

function added(
  total: Figure,
  parts: readonly Figure[],
  isCovered: (counted: Counted) => boolean,
  step: Microlitres,
): Addition {
  const uncovered = total.counted.filter((counted) => !isCovered(counted));
  return {
    parts,
    sum: parts.reduce((sum, part) => sum + addedBy(total, part), 0),
    uncovered,
    uncoveredVolume: uncovered.reduce((sum, { volume }) => sum + volume, 0),
    fit: fitOf(step, parts.length),
  };
}

function isBetter(total: Figure, one: Addition, other: Addition): boolean {
  return (off(total, one) - off(total, other) || other.parts.length - one.parts.length) < 0;
}

/** How far the total is from what this way of adding gives, with or without what no part covers. */
function off({ charted }: Figure, { sum, uncoveredVolume, fit }: Addition): Microlitres {
  const nearest = Math.min(Math.abs(charted - sum), Math.abs(charted - sum - uncoveredVolume));
  return nearest <= fit ? 0 : nearest;
}
