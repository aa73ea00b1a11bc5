/**
 * What running totals show again of what a device told in segments of its own. A decision about a segment holds
 * for the totals that counted the same; and what segments told of a total was written down, though nobody read it.
 */

import { later, MINUTE } from "../time/instant.js";
import type { SegmentJudged, TotalCleared, TotalJudged } from "./evidence.js";
import { greater, minus, NOTHING, plus, type Volume } from "./quantity.js";

/** What segments that were decided on have beyond what was computed of them. */
interface Decided {
  /** Of those that count. */
  readonly counted: Volume;
  /** Of those that do not: the device's total has it all the same. */
  readonly ignored: Volume;
}

/** What was decided about segments, of a reading that disagrees by nothing else; null of every other one. */
export function decidedBefore(reading: TotalJudged, segments: readonly SegmentJudged[]): Decided | null {
  const { comparison } = reading;
  if (comparison.agrees || comparison.increment < NOTHING) return null;
  const own = segments.filter((one) => isCountedIn(one, reading));
  const beyond = (outcome: SegmentJudged["outcome"]) =>
    own
      .filter((one) => one.outcome === outcome)
      .reduce((sum, one) => plus(sum, minus(one.value, one.comparison.computed)), NOTHING);
  const [counted, ignored] = [beyond("settled"), beyond("not-used")];
  const rest = minus(comparison.increment, plus(counted, ignored));
  const lowest = minus(comparison.least, comparison.tolerance);
  const highest = plus(comparison.most, comparison.tolerance);
  return lowest <= rest && rest <= highest ? { counted, ignored } : null;
}

/** Whether all that a segment told was counted by a total since its mark. */
function isCountedIn(
  { channel, start, at, computedIn }: SegmentJudged,
  { channel: read, total, over, at: readAt, checkOnly }: TotalJudged,
): boolean {
  if (channel !== read || start < later(over.from, -MINUTE) || at > later(readAt, MINUTE)) return false;
  return checkOnly || Object.keys(computedIn).every((name) => name === total);
}

/** What a cleared total had counted that nobody read and no segment told; null where segments told all its time. */
export function untoldOf(clear: TotalCleared, segments: readonly SegmentJudged[]): Volume | null {
  const { channel, total, written, latest } = clear;
  const end = later(latest, MINUTE);
  const own = segments
    .filter((one) => one.channel === channel && one.instead === null && one.at <= end)
    .sort((a, b) => a.start - b.start || b.at - a.at);
  let [reached, untold, whole] = [written.from, written.since, own.length > 0];
  for (const { start, at, computedIn } of own) {
    if (start < later(reached, -MINUTE) || at <= reached) continue;
    if (start > later(reached, MINUTE)) whole = false;
    untold = minus(untold, computedIn[total] ?? NOTHING);
    reached = at;
  }
  return whole && reached >= later(latest, -MINUTE) ? null : greater(untold, NOTHING);
}
