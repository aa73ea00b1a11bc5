/** Wards and moments that the tests of this folder share: instants are written as RFC 3339 text. */

import type { Instant, Period } from "../../src/time/instant.js";
import { parseInstant } from "../../src/time/instant.js";
import type { ShiftPattern } from "../../src/time/shift-pattern.js";
import type { Stretch } from "../../src/time/shifts.js";

export const twelveHours: readonly ShiftPattern[] = [
  { name: "day", starts: "07:00" },
  { name: "night", starts: "19:00" },
];

export const eightHours: readonly ShiftPattern[] = [
  { name: "early", starts: "06:00" },
  { name: "late", starts: "14:00" },
  { name: "night", starts: "22:00" },
];

export function at(text: string): Instant {
  const read = parseInstant(text);
  if (typeof read === "string") throw new Error(`${text}: ${read}`);
  return read;
}

export function period(start: string, end: string): Period {
  return { start: at(start), end: at(end) };
}

/** A ward that never changes. */
export function ward(zone: string, shifts: readonly ShiftPattern[], unit = "ward"): Stretch[] {
  return [{ from: at("2026-01-01T00:00:00Z"), unit, zone, shifts }];
}
