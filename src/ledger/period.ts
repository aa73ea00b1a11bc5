/** A period as a caller names it, and the intervals it is divided into. */

import { DAY } from "../time/calendar.js";
import { hoursIn } from "../time/hours.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { dayNamed, type ShiftSpan, type Stretch, shiftAt, shiftNamed, shiftsIn } from "../time/shifts.js";
import { clockLabel, localDate } from "../time/zone.js";
import type { PeriodAsked } from "./ledger.js";
import { done, type Outcome, refused } from "./refusal.js";

export interface Interval extends Period {
  readonly label: string;
}

export type By = "hour" | "shift" | "day" | "whole";

/** The longest period by the hour, and the most shifts (or days) of one answer. */
const LONGEST_BY_HOUR = 31 * DAY;
const MOST_SHIFTS = 366;

export function periodOf(asked: PeriodAsked, stretches: readonly Stretch[]): Outcome<Period> {
  if ("shift" in asked) {
    const [date = "", name = ""] = asked.shift.split("/");
    const period = shiftNamed(stretches, date, name);
    return period === undefined ? noSuch("shift", asked.shift) : done(period);
  }
  if ("day" in asked) {
    const period = dayNamed(stretches, asked.day);
    return period === undefined ? noSuch("day", asked.day) : done(period);
  }
  if (asked.from < asked.to) return done({ start: asked.from, end: asked.to });
  return refusedParameter("to", "inconsistent", "`to` must lie after `from`.");
}

/** The intervals that tile a period, and the shift starts that rounding is anchored at. */
export function intervalsOf(
  period: Period,
  by: By,
  stretches: readonly Stretch[],
): Outcome<{ intervals: Interval[]; anchors: Instant[] }> {
  if (period.end - period.start > MOST_SHIFTS * DAY) return tooLong(`${MOST_SHIFTS} days`);
  if (by === "hour" && period.end - period.start > LONGEST_BY_HOUR) return tooLong("31 days by the hour");
  const shifts = shiftsIn(stretches, period);
  if (by === "shift" && shifts.length > MOST_SHIFTS) return tooLong(`${MOST_SHIFTS} shifts`);
  const anchors = shifts.map(({ start }) => start);
  return done({ intervals: divided(period, by, shifts, stretches), anchors });
}

function divided(
  period: Period,
  by: By,
  shifts: readonly ShiftSpan[],
  stretches: readonly Stretch[],
): Interval[] {
  switch (by) {
    case "hour":
      return [...hoursIn(stretches, period)];
    case "shift":
      return shifts.map((shift) => cut(shift, `${shift.date} ${shift.label ?? shift.name}`, period));
    case "day":
      return daysOf(shifts).map(({ start, end, day }) => cut({ start, end }, day, period));
    case "whole": {
      const { zone } = shiftAt(stretches, period.start);
      const last = shiftAt(stretches, later(period.end, -1)).zone;
      const label = `${localDate(period.start, zone)} ${clockLabel(period.start, zone)} – ${localDate(period.end, last)} ${clockLabel(period.end, last)}`;
      return [{ ...period, label }];
    }
    default:
      return by satisfies never;
  }
}

/** Shifts by their day; a day of which the period holds only a part keeps its date. */
function daysOf(shifts: readonly ShiftSpan[]): (Period & { readonly day: string })[] {
  const days: { start: Instant; end: Instant; day: string }[] = [];
  for (const { start, end, day } of shifts) {
    const last = days.at(-1);
    if (last?.day === day) last.end = end;
    else days.push({ start, end, day });
  }
  return days;
}

function cut({ start, end }: Period, label: string, period: Period): Interval {
  return { start: latest(start, period.start), end: earliest(end, period.end), label };
}

function noSuch(parameter: "shift" | "day", asked: string) {
  const detail =
    parameter === "shift"
      ? `There is no shift "${asked}" where the patient was; a shift is named like 2026-03-04/day.`
      : `There is no day "${asked}" where the patient was.`;
  return refusedParameter(parameter, "not-there", detail);
}

function tooLong(most: string) {
  return refusedParameter("to", "too-long", `The period is longer than ${most}; ask for a part of it.`);
}

function refusedParameter(parameter: string, code: string, detail: string) {
  return refused({ problem: "bad-parameter", errors: [{ parameter, code, detail }] });
}
