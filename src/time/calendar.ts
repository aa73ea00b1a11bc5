/**
 * Dates and clock times as numbers and as text, without any zone. A day is numbered from 1970-01-01
 * as 0; a clock reading is whole milliseconds from 1970-01-01T00:00 **on the clock it was read from**,
 * so that it falls on day `Math.floor(reading / DAY)`.
 */

import { HOUR, MINUTE, parseInstant } from "./instant.js";

export const DAY = 24 * HOUR;

/** The date of a day: `2026-03-04`. */
export function dateText(day: number): string {
  return new Date(day * DAY).toISOString().slice(0, 10);
}

/** The number of the day with a date; undefined for what is no date, such as `2026-02-30`. */
export function dayNumber(date: string): number | undefined {
  // RFC 3339 already refuses dates that are not in the calendar, and a clock at UTC has no jumps.
  const midnight = parseInstant(`${date}T00:00:00Z`);
  return typeof midnight === "string" ? undefined : midnight / DAY;
}

/** The hour and minute of a clock reading: `07:00`. */
export function clockText(reading: number): string {
  return new Date(reading).toISOString().slice(11, 16);
}

/** The time of day `07:00` in milliseconds from midnight; undefined for what is no time of day. */
export function timeOfDay(text: string): number | undefined {
  const parts = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(text);
  return parts === null ? undefined : Number(parts[1]) * HOUR + Number(parts[2]) * MINUTE;
}

/** An offset from UTC in the whole minutes of RFC 3339: `-06:00`, `+05:45`, and `+00:00` for none. */
export function offsetText(offset: number): string {
  const minutes = Math.round(Math.abs(offset) / MINUTE);
  const sign = offset < 0 && minutes > 0 ? "-" : "+";
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return `${sign}${String(hours).padStart(2, "0")}:${String(rest).padStart(2, "0")}`;
}
