/**
 * The device told the same in segments of its own, and nobody has decided about those yet: it gave what the total
 * says, and when. Why it did, the other reasons say.
 */

import type { SegmentJudged } from "../../infusion/evidence.js";
import { minus, NOTHING, plus } from "../../infusion/quantity.js";
import { segmentsJudged } from "../../infusion/segment.js";
import { decidedBefore } from "../../infusion/segments-in-totals.js";
import type { Disagreeing, Reason } from "./reason.js";

/** As likely as the likeliest other reason, with which it goes together. */
export function segmentsSay(d: Disagreeing, [likeliest]: readonly Reason[]): Reason[] {
  const { reading, collected, until } = d;
  const segments = segmentsJudged(collected);
  const asked = segments.filter(({ channel, outcome }) => channel === reading.channel && isOpen(outcome));
  const settled = segments.map((one) =>
    isOpen(one.outcome) ? { ...one, outcome: "settled" as const } : one,
  );
  if (asked.length === 0 || decidedBefore(reading, settled) === null) return [];
  return [
    {
      kind: "segments-say",
      remaining: NOTHING,
      unlikeliness: likeliest?.unlikeliness ?? 0,
      sentence: sentence(asked, d),
      proposals: asked.map(({ entry }) => ({
        do: "record" as const,
        entry: { kind: "variance-settled" as const, at: until, reading: entry, use: "reading" as const },
      })),
    },
  ];
}

function isOpen(outcome: SegmentJudged["outcome"]): boolean {
  return outcome === "waits" || outcome === "disputed";
}

function sentence(asked: readonly SegmentJudged[], { words }: Disagreeing): string {
  const [first, last] = [asked[0]!, asked.at(-1)!];
  const apart = asked.reduce((sum, one) => plus(sum, minus(one.value, one.comparison.computed)), NOTHING);
  const more = apart >= NOTHING;
  return (
    `The device's own segments from ${words.time(first.start)} to ${words.time(last.at)} have ` +
    `${words.volume(more ? apart : minus(NOTHING, apart))} ${more ? "more" : "less"} than was computed, as the total has.`
  );
}
