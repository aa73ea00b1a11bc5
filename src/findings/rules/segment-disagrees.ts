/**
 * What a device counted over segments of its own is not what was computed of them, and nobody has said which is
 * right. Segments that follow one another and stray the same way are one question, hung on the first.
 */

import type { SegmentJudged } from "../../infusion/evidence.js";
import { minus, NOTHING } from "../../infusion/quantity.js";
import { latest } from "../../time/instant.js";
import type { Evidence, Found, Rule, Settlement } from "../finding.js";
import { readingsOn } from "../lookup.js";
import { type SegmentRun, segmentRuns } from "../segments.js";

export const segmentDisagrees: Rule = {
  code: "reading-disagrees",
  runs: "recording",
  find: (evidence) =>
    segmentRuns(evidence.segments)
      .filter((run) => !decidedWithATotal(run, evidence))
      .map((run) => found(run, evidence)),
};

/** Whether somebody decided about a total that has at least half of the same, over a time that meets the run's. */
function decidedWithATotal(
  { segments, more, counted, computed }: SegmentRun,
  { collected }: Evidence,
): boolean {
  const [{ channel, start }] = segments;
  const end = latest(...segments.map(({ at }) => at));
  const apart = more ? minus(counted, computed) : minus(computed, counted);
  return readingsOn(collected, channel).some(({ decided, comparison, over, at }) => {
    if (!decided || comparison.agrees || over.from >= end || start >= at) return false;
    const beyond = minus(comparison.increment, comparison.computed);
    return 2n * (more ? beyond : minus(NOTHING, beyond)) >= apart;
  });
}

function found({ segments, more, counted, computed, told }: SegmentRun, evidence: Evidence): Found {
  const [first] = segments;
  const { channel, start } = first;
  const { words, until } = evidence;
  const end = latest(...segments.map(({ at }) => at));
  const apart = more ? minus(counted, computed) : minus(computed, counted);
  const number = segments.length;
  const looks = [...told].sort((a, b) => a.sequence - b.sequence);
  // Whoever looked again looked at the same: the question stays the one it was.
  const subject = looks.find(({ entry, instead }) => entry === first.entry || instead === first.entry)!.entry;
  const entries = [...new Set([subject, ...looks.map(({ entry }) => entry)])];
  return {
    code: "reading-disagrees",
    severity: "question",
    subject,
    channel,
    says: more ? "more" : "less",
    start,
    end,
    entries,
    volume: apart,
    sentence:
      `${channel} says that it gave ${words.volume(counted)}${number > 1 ? ` in ${number} segments` : ""} ` +
      `from ${words.time(start)} to ${words.time(end)}, and ${words.volume(computed)} was computed: ` +
      `${words.volume(apart)} ${more ? "more" : "less"}.`,
    settledBy: [
      { text: "An entry that explains it, late or amended." },
      { text: "Use what was read.", proposals: decided(segments, "reading", until) },
      { text: "Use what was computed.", proposals: decided(told, "computed", until) },
      { text: "A void or an amendment of the segment, if it is wrong." },
    ],
  };
}

/** One decision of each, alike for all of a question. */
function decided(
  segments: readonly SegmentJudged[],
  use: "reading" | "computed",
  at: Evidence["until"],
): NonNullable<Settlement["proposals"]> {
  return segments.map(({ entry }) => ({
    do: "record" as const,
    entry: { kind: "variance-settled" as const, at, reading: entry, use },
  }));
}
