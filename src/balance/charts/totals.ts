/**
 * What a total is a total of. A chart can be added up across its rows or along a row, by category, line or item,
 * through shifts or through hours: of all the ways its figures allow, the one that comes out is meant.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { isWithin, keyOf } from "./chart.js";
import type { Counted, Figure } from "./figure.js";
import { fitOf } from "./fineness.js";

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

/** How a figure is the total of others; null where nothing charted is part of it. */
export function additionOf(total: Figure, figures: readonly Figure[], step: Microlitres): Addition | null {
  const inside = figures.filter((figure) => figure !== total && isPart(figure, total));
  if (inside.length === 0) return null;
  const along = inside.filter(({ row }) => keyOf(row) === keyOf(total.row));
  const across = inside.filter(({ start, end }) => start === total.start && end === total.end);
  const ways = [across, along, inside].flatMap(apart).map((parts) => added(total, parts, step));
  return ways.sort((a, b) => off(total, a) - off(total, b) || b.parts.length - a.parts.length)[0] ?? null;
}

function isPart(figure: Figure, total: Figure): boolean {
  if (!isWithin(figure, total)) return false;
  const sameSpan = figure.start === total.start && figure.end === total.end;
  if (keyOf(figure.row) === keyOf(total.row)) return !sameSpan;
  if (!("sum" in total.row)) return false;
  if ("sum" in figure.row) return total.row.sum === "net";
  if (figure.counted.length > 0 && figure.counted.every(({ item }) => item.apart)) return false;
  return total.row.sum === "net" || figure.side === total.side;
}

/** Sums come first in a net; categories, lines and items can each lead where they overlap. */
const ORDERS = [
  ["sum", "category", "line", "item"],
  ["sum", "item", "line", "category"],
  ["category", "line", "item"],
  ["item", "line", "category"],
] as const;

/** The ways of choosing parts that do not overlap, longest spans first and shortest first. */
function apart(figures: readonly Figure[]): Figure[][] {
  return ORDERS.flatMap((order) =>
    [-1, 1].map((direction) => {
      const sorted = figures
        .filter(({ row }) => order.some((family) => family in row))
        .sort((a, b) => rank(order, a) - rank(order, b) || direction * (lengthOf(a) - lengthOf(b)));
      return sorted.reduce<Taken>(take, { parts: [], items: new Set(), spans: new Map() }).parts;
    }),
  ).filter((parts) => parts.length > 0);
}

const lengthOf = ({ start, end }: Figure) => end - start;
const rank = (order: readonly string[], { row }: Figure) => order.findIndex((family) => family in row);

interface Taken {
  readonly parts: Figure[];
  readonly items: Set<unknown>;
  /** By row, the figures taken of it. */
  readonly spans: Map<string, Figure[]>;
}

function take(taken: Taken, figure: Figure): Taken {
  const ofRow = taken.spans.get(keyOf(figure.row)) ?? [];
  const overlaps =
    figure.counted.some(({ item }) => taken.items.has(item)) ||
    ofRow.some(({ start, end }) => start < figure.end && figure.start < end);
  if (overlaps) return taken;
  taken.parts.push(figure);
  for (const { item } of figure.counted) taken.items.add(item);
  taken.spans.set(keyOf(figure.row), [...ofRow, figure]);
  return taken;
}

function added(total: Figure, parts: readonly Figure[], step: Microlitres): Addition {
  const covered = new Set(parts.flatMap(({ counted }) => counted.map(({ item }) => item)));
  const uncovered = total.counted.filter(({ item }) => !covered.has(item));
  return {
    parts,
    sum: parts.reduce((sum, part) => sum + signIn(total, part) * part.charted, 0),
    uncovered,
    uncoveredVolume: uncovered.reduce((sum, { volume }) => sum + volume, 0),
    fit: fitOf(step, parts.length),
  };
}

/** How far the total is from what this way of adding gives, with or without what no part covers. */
function off({ charted }: Figure, { sum, uncoveredVolume, fit }: Addition): Microlitres {
  const nearest = Math.min(Math.abs(charted - sum), Math.abs(charted - sum - uncoveredVolume));
  return nearest <= fit ? 0 : nearest;
}
