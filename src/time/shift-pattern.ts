/**
 * The shifts of a unit as a list of starting times, and the days and shifts that follow from it.
 * Invariant of `shiftsFrom`: each shift starts at the instant at which the one before it ends, and
 * none is empty, whatever the clocks do.
 */

import { DAY, timeOfDay } from "./calendar.js";
import type { Period } from "./instant.js";
import { firstShowing } from "./zone.js";

/** One shift of a unit; a list of them tiles the day, and the first listed starts it. */
export interface ShiftPattern {
  /** Unique in the list, `[A-Za-z0-9._-]{1,64}`: part of the shift's address. */
  readonly name: string;
  /** What people call it, where that is not the name. */
  readonly label?: string;
  /** The clock time at which it starts, `07:00`. */
  readonly starts: string;
}

/** Why a list of shifts does not tile the day. */
export interface ShiftFault {
  /** The place in the list (from 0) of the shift that is wrong; absent when it is the list. */
  readonly shift?: number;
  readonly code:
    | "no-shifts"
    | "shift-name-form"
    | "shift-name-repeated"
    | "shift-start-form"
    | "shift-start-repeated"
    | "shift-out-of-order";
  readonly detail: string;
}

/**
 * What is wrong with a list of shifts; nothing when it tiles the day. Starts must follow one another round
 * the clock from the first listed, so that each shift ends where the next begins.
 */
export function checkShifts(patterns: readonly ShiftPattern[]): ShiftFault[] {
  if (patterns.length === 0) return [{ code: "no-shifts", detail: "A unit has at least one shift." }];
  const faults: ShiftFault[] = [];
  const names = new Set<string>();
  const starts = new Set<number>();
  const dayStart = timeOfDay(patterns[0]?.starts ?? "") ?? 0;
  let furthest = -1;
  for (const [shift, { name, starts: text }] of patterns.entries()) {
    const fault = (code: ShiftFault["code"], detail: string) => faults.push({ shift, code, detail });
    if (!/^[A-Za-z0-9._-]{1,64}$/.test(name)) {
      fault("shift-name-form", `"${name}" is not 1 to 64 of the characters A-Z a-z 0-9 . _ -`);
    } else if (names.has(name)) fault("shift-name-repeated", `Two shifts are called ${name}.`);
    names.add(name);
    const start = timeOfDay(text);
    if (start === undefined) {
      fault("shift-start-form", `"${text}" is not a time of day from 00:00 to 23:59.`);
      continue;
    }
    const intoDay = (start - dayStart + DAY) % DAY;
    if (starts.has(start)) fault("shift-start-repeated", `Two shifts start at ${text}.`);
    else if (intoDay < furthest) {
      fault("shift-out-of-order", `${name} starts at ${text}, before the shift listed before it.`);
    }
    starts.add(start);
    furthest = Math.max(furthest, intoDay);
  }
  return faults;
}

/** Whether two lists of shifts say the same. */
export function sameShifts(a: readonly ShiftPattern[], b: readonly ShiftPattern[]): boolean {
  return (
    a.length === b.length &&
    a.every(({ name, label, starts }, place) => {
      const other = b[place];
      return name === other?.name && label === other.label && starts === other.starts;
    })
  );
}

/** A shift as the pattern alone has it, before any change of the pattern cuts it. */
export interface PlannedShift extends Period {
  readonly name: string;
  readonly label: string | undefined;
  /** The date, as a number of days from 1970-01-01, on which it starts by its pattern, whatever the clocks do. */
  readonly date: number;
  /** The unit's day that it belongs to, numbered likewise. */
  readonly day: number;
}

/**
 * The shifts of a zone without end, from the first shift of the unit's day `fromDay` on. Where the
 * clocks jump over the starts of several, only the last of them is there: the others last no time.
 */
export function* shiftsFrom(
  patterns: readonly ShiftPattern[],
  zone: string,
  fromDay: number,
): Generator<PlannedShift> {
  const starts = patterns.map(startOf);
  const [dayStart] = starts;
  if (dayStart === undefined) throw new RangeError("a unit has at least one shift");
  let waiting: PlannedShift | undefined;
  for (let day = fromDay; ; day++) {
    for (const [place, { name, label }] of patterns.entries()) {
      const time = starts[place] ?? dayStart;
      // What starts earlier by the clock than the first shift starts after midnight, on the next date.
      const date = time < dayStart ? day + 1 : day;
      const start = firstShowing(date * DAY + time, zone);
      if (waiting !== undefined && waiting.start < start) yield { ...waiting, end: start };
      waiting = { name, label, date, day, start, end: start };
    }
  }
}

function startOf(pattern: ShiftPattern): number {
  const start = timeOfDay(pattern.starts);
  if (start === undefined) throw new RangeError(`not a time of day: ${pattern.starts}`);
  return start;
}
