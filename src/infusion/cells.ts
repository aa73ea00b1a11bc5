/**
 * The cells that volumes are charted in: the period cut at every interval and shift, so that each cell lies
 * within one shift, in which rounding is anchored, and in at most one interval.
 */

import type { Instant, Period } from "../time/instant.js";

/** What decides the cells, and which of them an instant falls in. */
export interface Dividing {
  readonly intervals: readonly Period[];
  /** Starts of all shifts in and the one at or before the start of the first interval, ascending. */
  readonly anchors: readonly Instant[];
  readonly until: Instant;
  readonly admittedAt: Instant;
  /** Where cells are to be cut besides; what is outside of them is left aside. */
  readonly cuts?: readonly Instant[];
}

/** One piece of the period between two neighbouring cuts, within one shift and at most one interval. */
export interface Cell {
  readonly start: Instant;
  readonly end: Instant;
  /** The start of the shift its rounding is anchored at. */
  readonly anchor: Instant;
  /** The index of the interval it belongs to; null for the part of the first shift before the period. */
  readonly interval: number | null;
}

export function cellsOf({ intervals, anchors, cuts: further = [] }: Dividing): Cell[] {
  const end = intervals.at(-1)!.end;
  const inside = anchors.filter((anchor) => anchor < end);
  const first = Math.min(inside[0] ?? end, intervals[0]!.start);
  const within = further.filter((cut) => first < cut && cut < end);
  const bounds = intervals.flatMap((interval) => [interval.start, interval.end]);
  const cuts = [...new Set([...inside, ...within, ...bounds])].sort((a, b) => a - b);
  const cells: Cell[] = [];
  let [anchorIndex, intervalIndex] = [0, 0];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [start, end] = [cuts[i]!, cuts[i + 1]!];
    while (anchorIndex + 1 < inside.length && inside[anchorIndex + 1]! <= start) anchorIndex++;
    while (intervalIndex < intervals.length && intervals[intervalIndex]!.end <= start) intervalIndex++;
    const interval = intervals[intervalIndex];
    const asked = interval !== undefined && interval.start <= start;
    cells.push({ start, end, anchor: inside[anchorIndex] ?? start, interval: asked ? intervalIndex : null });
  }
  return cells;
}

/** The cell an amount is charted in; undefined when it lies outside the period, or beyond `until`. */
export function cellOf(
  { at, boundary }: { readonly at: Instant; readonly boundary: "ends" | "starts" },
  cells: readonly Cell[],
  { admittedAt, until }: Dividing,
): Cell | undefined {
  if (boundary === "starts" || at === admittedAt) {
    return at < until ? cells.find(({ start, end }) => start <= at && at < end) : undefined;
  }
  return at <= until ? cells.find(({ start, end }) => start < at && at <= end) : undefined;
}
