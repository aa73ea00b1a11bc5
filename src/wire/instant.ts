/**
 * Instants and durations on the wire: RFC 3339 with an offset, and ISO 8601 durations made of whole
 * days, hours, minutes and seconds. Months and years are refused, having no fixed length; a day here
 * is 24 hours, whatever the clocks do.
 */

import { z } from "zod";
import { DAY } from "../time/calendar.js";
import { HOUR, type Instant, MINUTE, parseInstant, SECOND } from "../time/instant.js";
import { faultIssue } from "./fault.js";

/** The longest duration anything here takes. */
export const LONGEST = 31 * DAY;

const FIRST_YEAR = 1900;
const LAST_YEAR = 2199;

const WHY_NO_INSTANT = {
  "no-offset":
    'must carry an offset, such as "-06:00" or "Z": a local time alone happens twice on one night of the year.',
  "not-an-instant": "must be an instant of RFC 3339 that exists, such as 2026-03-04T07:00:00-06:00.",
  "finer-than-a-millisecond": "must not be finer than a millisecond.",
} as const;

export const InstantText = z
  .string()
  .check(({ value, issues }) => {
    const read = parseInstant(value);
    if (typeof read === "string") {
      issues.push(faultIssue(value, read, WHY_NO_INSTANT[read]));
      return;
    }
    const year = Number(value.slice(0, 4));
    if (year < FIRST_YEAR || year > LAST_YEAR) {
      const detail = `must lie in the years ${FIRST_YEAR} to ${LAST_YEAR}.`;
      issues.push(faultIssue(value, "out-of-range", detail));
    }
  })
  .meta({
    id: "Instant",
    format: "date-time",
    description: `An instant: RFC 3339 with an offset, to the millisecond at most, in the years ${FIRST_YEAR} to ${LAST_YEAR}.`,
    examples: ["2026-03-04T07:00:00-06:00"],
  });

/** The instant of a text that has been accepted; throws a RangeError on any other. */
export function readInstant(text: string): Instant {
  const read = parseInstant(text);
  if (typeof read === "string") throw new RangeError(`${read}: ${text}`);
  return read;
}

const ISO_DURATION = /^P(?=\d|T\d)(?:(\d{1,5})D)?(?:T(?=\d)(?:(\d{1,5})H)?(?:(\d{1,7})M)?(?:(\d{1,9})S)?)?$/;

/** Milliseconds of an ISO 8601 duration of whole days, hours, minutes and seconds; undefined for any other text. */
export function parseDuration(text: string): number | undefined {
  const parts = ISO_DURATION.exec(text);
  if (parts === null) return undefined;
  const [days, hours, minutes, seconds] = parts.slice(1).map((part) => Number(part ?? 0));
  return (days ?? 0) * DAY + (hours ?? 0) * HOUR + (minutes ?? 0) * MINUTE + (seconds ?? 0) * SECOND;
}

/** Milliseconds of a duration that has been accepted; throws a RangeError on any other. */
export function readDuration(text: string): number {
  const milliseconds = parseDuration(text);
  if (milliseconds === undefined) throw new RangeError(`not a duration: ${text}`);
  return milliseconds;
}

/** The ISO 8601 duration of whole seconds, in hours, minutes and seconds: 5,400,000 ms is PT1H30M. */
export function durationText(milliseconds: number): string {
  if (!Number.isSafeInteger(milliseconds) || milliseconds < 0 || milliseconds % SECOND !== 0) {
    throw new RangeError(`not a duration of whole seconds: ${milliseconds}`);
  }
  const hours = Math.floor(milliseconds / HOUR);
  const minutes = Math.floor((milliseconds % HOUR) / MINUTE);
  const seconds = (milliseconds % MINUTE) / SECOND;
  const text = `${hours ? `${hours}H` : ""}${minutes ? `${minutes}M` : ""}${seconds ? `${seconds}S` : ""}`;
  return `PT${text || "0S"}`;
}

function duration(shortest: number, says: { id: string; description: string; examples: string[] }) {
  return z
    .string()
    .check(({ value, issues }) => {
      const milliseconds = parseDuration(value);
      if (milliseconds === undefined) {
        const detail =
          "must be a duration of whole days, hours, minutes and seconds, such as PT8H or PT1H30M.";
        issues.push(faultIssue(value, "wrong-form", detail));
      } else if (milliseconds < shortest || milliseconds > LONGEST) {
        const detail = `must be ${durationText(shortest)} at least and 31 days at most.`;
        issues.push(faultIssue(value, "out-of-range", detail));
      }
    })
    .meta({ ...says, format: "duration", pattern: ISO_DURATION.source });
}

/** How long something is to take: a second at least. */
export const Duration = duration(SECOND, {
  id: "Duration",
  description:
    "An ISO 8601 duration of whole days (24 h), hours, minutes and seconds: one second to 31 days. No years, months or weeks.",
  examples: ["PT8H", "PT30M", "PT1H30M"],
});

/** After how long something is worth a finding: none at all is allowed. */
export const Delay = duration(0, {
  id: "Delay",
  description:
    "An ISO 8601 duration of whole days (24 h), hours, minutes and seconds: PT0S to 31 days. No years, months or weeks.",
  examples: ["PT15M", "PT2H"],
});
