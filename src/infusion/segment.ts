/**
 * Segments judged as readings are: what a device counted over a span of its own, held against what was
 * computed over that span. One that agrees is what was delivered; one that disagrees counts, in dispute, where
 * a person looked again, and waits for a decision where only the device says so. Of several looks at one segment the
 * last one counts.
 */

import { earliest, type Instant, later, MINUTE } from "../time/instant.js";
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
  const each = segments.map((segment) => {
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
  const instead = lookedAgain(each);
  if (instead.size === 0) return each;
  return each.map((one) => {
    const later = instead.get(one.entry);
    return later === undefined ? one : { ...one, outcome: "looked-again", instead: later };
  });
}

/** The looks at a segment that do not count, since another one at the same does. */
function lookedAgain(segments: readonly SegmentJudged[]): ReadonlyMap<string, string> {
  const instead = new Map<string, string>();
  const byMinute = new Map<string, SegmentJudged[][]>();
  const ascending = [...segments].sort((a, b) => a.sequence - b.sequence);
  for (const one of ascending) {
    const minute = Math.floor(one.start / MINUTE);
    const near = [minute - 1, minute, minute + 1].flatMap((at) => byMinute.get(`${one.channel} ${at}`) ?? []);
    const same = near.find(([first]) => isSame(first!, one));
    if (same !== undefined) same.push(one);
    else {
      const key = `${one.channel} ${minute}`;
      byMinute.set(key, [...(byMinute.get(key) ?? []), [one]]);
    }
  }
  for (const looks of [...byMinute.values()].flat()) {
    if (looks.length === 1) continue;
    const counting = lookThatCounts(looks);
    for (const { entry } of looks) if (entry !== counting.entry) instead.set(entry, counting.entry);
  }
  return instead;
}

/** Whether two spans are one: a device tells its times to the second, and people by the minute. */
function isSame(a: SegmentTold, b: SegmentTold): boolean {
  const longer = Math.max(a.at - a.start, b.at - b.start);
  const shared = Math.min(a.at, b.at) - Math.max(a.start, b.start);
  const near = Math.abs(a.start - b.start) < MINUTE && Math.abs(a.at - b.at) < MINUTE;
  return near && 2 * shared > longer;
}

/** The one that was decided on; else who looked last, and a person's look comes before what the device said of it. */
function lookThatCounts(looks: readonly SegmentJudged[]): SegmentJudged {
  const decided = looks.findLast(({ settled }) => settled === "reading");
  return decided ?? looks.findLast(({ source }) => source === "person") ?? looks.at(-1)!;
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
  const outcome = outcomeOf(segment, comparison.agrees);
  const totals = new Set(flows.flatMap(({ total }) => total ?? []));
  const computedIn = Object.fromEntries(
    [...totals].map((name) => [
      name,
      givenIn(
        flows.filter(({ total }) => total === name),
        start,
        at,
      ),
    ]),
  );
  return { ...segment, outcome, comparison, computedIn, atLeast, instead: null };
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
