/** A reading held against what was computed since a mark: whether it agrees, and how far off it is. */

import type { ChannelType } from "./entry.js";
import type { Mark } from "./mark.js";
import { greater, lesser, minus, NOTHING, percentOf, plus, type Volume } from "./quantity.js";

/** A reading held against what was computed since a mark. */
export interface Comparison {
  readonly increment: Volume;
  /** What was computed at the charted time, and the least and most within what the times stand for. */
  readonly computed: Volume;
  readonly least: Volume;
  readonly most: Volume;
  /** How far the increment lies outside of those; 0 inside. */
  readonly gap: Volume;
  readonly tolerance: Volume;
  readonly agrees: boolean;
}

/** What flows within the grain before and after the time of a reading. */
export interface Around {
  readonly behind: Volume;
  readonly ahead: Volume;
}

/** How far a reading may be off: whole per cent of what was computed, and a floor by type of channel. */
export interface Tolerance {
  readonly percent: number;
  readonly pump: Volume;
  readonly syringe: Volume;
}

/**
 * Judges a reading by its increment over a mark: it agrees within the larger of a share and
 * a floor of any value the computed curve takes within the grain of charting, at either end of the span.
 * What was done to the channel is charted as coarsely as when it was read, so at either end the curve may lie
 * a grain earlier or later. The share is also one of what the primary would have given while a secondary ran.
 * Lower than the mark it never agrees.
 */
export function compare(
  mark: Mark,
  value: Volume,
  { behind, ahead }: Around,
  type: ChannelType,
  { percent, pump, syringe }: Tolerance,
): Comparison {
  const increment = minus(value, mark.base);
  const least = minus(mark.since, greater(mark.early, lesser(behind, mark.since)));
  const most = plus(mark.since, greater(mark.late, ahead));
  const nearest = greater(least, lesser(most, increment));
  const gap = increment < nearest ? minus(nearest, increment) : minus(increment, nearest);
  const share = percentOf(plus(nearest, mark.waited), percent);
  const tolerance = greater(share, type === "syringe" ? syringe : pump);
  const free = increment > most && (mark.atLeast || type === "metered" || type === "gravity");
  const agrees = increment >= NOTHING && (gap <= tolerance || free);
  return { increment, computed: mark.since, least, most, gap, tolerance, agrees };
}
