/** The questions about segments that a device counted, as a person who writes one down gets to see them. */

import type { SegmentJudged, SegmentTold, TotalJudged } from "../infusion/evidence.js";
import { minus } from "../infusion/quantity.js";
import { segmentsJudged } from "../infusion/segment.js";
import { decidedBefore } from "../infusion/segments-in-totals.js";
import type { Inquiry } from "../store/store.js";
import { later, MINUTE } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { type AskedOf, confirming, zoneOf } from "./asked-of.js";
import { courseOf } from "./course.js";
import { volumeText } from "./flow-text.js";
import { isInDoubt } from "./questions.js";
import { wordsAt } from "./words.js";

/** Those of the segments asked about that disagree with what was computed over them. */
export function* strayedAmong(
  segments: readonly SegmentTold[],
  { known, facts }: AskedOf,
): Inquiry<SegmentJudged[]> {
  const strayed: SegmentJudged[] = [];
  for (const { entry, start, at } of segments) {
    const { collected } = yield* courseOf(known, { start, end: at }, facts.conventions.settingsAt);
    const own = collected.segments.filter((one) => one.entry === entry);
    strayed.push(...segmentsJudged({ ...collected, segments: own }).filter(isInDoubt));
  }
  return strayed;
}

/** Those of the readings asked about that disagree by more than what was decided about segments before. */
export function* undecidedAmong(
  readings: readonly TotalJudged[],
  { known, facts }: AskedOf,
): Inquiry<TotalJudged[]> {
  const asked: TotalJudged[] = [];
  for (const reading of readings) {
    const span = { start: later(reading.over.from, -MINUTE), end: later(reading.at, 2 * MINUTE) };
    const { collected } = yield* courseOf(known, span, facts.conventions.settingsAt);
    if (decidedBefore(reading, segmentsJudged(collected)) === null) asked.push(reading);
  }
  return asked;
}

export function segmentSentence(
  { channel, start, at, value, comparison }: SegmentJudged,
  of: AskedOf,
): string {
  const words = wordsAt(of.now, zoneOf(of));
  return (
    `${channel} was read to have given ${words.volume(value)} from ${words.time(start)} to ${words.time(at)}; ` +
    `${words.volume(comparison.computed)} was computed.`
  );
}

/** A segment that is not what was computed over it. */
export function segmentText({ channel, start, at, value, comparison, sequence }: SegmentJudged, of: AskedOf) {
  const sent = of.place(sequence);
  const zone = zoneOf(of)(at);
  return {
    entry: `#/entries/${sent.index}`,
    at: formatInstant(at, zone),
    channel,
    reading: volumeText(value),
    expected: volumeText(comparison.computed),
    difference: volumeText(minus(value, comparison.computed)),
    since: formatInstant(start, zone),
    reasons: [],
    answers: [confirming("The device was looked at again, and does show this.", sent)],
  };
}
