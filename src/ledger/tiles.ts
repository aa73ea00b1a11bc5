/**
 * How a shift is signed: spans that tile it from its start, each as it was signed and as it is now.
 *
 * Invariant: the tiles follow one another without a gap, from the start of the shift.
 */

import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import type { Moment } from "./coordinates.js";
import { type Figures, figuresFrom, figuresOf, figuresOver, type Moved, movedBetween } from "./figures.js";
import { type Signature, standing } from "./signatures.js";
import type { StayFacts } from "./stay.js";

/** A signed span that no later one stands for. */
export interface Tile {
  readonly signature: Signature;
  readonly signed: Figures;
  /** Of the figures signed, those that are others now. */
  readonly moved: readonly Moved[];
}

/** Signatures that stand, in order of their spans, each with what became of its figures; worked out in one go. */
export function* tilesOf(at: Moment, signatures: readonly Signature[]): Inquiry<Tile[]> {
  const tiles = standing(signatures).map((signature) => {
    return { signature, signed: figuresFrom(signature.body.figures) };
  });
  if (tiles.length === 0) return [];
  const now = yield* figuresOver(
    at,
    tiles.flatMap(({ signed }) => signed.intervals),
  );
  return tiles.map(({ signature, signed }) => {
    return { signature, signed, moved: movedBetween(signed, figuresOf(now, signed.intervals)) };
  });
}

/** The signatures of a shift: their spans begin in it. */
export function signedIn(signatures: readonly Signature[], { start, end }: Period): Signature[] {
  return signatures.filter(({ from }) => start <= from && from < end);
}

/** What is asked of a tile by how a shift stands. */
type Laid = { readonly signature: Pick<Signature, "from" | "to">; readonly moved: readonly Moved[] };

/** Where the next signature of a shift begins: after the last good one, or at the first that changed. */
export function nextFrom(tiles: readonly Laid[], shift: Period): Instant {
  const changed = tiles.find(({ moved }) => moved.length > 0);
  return changed?.signature.from ?? tiles.at(-1)?.signature.to ?? shift.start;
}

/** When there is nothing more of a shift to sign: it is over, or the stay is. */
export function lastOf(shift: Period, { dischargedAt }: StayFacts): Instant {
  return dischargedAt === null || dischargedAt <= shift.start ? shift.end : earliest(shift.end, dischargedAt);
}

export type ShiftState = "preliminary" | "final" | "corrected";

export function stateOf(tiles: readonly Laid[], shift: Period, facts: StayFacts): ShiftState {
  if (tiles.some(({ moved }) => moved.length > 0)) return "corrected";
  const signedTo = tiles.at(-1)?.signature.to ?? shift.start;
  return signedTo >= lastOf(shift, facts) ? "final" : "preliminary";
}
