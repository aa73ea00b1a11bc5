/**
 * What a device counted over segments of its own is not what was computed of them, and nobody has said which is
 * right. Segments that follow one another and stray the same way are one question, hung on the first.
 */

import type { SegmentJudged } from "../../infusion/evidence.js";
import { minus, NOTHING, plus, type Volume } from "../../infusion/quantity.js";
import { segmentsJudged } from "../../infusion/segment.js";
import { latest } from "../../time/instant.js";
import type { Evidence, Found, Rule, Settlement } from "../finding.js";

export const segmentDisagrees: Rule = {
  code: "reading-disagrees",
  runs: "asking",
  find: (evidence) => runsOf(segmentsJudged(evidence.collected)).map((run) => found(run, evidence)),
};

type Run = [SegmentJudged, ...SegmentJudged[]];

/** In the order in which they end, which is that in which they count. */
function runsOf(segments: readonly SegmentJudged[]): Run[] {
  const runs: Run[] = [];
  const lastOn = new Map<string, Run>();
  for (const segment of segments) {
    const { channel, outcome } = segment;
    if (outcome !== "disputed" && outcome !== "waits") continue;
    const run = lastOn.get(channel);
    if (run !== undefined && goesOn(run.at(-1)!, segment)) {
      run.push(segment);
      continue;
    }
    const begun: Run = [segment];
    lastOn.set(channel, begun);
    runs.push(begun);
  }
  return runs;
}

function goesOn(last: SegmentJudged, next: SegmentJudged): boolean {
  return next.start <= last.at && more(last) > NOTHING === more(next) > NOTHING;
}

/** By how much the device counted more than was computed; below nothing where it counted less. */
function more({ value, comparison }: SegmentJudged): Volume {
  return minus(value, comparison.computed);
}

function found(run: Run, evidence: Evidence): Found {
  const [first] = run;
  const { channel, start } = first;
  const { words, until } = evidence;
  const end = latest(...run.map(({ at }) => at));
  const counted = run.reduce((sum, { value }) => plus(sum, value), NOTHING);
  const computed = run.reduce((sum, { comparison }) => plus(sum, comparison.computed), NOTHING);
  const apart = counted > computed ? minus(counted, computed) : minus(computed, counted);
  return {
    code: "reading-disagrees",
    severity: "question",
    subject: first.entry,
    channel,
    start,
    end,
    entries: run.map(({ entry }) => entry),
    volume: apart,
    sentence:
      `${channel} says that it gave ${words.volume(counted)}${run.length > 1 ? ` in ${run.length} segments` : ""} ` +
      `from ${words.time(start)} to ${words.time(end)}, and ${words.volume(computed)} was computed: ` +
      `${words.volume(apart)} ${counted > computed ? "more" : "less"}.`,
    settledBy: [
      { text: "An entry that explains it, late or amended." },
      ...decisions(run, until),
      { text: "A void or an amendment of the segment, if it is wrong." },
    ],
  };
}

/** Which of the two counts is decided for all of a question alike. */
function decisions(run: Run, at: Evidence["until"]): Settlement[] {
  const decide = (use: "reading" | "computed") =>
    run.map(({ entry }) => ({
      do: "record" as const,
      entry: { kind: "variance-settled" as const, at, reading: entry, use },
    }));
  return [
    { text: "Use what was read.", proposals: decide("reading") },
    { text: "Use what was computed.", proposals: decide("computed") },
  ];
}
