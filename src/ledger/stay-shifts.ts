/** The shifts of a stay, for whoever picks one. */

import { earliest, type Instant, later } from "../time/instant.js";
import { shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import type { StayFacts } from "./stay.js";

const MOST = 30;

export interface ShiftText {
  readonly date: string;
  readonly name: string;
  readonly label: string;
  readonly start: string;
  readonly end: string;
}

/** At most 30 shifts of a stay that have begun by now, the latest first. */
export function shiftsOfStay(facts: StayFacts, now: Instant): ShiftText[] {
  const end = later(earliest(facts.dischargedAt ?? now, now), 1);
  const start = facts.admittedAt < end ? facts.admittedAt : later(end, -1);
  return shiftsIn(facts.conventions.stretches, { start, end })
    .slice(-MOST)
    .reverse()
    .map((shift) => ({
      date: shift.date,
      name: shift.name,
      label: shift.label ?? shift.name,
      start: formatInstant(shift.start, shift.zone),
      end: formatInstant(shift.end, shift.zone),
    }));
}
