/**
 * What of a shift is to be signed, and by whom. A unit signs for its own time: a shift in the middle of which
 * the patient moved is signed in pieces, in any order. To be signed is what nobody signed, and what was
 * signed and is not so any more; in a piece that is one span, from the first of it to the last.
 */

import { earliest, type Instant, type Period } from "../time/instant.js";
import { without } from "../time/periods.js";
import type { ShiftSpan } from "../time/shifts.js";
import { mayChart } from "./charting.js";
import type { StayFacts } from "./stay.js";
import { isSound, type Tile } from "./tiles.js";

/** A piece of a shift that the patient spent in one unit, and how it is signed. */
export interface Laid {
  readonly piece: ShiftSpan;
  readonly tiles: readonly Tile[];
  /** What is to be signed of it, in order: more than has come yet, where it is not over. */
  readonly open: readonly Period[];
}

/** How the pieces of a shift are signed. */
export function laidOut(pieces: readonly ShiftSpan[], tiles: readonly Tile[], facts: StayFacts): Laid[] {
  return pieces.map((piece) => {
    const own = tiles.filter(({ start, end }) => start < piece.end && piece.start < end);
    const unsigned = without({ start: piece.start, end: lastOf(piece, facts) }, own);
    const changed = own.filter((tile) => !isSound(tile)).map(({ start, end }) => ({ start, end }));
    return { piece, tiles: own, open: [...unsigned, ...changed].sort((a, b) => a.start - b.start) };
  });
}

/** When there is nothing more of a piece that must be signed: it is over, or the stay is. */
export function lastOf({ start, end }: Period, { dischargedAt }: StayFacts): Instant {
  return dischargedAt === null || dischargedAt <= start ? end : earliest(end, dischargedAt);
}

export type ShiftState = "preliminary" | "final" | "corrected";

export function stateOf(laid: readonly Laid[]): ShiftState {
  if (laid.some(({ tiles }) => !tiles.every(isSound))) return "corrected";
  return laid.every(({ open }) => open.length === 0) ? "final" : "preliminary";
}

/** What the next signature of a piece covers, as far as it has come; undefined where that is nothing. */
export function nextOf({ open }: Laid, until: Instant): Period | undefined {
  const come = open.filter(({ start }) => start < until);
  return come.length === 0 ? undefined : { start: come[0]!.start, end: earliest(come.at(-1)!.end, until) };
}

/** The pieces that staff of some units may sign at an instant; null for every unit. */
export function theirs(
  laid: readonly Laid[],
  units: readonly string[] | null,
  { conventions }: StayFacts,
  now: Instant,
): Laid[] {
  return laid.filter(({ piece }) => units === null || mayChart(conventions, units, piece.start, now));
}
