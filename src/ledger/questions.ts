/**
 * What a person is asked before entries are recorded, while the device can still be looked at: every
 * clear of the request that would lose a total, and every reading or segment that disagrees. Devices, and what was
 * written down while there was no connection, are never asked: those are recorded, and found instead.
 */

import { clearsIn } from "../findings/cleared.js";
import type { Evidence } from "../findings/finding.js";
import { isMuch } from "../findings/much.js";
import { READ_JUST_BEFORE } from "../infusion/chamber-steps.js";
import { type Event, eventsCollected } from "../infusion/event.js";
import type { Drained, SegmentJudged, SegmentTold, TotalCleared, TotalJudged } from "../infusion/evidence.js";

export interface Questions {
  readonly atRisk: readonly TotalCleared[];
  readonly disagreements: readonly TotalJudged[];
  /** Segments that nobody confirmed: whether they disagree is known once the flows of their spans are. */
  readonly segments: readonly SegmentTold[];
  /** Chambers emptied that nobody read, and those that hold less than they did. */
  readonly chambersAtRisk: readonly Drained[];
  readonly chambersLower: readonly Drained[];
}

/**
 * The questions that the entries of a request raise; they are told by the sequences of their originals. How
 * things stand is as of the last entry there is by now.
 */
export function questionsOf(
  events: readonly Event[],
  asked: ReadonlySet<number>,
  { settingsAt, ...now }: Pick<Evidence, "state" | "until" | "settingsAt">,
): Questions {
  const collected = eventsCollected(events);
  const { readings, segments, drained } = collected;
  const chambers = drained.filter(({ sequence, answered }) => asked.has(sequence) && !answered);
  return {
    atRisk: clearsIn({ collected, ...now }).filter(
      (clear) =>
        asked.has(clear.sequence) &&
        !clear.leftUncaptured &&
        isMuch(clear.over, clear.at, settingsAt(clear.at)),
    ),
    disagreements: readings.filter((reading) => asked.has(reading.sequence) && isInDoubt(reading)),
    segments: segments.filter(({ sequence, confirmed }) => asked.has(sequence) && !confirmed),
    chambersAtRisk: chambers.filter(({ volume, lower, at, from }) => {
      return volume === null && !lower && at - from > READ_JUST_BEFORE;
    }),
    chambersLower: chambers.filter(({ lower }) => lower),
  };
}

export function isInDoubt({
  confirmed,
  outcome,
  comparison,
}: Pick<TotalJudged | SegmentJudged, "confirmed" | "outcome" | "comparison">): boolean {
  return !confirmed && !comparison.agrees && (outcome === "disputed" || outcome === "waits");
}
