/**
 * Instants: whole milliseconds since 1970-01-01T00:00:00Z, and half-open periods of them.
 * The only way to read or write one is RFC 3339 with an offset, since a bare local time
 * happens twice on one night of the year.
 */

declare const instantBrand: unique symbol;

/** Whole milliseconds since the Unix epoch. */
export type Instant = number & { readonly [instantBrand]: true };

/** A half-open span of time: `start` belongs to it, `end` does not. */
export interface Period {
  readonly start: Instant;
  readonly end: Instant;
}

export const SECOND = 1_000;
export const MINUTE = 60_000;
export const HOUR = 3_600_000;

/** Makes an instant of whole milliseconds; throws a RangeError on anything else. */
export function instant(milliseconds: number): Instant {
  if (!Number.isSafeInteger(milliseconds)) throw new RangeError(`not a whole millisecond: ${milliseconds}`);
  return milliseconds as Instant;
}

/** The instant `milliseconds` after `from` (before it, when negative). */
export function later(from: Instant, milliseconds: number): Instant {
  return instant(from + milliseconds);
}

export function earliest(...instants: readonly Instant[]): Instant {
  return Math.min(...instants) as Instant;
}

export function latest(...instants: readonly Instant[]): Instant {
  return Math.max(...instants) as Instant;
}

const RFC3339 =
  /^(\d{4})-(\d{2})-(\d{2})[Tt](\d{2}):(\d{2}):(\d{2})(?:\.(\d+))?([Zz]|([+-])(\d{2}):(\d{2}))$/;

export type InstantFault = "not-an-instant" | "no-offset" | "finer-than-a-millisecond";

/**
 * Reads an RFC 3339 date-time with an offset.
 * Returns why it cannot be read instead of throwing: a bare local time is `no-offset`, digits
 * beyond the millisecond are `finer-than-a-millisecond`, anything else `not-an-instant`.
 */
export function parseInstant(text: string): Instant | InstantFault {
  if (text !== lastRead.text) lastRead = { text, as: read(text) };
  return lastRead.as;
}

/** The instant of one entry is read again and again while it is judged: its form, its sense, its place. */
let lastRead: { text: string; as: Instant | InstantFault } = { text: "", as: "not-an-instant" };

function read(text: string): Instant | InstantFault {
  const parts = RFC3339.exec(text);
  if (parts === null) {
    return /^\d{4}-\d{2}-\d{2}[Tt ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?$/.test(text) ? "no-offset" : "not-an-instant";
  }
  const [, year, month, day, hour, minute, second, fraction = ""] = parts;
  const [y, mo, d, h, mi, s] = [year, month, day, hour, minute, second].map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  if (fraction.slice(3).replaceAll("0", "") !== "") return "finer-than-a-millisecond";
  const utc = new Date(0);
  utc.setUTCFullYear(y, mo - 1, d);
  utc.setUTCHours(h, mi, s, Number(fraction.slice(0, 3).padEnd(3, "0")));
  const sameDate = utc.getUTCFullYear() === y && utc.getUTCMonth() === mo - 1 && utc.getUTCDate() === d;
  if (!sameDate || h > 23 || mi > 59 || s > 59) return "not-an-instant";
  const [offsetHours, offsetMinutes] = [Number(parts[10] ?? 0), Number(parts[11] ?? 0)];
  if (offsetHours > 23 || offsetMinutes > 59) return "not-an-instant";
  const offset = (parts[9] === "-" ? -1 : 1) * (offsetHours * HOUR + offsetMinutes * MINUTE);
  return instant(utc.getTime() - offset);
}
