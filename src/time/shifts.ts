/**
 * Shifts and days of one patient, who may move between units, and whose units may change their shifts.
 * Shifts tile time, and so do days; no shift is empty, and no two days have the same date.
 *
 * The calendar of a stay is a list of stretches. Where the unit, its zone or its shifts change, the
 * shift that runs is cut: its two pieces are spans of their own, with the same date and maybe name.
 */

import { DAY, dateText, dayNumber } from "./calendar.js";
import { type Instant, instant, later, type Period } from "./instant.js";
import { type ShiftPattern, sameShifts, shiftsFrom } from "./shift-pattern.js";
import { clockReading } from "./zone.js";

/** From when on a patient is in a unit with certain shifts; the first of a stay holds before it as well. */
export interface Stretch {
  readonly from: Instant;
  readonly unit: string;
  readonly zone: string;
  readonly shifts: readonly ShiftPattern[];
}

/** A shift, or the piece of one between two changes of the calendar. */
export interface ShiftSpan extends Period {
  /** The date on which the shift starts by its pattern. */
  readonly date: string;
  readonly name: string;
  readonly label: string | undefined;
  /** The date of its day; the one before `date` after midnight, where days start in the evening. */
  readonly day: string;
  /** Whether it is the first of its day. */
  readonly startsDay: boolean;
  readonly unit: string;
  readonly zone: string;
}

/**
 * The shifts that overlap a period, in order, without gap or overlap: whole ones, not cut at the
 * period. `stretches` stand in order of `from`; throws a RangeError when there are none.
 *
 * A day lasts until a shift of a later day starts, in whatever unit. So a day on which the patient
 * moves to a unit that counts its days from another hour is longer or shorter, and never begins twice.
 */
export function shiftsIn(stretches: readonly Stretch[], period: Period): ShiftSpan[] {
  if (period.start >= period.end) return [];
  return partsOf(stretches)
    .filter((part) => part.start < period.end && period.start < part.end)
    .flatMap((part) => shiftsOfPart(part, period));
}

/** The shift, or piece of one, that an instant falls in. */
export function shiftAt(stretches: readonly Stretch[], at: Instant): ShiftSpan {
  const [shift] = shiftsIn(stretches, { start: at, end: later(at, 1) });
  if (shift === undefined) throw new RangeError(`no shift at ${at}`);
  return shift;
}

/**
 * The time of the shift with a date and name, from the start of its first piece to the end of its last
 * (between them the patient may have been elsewhere); undefined when there is no such shift.
 */
export function shiftNamed(stretches: readonly Stretch[], date: string, name: string): Period | undefined {
  return covering(
    shiftsAround(stretches, date).filter((shift) => shift.date === date && shift.name === name),
  );
}

/** The time of the day with a date, from one first shift to the next; undefined when there is no such day. */
export function dayNamed(stretches: readonly Stretch[], date: string): Period | undefined {
  return covering(shiftsAround(stretches, date).filter((shift) => shift.day === date));
}

/** A stretch with the time it has in the calendar, and the latest day that was begun before it. */
interface Part {
  readonly stretch: Stretch;
  readonly start: number;
  end: number;
  readonly begunDay: number;
}

/** The stretches that last, each until the next; one that changes nothing goes on with the one before. */
function partsOf(stretches: readonly Stretch[]): readonly Part[] {
  const lasting = stretches.filter(({ from }, place) => from !== stretches[place + 1]?.from);
  const [first, ...others] = lasting;
  if (first === undefined) throw new RangeError("a calendar has at least one stretch");
  let last: Part = { stretch: first, start: -Infinity, end: Infinity, begunDay: -Infinity };
  const parts = [last];
  for (const stretch of others) {
    if (stretch.from < last.start) throw new RangeError("stretches stand in order of time");
    if (sameCalendar(last.stretch, stretch)) continue;
    last.end = stretch.from;
    const begunDay = Math.max(last.begunDay, dayAt(last.stretch, later(stretch.from, -1)));
    last = { stretch, start: stretch.from, end: Infinity, begunDay };
    parts.push(last);
  }
  return parts;
}

function sameCalendar(a: Stretch, b: Stretch): boolean {
  return a.unit === b.unit && a.zone === b.zone && sameShifts(a.shifts, b.shifts);
}

function shiftsOfPart({ stretch, start, end, begunDay }: Part, period: Period): ShiftSpan[] {
  const { unit, zone, shifts } = stretch;
  const spans: ShiftSpan[] = [];
  let dayBefore = begunDay;
  for (const shift of shiftsFrom(shifts, zone, earliestDay(zone, Math.max(start, period.start)))) {
    if (shift.start >= Math.min(end, period.end)) break;
    if (shift.end <= start) continue;
    const day = Math.max(begunDay, shift.day);
    const piece = { start: instant(Math.max(shift.start, start)), end: instant(Math.min(shift.end, end)) };
    if (piece.end > period.start) {
      const { name, label } = shift;
      const dates = { date: dateText(shift.date), day: dateText(day), startsDay: day > dayBefore };
      spans.push({ ...piece, ...dates, name, label, unit, zone });
    }
    dayBefore = day;
  }
  return spans;
}

/** The number of the day that a stretch's own pattern has at an instant. */
function dayAt({ shifts, zone }: Stretch, at: Instant): number {
  let day = earliestDay(zone, at);
  for (const shift of shiftsFrom(shifts, zone, day)) {
    if (shift.start > at) break;
    day = shift.day;
  }
  return day;
}

/** The earliest day that may be running at an instant: a day may have begun on the date before. */
function earliestDay(zone: string, at: number): number {
  return Math.floor(clockReading(instant(at), zone) / DAY) - 1;
}

/** Every shift that starts on a date, or is of the day with that date, in any zone; and others. */
function shiftsAround(stretches: readonly Stretch[], date: string): ShiftSpan[] {
  const day = dayNumber(date);
  if (day === undefined) return [];
  return shiftsIn(stretches, { start: instant((day - 1) * DAY), end: instant((day + 5) * DAY) });
}

function covering(shifts: readonly ShiftSpan[]): Period | undefined {
  const [first, last] = [shifts[0], shifts.at(-1)];
  return first && last && { start: first.start, end: last.end };
}
