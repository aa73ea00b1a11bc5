/**
 * What the clocks of a place show: the offset of an IANA zone from UTC at any instant, and the ways
 * between instants and clock readings. The only file that asks the tz database (through luxon).
 *
 * The observances of a zone tile time: within one the clock runs evenly, between two it jumps.
 */

import { IANAZone } from "luxon";
import { clockText, DAY, dateText, offsetText } from "./calendar.js";
import { HOUR, type Instant, instant, later, MINUTE, type Period } from "./instant.js";

/** A span in which a zone keeps one offset; RFC 5545, section 3.6.5, calls it an observance. */
export interface Observance extends Period {
  /** Milliseconds to add to an instant to read the clock; positive east of Greenwich. */
  readonly offset: number;
}

/** Whether `name` is a zone of the tz database, such as `America/Chicago`; a bare offset is none. */
export function isZone(name: string): boolean {
  return IANAZone.isValidZone(name);
}

/** The offset as the tz database has it; throws a RangeError for a zone it does not have. */
function askOffset(zone: string, at: number): number {
  const minutes = IANAZone.create(zone).offset(at);
  if (Number.isNaN(minutes)) throw new RangeError(`no offset known for zone ${zone} at ${at}`);
  // The local mean times of before there were zones have seconds: fractions of a minute here.
  return Math.round(minutes * 60) * 1_000;
}

/** The first millisecond after `start` at which the offset is no longer the one at `start`. */
function firstChange(zone: string, start: number, end: number): Instant {
  const before = askOffset(zone, start);
  let [same, changed] = [start, end];
  while (changed - same > 1) {
    const middle = Math.floor((same + changed) / 2);
    if (askOffset(zone, middle) === before) same = middle;
    else changed = middle;
  }
  return instant(changed);
}

// The tz database takes microseconds to answer and answers the same while the program runs, so each
// UTC day of a zone is asked about once. Bounded, since callers choose dates.
const DAYS_KEPT = 20_000;
const keptDays = new Map<string, readonly [Observance, Observance?]>();

/**
 * The observances of one UTC day. There are two at the most: no two changes in the tz database are
 * nearer to each other than 4 days (Africa/Freetown, 1939).
 */
function observancesOfDay(zone: string, day: number): readonly [Observance, Observance?] {
  const key = `${zone} ${day}`;
  const kept = keptDays.get(key);
  if (kept !== undefined) return kept;
  const [start, end] = [instant(day * DAY), instant((day + 1) * DAY)];
  const [before, after] = [askOffset(zone, start), askOffset(zone, end)];
  const change = before === after ? end : firstChange(zone, start, end);
  const first = { start, end: change, offset: before };
  const found = change < end ? ([first, { start: change, end, offset: after }] as const) : ([first] as const);
  const [oldest] = keptDays.keys();
  if (keptDays.size >= DAYS_KEPT && oldest !== undefined) keptDays.delete(oldest);
  keptDays.set(key, found);
  return found;
}

/** The observances that cover a period, in order and without a gap; the outer two may reach beyond it. */
export function observancesIn(zone: string, period: Period): readonly Observance[] {
  const found: Observance[] = [];
  for (let day = Math.floor(period.start / DAY); day * DAY < period.end; day++) {
    for (const piece of observancesOfDay(zone, day)) {
      const last = found.at(-1);
      if (piece === undefined) continue;
      if (last?.offset === piece.offset) found[found.length - 1] = { ...last, end: piece.end };
      else found.push(piece);
    }
  }
  return found;
}

/** What the clocks of `zone` show at an instant. */
export function clockReading(at: Instant, zone: string): number {
  const [first, second] = observancesOfDay(zone, Math.floor(at / DAY));
  return at + (second !== undefined && at >= second.start ? second : first).offset;
}

/**
 * The first instant at which the clocks of `zone` show `reading` or a later time: of a time that
 * comes twice the first; for one that is left out, the instant at which the clocks jump over it.
 */
export function firstShowing(reading: number, zone: string): Instant {
  // No zone was ever more than 16 hours from UTC (Asia/Manila, until 1844, was the furthest: 15:56).
  const near = { start: instant(reading - 16 * HOUR), end: instant(reading + 16 * HOUR) };
  for (const { start, end, offset } of observancesIn(zone, near)) {
    const shown = Math.max(start, reading - offset);
    if (shown < end) return instant(shown);
  }
  throw new RangeError(`the clocks of ${zone} never show ${reading}`);
}

/**
 * Whether a clock time of `period`, throughout which `offset` holds, is shown a second time during
 * one of the observances `near`.
 */
export function isShownTwice(period: Period, offset: number, near: readonly Observance[]): boolean {
  const [first, last] = [period.start + offset, period.end + offset];
  return near.some(
    (other) =>
      other.offset !== offset && other.start + other.offset < last && first < other.end + other.offset,
  );
}

/**
 * An instant of the years 0 to 9999 in RFC 3339 with the zone's own offset, with milliseconds only
 * where there are any: `2026-03-04T07:00:00-06:00`. Where the offset has seconds (local mean time)
 * it is written to the minute with the clock time that goes with that, so it is the same instant.
 */
export function formatInstant(at: Instant, zone: string): string {
  const offset = Math.round((clockReading(at, zone) - at) / MINUTE) * MINUTE;
  const clock = new Date(at + offset).toISOString().slice(0, -1);
  return clock.replace(/\.000$/, "") + offsetText(offset);
}

/** The clock time of an instant: `07:00`, or `01:00 -06:00` where that time comes twice. */
export function clockLabel(at: Instant, zone: string): string {
  const reading = clockReading(at, zone);
  const offset = reading - at;
  const near = observancesIn(zone, { start: later(at, -DAY), end: later(at, DAY) });
  const twice = isShownTwice({ start: at, end: later(at, 1) }, offset, near);
  return twice ? `${clockText(reading)} ${offsetText(offset)}` : clockText(reading);
}

/** The date on the calendar of a zone: `2026-03-04`. */
export function localDate(at: Instant, zone: string): string {
  return dateText(Math.floor(clockReading(at, zone) / DAY));
}
