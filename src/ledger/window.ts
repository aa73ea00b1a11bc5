/**
 * The course of an encounter over a window of time, from the nearest checkpoint: what a shift costs does
 * not depend on how long the stay has been. A reading says what was delivered since the mark before it, so
 * the course is followed on to the readings that close spans the window cuts, and back to where they began.
 */

import { type Apportioned, apportioned, within } from "../infusion/apportion.js";
import { type Collected, collector } from "../infusion/collected.js";
import type { Unattributed } from "../infusion/delivery.js";
import type { LevelJudged, SegmentJudged, TotalJudged } from "../infusion/evidence.js";
import { segmentsJudged } from "../infusion/segment.js";
import type { State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { aheadOf, endingAt, lastSegmentAcross } from "./ahead.js";
import { type Course, courseOf } from "./course.js";
import { withHolds } from "./held.js";
import type { CountingEntry, Known } from "./replay.js";
import { signaturesOver } from "./signatures.js";
import { unconfirmedEnds } from "./unconfirmed.js";

export interface Window extends Apportioned {
  /** What the course handed out within the window, whatever was read. */
  readonly collected: Collected;
  /** What counts in the window, its end included, in order. */
  readonly entries: readonly CountingEntry[];
  /** The state at the end of the window, entries at that very instant included. */
  readonly state: State;
  /** What devices counted over segments that reach into the window, judged. */
  readonly segments: readonly SegmentJudged[];
  /** What stands at a reading after the window, and may have been delivered within it. */
  readonly readAfter: readonly Unattributed[];
}

/**
 * What flowed from `from` up to `to`, as far as `until`. Entries at the instant of the end count in the
 * state, and are listed (an amount charted at a shift's end belongs to it), but move no flow before it.
 * Spans that somebody signed by what is known keep what their figures rest on.
 */
export function* windowOf(
  known: Known,
  span: { from: Instant; to: Instant; until: Instant },
  settingsAt: SettingsAt,
): Inquiry<Window> {
  const { until } = span;
  const window = { start: span.from, end: latest(span.from, earliest(span.to, until)) };
  const own = yield* followed(known, window, until, settingsAt);
  const { collected, entries, state } = own.course;
  for (let reached = own; ; ) {
    const { whole, marks, begins, ends } = reached;
    const signatures = yield* signaturesOver(known, { from: begins, to: ends });
    const signed = yield* withHolds(known, signatures, whole, { ...window, until }, settingsAt);
    const held = signed.flatMap(({ holds = [] }) => holds.flatMap(({ anchors }) => anchors));
    const late = yield* recordedLate(known, marks);
    const start = earliest(begins, ...held.map(({ from }) => from), ...late.map(({ over }) => over.from));
    const end = latest(ends, ...held.map(({ to }) => to));
    if (start === begins && end === ends) {
      const told = apportioned(whole, signed);
      const readAfter = told.unattributed.filter(({ from, at }) => from < window.end && window.end < at);
      const segments = segmentsJudged(whole).filter((one) => one.start < window.end && window.start < one.at);
      return { ...within(told, window), segments, collected, entries, state, readAfter };
    }
    reached = yield* followed(known, { start, end }, until, settingsAt);
  }
}

/** A reading or level that says how much it was since the one before. */
type Look = TotalJudged | LevelJudged;

/**
 * Looks that were recorded after something was signed that they tell of. The one after such a look may have taken
 * over its span: then what it says begins where that does.
 */
function* recordedLate(known: Known, looks: readonly Look[]): Inquiry<Look[]> {
  const late: Look[] = [];
  for (const look of looks) {
    const signed = yield* signaturesOver(known, { from: look.over.from, to: look.at });
    if (signed.some(({ sequence }) => sequence < look.sequence)) late.push(look);
  }
  return late;
}

/** A window's course, and with it whatever says something about it. */
interface Followed {
  readonly course: Course;
  readonly whole: Collected;
  /** What was read where the first spans of that begin, and tells of time before. */
  readonly marks: readonly Look[];
  /** From when on, and up to when, everything that was read is at hand. */
  readonly begins: Instant;
  readonly ends: Instant;
}

function* followed(
  known: Known,
  { start, end }: Period,
  until: Instant,
  settingsAt: SettingsAt,
): Inquiry<Followed> {
  const course = yield* courseOf(known, { start, end }, settingsAt);
  const { collected, state } = course;
  const unconfirmed = yield* unconfirmedEnds(known, state, end, until, settingsAt);
  const least = yield* lastSegmentAcross(known, end, until);
  const ahead = yield* aheadOf(known, course, { end, least, until }, settingsAt);
  const own = {
    ...collected,
    unknown: [...collected.unknown, ...unconfirmed],
    finished: [...collected.finished, ...endingAt(state, end)],
  };
  const found = joined(own, ahead.collected);
  const begins = earliest(start, ...beginnings(found));
  const behind = yield* behindOf(known, begins, start, settingsAt);
  const all = joined(behind.collected, found);
  const whole = reachingBack(all, behind.begins);
  const marked = new Set([...whole.readings, ...whole.levels].map(({ over }) => over.entry));
  const before = [...all.readings, ...all.levels].filter(({ over }) => over.from < behind.begins);
  return {
    course,
    whole,
    marks: before.filter(({ entry }) => marked.has(entry)),
    begins: behind.begins,
    ends: latest(end, ...ahead.entries.map(({ placed }) => placed.entry.at)),
  };
}

/**
 * What flowed before a window, since the spans began that it cuts: and further back where a device's
 * segment, which those spans hold, began before them. What stands at the window's start is the window's.
 */
function* behindOf(
  known: Known,
  begins: Instant,
  from: Instant,
  settingsAt: SettingsAt,
): Inquiry<{ begins: Instant; collected: Collected }> {
  if (begins >= from) return { begins, collected: collector() as Collected };
  const { collected } = yield* courseOf(known, { start: begins, end: from }, settingsAt);
  const segments = collected.segments.filter(({ at }) => at < from);
  const reached = earliest(begins, ...segments.map(({ start }) => start));
  if (reached < begins) return yield* behindOf(known, reached, from, settingsAt);
  const readings = collected.readings.filter(({ at }) => at < from);
  const levels = collected.levels.filter(({ at }) => at < from);
  return { begins, collected: { ...collected, readings, levels, segments } };
}

/** Where the spans begin of which readings, levels and segments tell. */
function beginnings({ readings, levels, segments }: Collected): Instant[] {
  return [
    ...readings.filter(({ checkOnly }) => !checkOnly).map(({ over }) => over.from),
    ...levels.filter(({ anchors }) => anchors).map(({ over }) => over.from),
    ...segments.map(({ start }) => start),
  ];
}

/** Without readings of spans that begin before what was followed: those ended before the window. */
function reachingBack(collected: Collected, begins: Instant): Collected {
  return {
    ...collected,
    readings: collected.readings.filter(({ over }) => over.from >= begins),
    levels: collected.levels.filter(({ over }) => over.from >= begins),
    segments: collected.segments.filter(({ start }) => start >= begins),
  };
}

function joined(a: Collected, b: Collected): Collected {
  return {
    flows: [...a.flows, ...b.flows],
    unknown: [...a.unknown, ...b.unknown],
    notes: [...a.notes, ...b.notes],
    finished: [...a.finished, ...b.finished],
    readings: [...a.readings, ...b.readings],
    segments: [...a.segments, ...b.segments],
    clears: [...a.clears, ...b.clears],
    levels: [...a.levels, ...b.levels],
    gone: [...a.gone, ...b.gone],
    drained: [...a.drained, ...b.drained],
    outputs: [...a.outputs, ...b.outputs],
  };
}
