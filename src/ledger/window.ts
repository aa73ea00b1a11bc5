/**
 * The course of an encounter over a window of time, from the nearest checkpoint: what a shift costs does
 * not depend on how long the stay has been. A reading says what was delivered since the mark before it, so
 * the course is followed on to the readings that close spans the window cuts, and back to where they began.
 */

import type { Signed } from "../infusion/anchor.js";
import { type Apportioned, apportioned, within } from "../infusion/apportion.js";
import { type Collected, collector } from "../infusion/collected.js";
import type { Counter, Mark } from "../infusion/counter.js";
import { comeUpTo, follow } from "../infusion/course.js";
import type { Placed, SegmentRead } from "../infusion/entry.js";
import type { Finished } from "../infusion/evidence.js";
import { NOWHERE, type Sink, type UnknownSpan } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import { type SettingsAt, unconfirmedSpan } from "../infusion/step.js";
import { ask, type Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { countingOf, merged, placedOf } from "./families.js";
import { type CountingEntry, countingBetween, type Known, stretchBetween, withBagsOf } from "./replay.js";

/** What a window is computed by: the conventions in force, and the spans that somebody signed. */
export interface By {
  readonly settingsAt: SettingsAt;
  readonly signed?: readonly Signed[];
}

export interface Window extends Apportioned {
  /** What the course handed out within the window, whatever was read. */
  readonly collected: Collected;
  /** What counts in the window, its end included, in order. */
  readonly entries: readonly CountingEntry[];
  /** The state at the end of the window, entries at that very instant included. */
  readonly state: State;
}

/**
 * What flowed from `from` up to `to`, as far as `until`. Entries at the instant of the end count in the
 * state, and are listed (an amount charted at a shift's end belongs to it), but move no flow before it.
 */
export function* windowOf(
  known: Known,
  span: { from: Instant; to: Instant; until: Instant },
  by: By,
): Inquiry<Window> {
  const end = latest(span.from, earliest(span.to, span.until));
  const course = yield* courseOf(known, { start: span.from, end }, by.settingsAt);
  const { collected, state, entries } = course;
  const unconfirmed = yield* unconfirmedEnds(known, state, end, span.until, by.settingsAt);
  const least = yield* lastSegmentAcross(known, end, span.until);
  const ahead = yield* aheadOf(known, course, { end, least, until: span.until }, by.settingsAt);
  const own = {
    ...collected,
    unknown: [...collected.unknown, ...unconfirmed],
    finished: [...collected.finished, ...endingAt(state, end)],
  };
  const found = joined(own, ahead.collected);
  const segments = segmentsOf([...entries, ...ahead.entries]);
  const begins = earliest(span.from, ...beginnings(found, segments));
  const behind = yield* behindOf(known, begins, span.from, by.settingsAt);
  const whole = reachingBack(joined(behind.collected, found), behind.begins);
  const told = apportioned(whole, [...behind.segments, ...segments], by.signed ?? []);
  return { ...within(told, { start: span.from, end }), collected, entries, state };
}

export interface Course {
  /** When the state was read that it begins with. */
  readonly at: Instant;
  readonly collected: Collected;
  readonly entries: readonly CountingEntry[];
  /** At the end, without and with the entries at that very instant. */
  readonly before: State;
  readonly state: State;
}

/** The course over a period, and what counts in it and at its end. */
export function* courseOf(known: Known, { start, end }: Period, settingsAt: SettingsAt): Inquiry<Course> {
  const from = yield* stretchBetween(known, settingsAt, start, later(end, 1));
  const counting = from.entries;
  const collected = collector();
  let state = from.state;
  let next = 0;
  const followUp = (before: Instant, sink: Sink) => {
    for (; next < counting.length && counting[next]!.placed.entry.at < before; next++) {
      state = follow(state, counting[next]!.placed, settingsAt, sink);
    }
  };
  followUp(start, NOWHERE);
  if (from.at < start) state = comeUpTo(state, start, NOWHERE);
  const first = next;
  followUp(end, collected.sink);
  const before = comeUpTo(state, end, collected.sink);
  state = before;
  followUp(later(end, 1), collected.sink);
  return { at: from.at, collected, entries: counting.slice(first), before, state };
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
): Inquiry<{ begins: Instant; collected: Collected; segments: readonly Placed<SegmentRead>[] }> {
  if (begins >= from) return { begins, collected: collector() as Collected, segments: [] };
  const { collected, entries } = yield* courseOf(known, { start: begins, end: from }, settingsAt);
  const segments = segmentsOf(entries).filter(({ entry }) => entry.at < from);
  const reached = earliest(begins, ...segments.map(({ entry }) => entry.start));
  if (reached < begins) return yield* behindOf(known, reached, from, settingsAt);
  const readings = collected.readings.filter(({ at }) => at < from);
  const levels = collected.levels.filter(({ at }) => at < from);
  return { begins, collected: { ...collected, readings, levels }, segments };
}

const NOTHING_AHEAD = { collected: collector() as Collected, entries: [] as readonly CountingEntry[] };

/** How many segments that end after a window are looked at for one that began in it. */
const SEGMENTS_ACROSS = 100;

/** When the last segment ended that a device counted across an instant, as far as is known by `until`. */
function* lastSegmentAcross(known: Known, at: Instant, until: Instant): Inquiry<Instant> {
  if (at >= until) return at;
  const { chain, upTo, staged } = known;
  const stored = yield* ask({ ask: "segments", chain, after: at, upTo, limit: SEGMENTS_ACROSS });
  const ends = countingOf(merged(stored, staged)).flatMap((one) => {
    const entry = placedOf(one)?.entry;
    const across = entry?.kind === "segment-read" && entry.start < at && at < entry.at && entry.at <= until;
    return across ? [entry.at] : [];
  });
  return latest(at, ...ends);
}

/**
 * What flowed after the end of a window, as far as a reading may still say something about the window:
 * until no counter stands on a mark from before its end, and every segment across it has ended. Where nothing was read by `until` there is
 * nothing to follow.
 */
function* aheadOf(
  known: Known,
  course: Course,
  { end, least, until }: { end: Instant; least: Instant; until: Instant },
  settingsAt: SettingsAt,
): Inquiry<typeof NOTHING_AHEAD> {
  const marks = openMarks(course.state, end);
  if ((marks.size === 0 && least <= end) || end >= until) return NOTHING_AHEAD;
  const { sink, ...collected } = collector();
  // Computed ends from before the end are looked at on their own, as far as it.
  const own: Sink = { ...sink, unknown: (span) => span.start >= end && sink.unknown(span) };
  const entries: CountingEntry[] = [];
  let { state } = course;
  let reached = later(end, 1);
  const goesOn = () => reached <= until && (reached <= least || stillOpen(state, marks, end));
  for (let stretch = DAY / 2; goesOn(); stretch *= 2) {
    if (stretch > DAY / 2 && reached > least && !(yield* everRead(known, marks, end, until, settingsAt)))
      break;
    const next = earliest(until, later(reached, stretch));
    const coming = yield* countingBetween(known, reached, next === until ? later(until, 1) : next);
    const asking = coming.map(({ placed }) => placed);
    state = yield* withBagsOf(known, settingsAt, { state, at: course.at }, asking);
    for (const one of coming) {
      state = follow(state, one.placed, settingsAt, own);
      entries.push(one);
    }
    state = comeUpTo(state, next, own);
    reached = next === until ? later(until, 1) : next;
  }
  const ending = endingAt(state, earliest(reached, until));
  return { collected: { ...collected, finished: [...collected.finished, ...ending] }, entries };
}

/** What comes to its limit at the very instant up to which the course was followed: else told as it goes on. */
function endingAt(state: State, end: Instant): Finished[] {
  const finished: Finished[] = [];
  comeUpTo(state, later(end, 1), { ...NOWHERE, finished: (one) => finished.push(one) });
  return finished.filter(({ at }) => at <= end);
}

/** The counters and gravity bags that stand on a mark from before an instant and have delivered since. */
function openMarks(state: State, end: Instant): Map<string, string> {
  const open = new Map<string, string>();
  for (const { channel, counters, type } of state.channels.values()) {
    for (const [total, counter] of Object.entries(counters)) {
      if (isOpen(counter, end)) open.set(`${channel} ${total}`, counter.entry);
    }
    if (type !== "gravity") continue;
    for (const { bag, mark, channel: its } of state.bags.values()) {
      const flowed = mark.since > 0n || mark.atLeast;
      if (its === channel && mark.from < end && flowed) open.set(`bag ${bag}`, mark.entry);
    }
  }
  return open;
}

function isOpen({ other, ...mark }: Counter, end: Instant): boolean {
  const from = (one: Mark) => one.from < end && (one.since > 0n || one.atLeast);
  return from(mark) || (other !== null && other.from < end);
}

function stillOpen(state: State, marks: ReadonlyMap<string, string>, end: Instant): boolean {
  const open = openMarks(state, end);
  return [...marks.keys()].some((counter) => open.has(counter));
}

/** Whether any of the counters stands on another mark by `until`: else nothing was read that could matter. */
function* everRead(
  known: Known,
  marks: ReadonlyMap<string, string>,
  end: Instant,
  until: Instant,
  settingsAt: SettingsAt,
): Inquiry<boolean> {
  const { state } = yield* courseOf(known, { start: until, end: until }, settingsAt);
  const then = openMarks(state, end);
  return [...marks].some(([counter, entry]) => then.get(counter) !== entry);
}

/** Where the spans begin of which readings, levels and segments tell. */
function beginnings({ readings, levels }: Collected, segments: readonly Placed<SegmentRead>[]): Instant[] {
  return [
    ...readings.filter(({ checkOnly }) => !checkOnly).map(({ over }) => over.from),
    ...levels.filter(({ anchors }) => anchors).map(({ over }) => over.from),
    ...segments.map(({ entry }) => entry.start),
  ];
}

/** Without readings of spans that begin before what was followed: those ended before the window. */
function reachingBack(collected: Collected, begins: Instant): Collected {
  return {
    ...collected,
    readings: collected.readings.filter(({ over }) => over.from >= begins),
    levels: collected.levels.filter(({ over }) => over.from >= begins),
  };
}

function joined(a: Collected, b: Collected): Collected {
  return {
    flows: [...a.flows, ...b.flows],
    unknown: [...a.unknown, ...b.unknown],
    notes: [...a.notes, ...b.notes],
    finished: [...a.finished, ...b.finished],
    readings: [...a.readings, ...b.readings],
    clears: [...a.clears, ...b.clears],
    levels: [...a.levels, ...b.levels],
    gone: [...a.gone, ...b.gone],
    drained: [...a.drained, ...b.drained],
  };
}

function segmentsOf(entries: readonly CountingEntry[]): Placed<SegmentRead>[] {
  return entries.flatMap(({ placed }) =>
    placed.entry.kind === "segment-read" ? [placed as Placed<SegmentRead>] : [],
  );
}

/**
 * Flows that ended by themselves before the end of a window and that nothing confirmed in time, as far
 * as is known by `until`. An entry after the window may still confirm them; `state` has followed those at
 * its end.
 */
function* unconfirmedEnds(
  known: Known,
  state: State,
  end: Instant,
  until: Instant,
  settingsAt: SettingsAt,
): Inquiry<UnknownSpan[]> {
  const open = [...state.channels.values()].filter(({ unconfirmed }) => unconfirmed !== null);
  if (open.length === 0) return [];
  const lastChance = (at: Instant) => later(at, settingsAt(at).endConfirmedWithin);
  const lookTo = latest(end, ...open.map(({ unconfirmed }) => earliest(lastChance(unconfirmed!.at), until)));
  const after = lookTo > end ? yield* countingBetween(known, later(end, 1), later(lookTo, 1)) : [];
  const spans: UnknownSpan[] = [];
  for (const channel of open) {
    const pending = channel.unconfirmed!;
    if (until <= lastChance(pending.at)) continue;
    let then = state;
    for (const { placed } of after) {
      if (placed.entry.at > lastChance(pending.at)) break;
      then = follow(then, placed, settingsAt, NOWHERE);
    }
    const still = then.channels.get(channel.channel)?.unconfirmed?.at === pending.at;
    const span = still ? unconfirmedSpan(channel, pending, until, settingsAt) : null;
    if (span !== null) spans.push({ ...span, end });
  }
  return spans;
}
