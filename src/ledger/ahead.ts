/**
 * What lies after a window of time and still has a say in it: the readings that close spans the window cuts,
 * and the segments that a device counted across its end.
 */

import { type Collected, collector } from "../infusion/collected.js";
import type { Counter } from "../infusion/counter.js";
import { comeUpTo, follow } from "../infusion/course.js";
import type { Finished } from "../infusion/evidence.js";
import { NOWHERE, type Sink } from "../infusion/flow.js";
import type { Mark } from "../infusion/mark.js";
import type { State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { type Course, courseOf } from "./course.js";
import { countingOf, merged, placedOf } from "./families.js";
import { type CountingEntry, countingBetween, type Known, withBagsOf } from "./replay.js";

const NOTHING_AHEAD = { collected: collector() as Collected, entries: [] as readonly CountingEntry[] };

/** How many segments that end after a window are looked at for one that began in it. */
const SEGMENTS_ACROSS = 100;

/** When the last segment ended that a device counted across an instant, as far as is known by `until`. */
export function* lastSegmentAcross(known: Known, at: Instant, until: Instant): Inquiry<Instant> {
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
export function* aheadOf(
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
export function endingAt(state: State, end: Instant): Finished[] {
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
