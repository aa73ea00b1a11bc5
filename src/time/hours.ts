/**
 * Hours by the wall clock. They tile the period asked for and lie each within one shift, so that
 * the hours of a shift make up the shift: 11 or 13 of them in a night of twelve over a clock change.
 */

import { clockText, DAY, offsetText } from "./calendar.js";
import { earliest, HOUR, instant, later, latest, type Period } from "./instant.js";
import { type Stretch, shiftsIn } from "./shifts.js";
import { isShownTwice, observancesIn } from "./zone.js";

/** An hour, or the part of one between two cuts. */
export interface ClockHour extends Period {
  /** From when to when the clock runs in it, with the offset where it shows a time twice: `01:00–02:00 -06:00`. */
  readonly label: string;
}

/**
 * The hours of a period, in order: cut where the clock shows a full hour, where it jumps, where a
 * shift starts or is cut, and at the ends of the period. An hour that the clock leaves out is absent.
 */
export function hoursIn(stretches: readonly Stretch[], period: Period): ClockHour[] {
  return shiftsIn(stretches, period).flatMap((shift) =>
    hoursWithin(shift.zone, {
      start: latest(shift.start, period.start),
      end: earliest(shift.end, period.end),
    }),
  );
}

function hoursWithin(zone: string, period: Period): ClockHour[] {
  const hours: ClockHour[] = [];
  const near = observancesIn(zone, { start: later(period.start, -DAY), end: later(period.end, DAY) });
  for (const observance of near) {
    const { offset } = observance;
    const end = earliest(period.end, observance.end);
    let start = latest(period.start, observance.start);
    while (start < end) {
      const nextFullHour = (Math.floor((start + offset) / HOUR) + 1) * HOUR - offset;
      const hour = { start, end: earliest(end, instant(nextFullHour)) };
      const twice = isShownTwice(hour, offset, near) ? ` ${offsetText(offset)}` : "";
      hours.push({ ...hour, label: `${clockText(start + offset)}–${clockText(hour.end + offset)}${twice}` });
      start = hour.end;
    }
  }
  return hours;
}
