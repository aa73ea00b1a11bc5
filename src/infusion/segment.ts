/**
 * Segments judged as readings are: what a device counted over a span of its own, held against what was
 * computed over that span. One that agrees is what was delivered; one that disagrees counts, in dispute, where
 * a person looked again, and waits for a decision where only the device says so.
 */

import { earliest, type Instant, later } from "../time/instant.js";
import type { Collected } from "./collected.js";
import { compare } from "./comparison.js";
import { firstFrom } from "./cuts.js";
import type { SegmentJudged, SegmentTold } from "./evidence.js";
import { deliveredBy, type Flow } from "./flow.js";
import type { Mark } from "./mark.js";
import { minus, NOTHING, plus, type Volume } from "./quantity.js";

type Course = Pick<Collected, "segments" | "flows" | "unknown">;

/** Every segment judged, by flows that reach over all of it. */
export function segmentsJudged({ segments, flows, unknown }: Course): SegmentJudged[] {
  if (segments.length === 0) return [];
  const told = new Set(segments.map(({ channel }) => channel));
  const own = new Map([...told].map((key) => [key, flows.filter(({ channel }) => channel === key)]));
  return segments.map((segment) => {
    const { channel, start, at } = segment;
    // A channel's flows follow one another, so they end in the order in which they begin.
    const all = own.get(channel)!;
    const from = firstFrom(all, later(start, 1), ({ end }) => end);
    const within = all.slice(
      from,
      firstFrom(all, at, (flow) => flow.start),
    );
    // After an end that nobody confirmed something is computed: nothing.
    const isUnsure = unknown.some(
      (span) =>
        span.channel === channel && span.start < at && span.end > start && span.reason !== "end-unconfirmed",
    );
    return judged(segment, within, isUnsure);
  });
}

function judged(segment: SegmentTold, flows: readonly Flow[], atLeast: boolean): SegmentJudged {
  const { start, at, value, around, type, tolerance } = segment;
  // What flowed before it began is no part of it, so what its first minute gave stands for either side.
  const early = givenIn(flows, start, earliest(segment.looseUntil, at));
  const mark: Mark = {
    entry: segment.entry,
    read: true,
    base: NOTHING,
    from: start,
    looseUntil: segment.looseUntil,
    since: givenIn(flows, start, at),
    early,
    late: early,
    waited: NOTHING,
    flowing: flows.reduce((sum, flow) => sum + (Math.min(flow.end, at) - Math.max(flow.start, start)), 0),
    bolus: flows.some(({ role }) => role === "bolus"),
    atLeast,
  };
  const comparison = compare(mark, value, around, type, tolerance);
  return { ...segment, outcome: outcomeOf(segment, comparison.agrees), comparison };
}

function outcomeOf({ source, settled }: SegmentTold, agrees: boolean): SegmentJudged["outcome"] {
  if (settled === "computed") return "not-used";
  if (agrees) return "agrees";
  if (settled === "reading") return "settled";
  return source === "device" ? "waits" : "disputed";
}

function givenIn(flows: readonly Flow[], start: Instant, end: Instant): Volume {
  return flows.reduce(
    (sum, flow) => plus(sum, minus(deliveredBy(flow, end), deliveredBy(flow, start))),
    NOTHING,
  );
}
