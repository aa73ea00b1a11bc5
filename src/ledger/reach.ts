/**
 * How far back a change reaches: further than where it happened. A reading says what was delivered since its mark,
 * a segment tells of its span, a loss acts from its own beginning; and where a signature keeps what its figures
 * rest on, it keeps or loses all of that at once. What is asked of the figures that a change moves (its effects,
 * what changed between two moments, charts and signatures touched) is asked from here on.
 */

import type { Reported } from "../findings/finding.js";
import type { Event } from "../infusion/event.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import type { Appended } from "./append.js";
import type { Moment } from "./coordinates.js";
import { leanedOn } from "./leaning.js";
import { countingBetween, reported } from "./replay.js";
import { type Signature, signaturesOver } from "./signatures.js";
import { stateBeforePlace, tailBetween } from "./tail.js";

/** What came to light on one side of a change, and what counts there. */
export interface Told {
  readonly events: readonly Event[];
  readonly entries: readonly Reported[];
}

/** Where the first of what is told, or the change itself, begins. */
export function beginningOfAll(from: Instant, told: readonly Told[]): Instant {
  let first = from;
  for (const side of told) for (const one of beginnings(side)) first = earliest(first, one);
  return first;
}

function* beginnings({ events, entries }: Told): Generator<Instant> {
  for (const { event, what } of events) if (event === "read" || event === "level") yield what.over.from;
  for (const { placed } of entries) {
    const { entry } = placed;
    if ("from" in entry && entry.from !== undefined) yield entry.from;
    if (entry.kind === "segment-read") yield entry.start;
  }
}

/** From when on figures may be others, with what was charted after the end of what is told but began before. */
export function* movedFrom(at: Moment, from: Instant, told: readonly Told[], end: Instant): Inquiry<Instant> {
  const { known, until } = at;
  const after = end < until ? yield* countingBetween(known, end, later(until, 1)) : [];
  const first = beginningOfAll(from, [...told, { events: [], entries: after.map(reported) }]);
  const signatures = yield* signaturesOver(known, { from: first, to: later(until, 1) });
  return earliest(first, ...signatures.flatMap(restingFrom));
}

function restingFrom({ rests }: Signature): Instant[] {
  return rests.map(({ from }) => from);
}

/** What is known of a stay from an instant on, as far as it has come. */
export function* toldSince({ known, until, facts }: Moment, from: Instant): Inquiry<Told> {
  const { settingsAt } = facts.conventions;
  const tail = yield* tailBetween(known, settingsAt, from, later(until, 1));
  const found = tail.entries.findIndex(({ placed }) => placed.entry.at >= from);
  const first = found < 0 ? tail.entries.length : found;
  const entries = tail.entries.slice(first);
  const events = entries.flatMap((one) => one.events);
  const before = stateBeforePlace(tail, first, settingsAt);
  const earlier = yield* leanedOn(known, settingsAt, tail, first, events, before);
  return { events: [...earlier, ...events], entries };
}

/** How long after a change's effect something may be emptied that holds what was changed. */
const EMPTIED_WITHIN = 2 * DAY;

/**
 * The span in which a request may move figures: from where what is read or measured in it began, and beyond its
 * effect as long as what is emptied later may be. Null where nothing changes.
 */
export function spanTouched({ sides, changedFrom }: Appended, now: Instant): Period | null {
  if (sides === null || changedFrom === null) return null;
  const start = beginningOfAll(changedFrom, [sides.before, sides.after]);
  return { start, end: later(earliest(now, sides.end), EMPTIED_WITHIN) };
}

/** The same of both sides of a change. */
export interface Both<T> {
  readonly before: T;
  readonly after: T;
}
