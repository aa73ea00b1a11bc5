/**
 * What is signed, in tiles: time of one unit's shift for which one signature stands, with what became of it
 * since. A signature speaks for the unit whose time it was; where it is another's by now, or where one of its
 * hours was cut in two, it can speak for that no more.
 *
 * Invariant: no two tiles share an instant, and none reaches over the end of a shift or of a unit's time.
 */

import type { Inquiry } from "../store/store.js";
import type { Period } from "../time/instant.js";
import { common } from "../time/periods.js";
import { type ShiftSpan, shiftsIn } from "../time/shifts.js";
import type { Moment } from "./coordinates.js";
import { type Figures, figuresFrom, figuresOf, figuresOver, type Moved, movedBetween } from "./figures.js";
import { type Signature, standing } from "./signatures.js";

/** Why a signature no longer speaks for a tile, whatever its figures are now. */
export type Lost = "other-unit" | "hour-cut";

export interface Tile extends Period {
  readonly signature: Signature;
  /** The shift it lies in, or the piece of one that the patient spent in one unit. */
  readonly piece: ShiftSpan;
  /** The intervals of the figures that were signed of it. */
  readonly intervals: readonly Period[];
  /** Of those figures, the ones that are others now. */
  readonly moved: readonly Moved[];
  readonly lost: Lost | null;
}

/** Whether what was signed of a tile is so still. */
export function isSound({ moved, lost }: Pick<Tile, "moved" | "lost">): boolean {
  return moved.length === 0 && lost === null;
}

/**
 * The tiles of signatures, in order of time; all of their figures are worked out in one go. `pieces` are those
 * that are asked for, all where there are none given.
 */
export function* tilesOf(
  at: Moment,
  signatures: readonly Signature[],
  pieces?: readonly Period[],
): Inquiry<Tile[]> {
  const { stretches } = at.facts.conventions;
  const figures = new Map<Signature, Figures>();
  for (const { signature } of standing(signatures)) {
    if (!figures.has(signature)) figures.set(signature, figuresFrom(signature.body.figures));
  }
  const tiles = standing(signatures).flatMap(({ signature, ...stands }) =>
    shiftsIn(stretches, stands).flatMap((piece) => {
      const span = common(stands, piece);
      const isAskedFor = pieces === undefined || pieces.some(({ start }) => start === piece.start);
      if (span === undefined || !isAskedFor) return [];
      return dividedByHours(span, figures.get(signature)!.intervals).map(({ intervals, ...own }) => {
        return { ...own, signature, piece, intervals };
      });
    }),
  );
  // What had not come yet by the moment that is asked for cannot be compared.
  const come = (intervals: readonly Period[]) => intervals.filter(({ end }) => end <= at.until);
  const compared = tiles.flatMap(({ intervals }) => come(intervals));
  const now = compared.length === 0 ? undefined : yield* figuresOver(at, compared);
  return tiles.map((tile): Tile => {
    const { signature, piece, intervals } = tile;
    const signed = figures.get(signature)!;
    const both = come(intervals);
    const moved = now === undefined ? [] : movedBetween(figuresOf(signed, both), figuresOf(now, both));
    const hourCut = intervals.length === 0 ? "hour-cut" : null;
    return { ...tile, moved, lost: piece.unit === signature.body.unit ? hourCut : "other-unit" };
  });
}

/** A span with the intervals that lie in it, and by itself what is left of one that reaches over an end of it. */
function dividedByHours(
  span: Period,
  signed: readonly Period[],
): (Period & { readonly intervals: readonly Period[] })[] {
  const intervals = signed.filter(({ start, end }) => span.start <= start && end <= span.end);
  const [first, last] = [intervals[0], intervals.at(-1)];
  if (first === undefined || last === undefined) return [{ ...span, intervals }];
  return [
    { start: span.start, end: first.start, intervals: [] },
    { start: first.start, end: last.end, intervals },
    { start: last.end, end: span.end, intervals: [] },
  ].filter(({ start, end }) => start < end);
}
