/** Words of a call that stand for more than themselves: each read, or refused with how it must look. */

import { InvalidArgumentError } from "commander";
import { type Instant, instant, parseInstant } from "../time/instant.js";
import { Key, text } from "../wire/text.js";

export function instantArgument(given: string): Instant {
  const parsed = parseInstant(given);
  if (typeof parsed === "number") return parsed;
  throw new InvalidArgumentError("It must be RFC 3339 with an offset, such as 2026-03-04T10:00:00-06:00.");
}

const Name = text(200, "The name of a caller.");

/** What a caller is called, in one line: it stands beside everything they record. */
export function nameArgument(given: string): string {
  if (Name.safeParse(given).success && !given.includes("\n")) return given;
  throw new InvalidArgumentError("It must be 1 to 200 characters in one line, and not blank.");
}

function unitArgument(given: string): string {
  if (Key.safeParse(given).success) return given;
  throw new InvalidArgumentError("It must be 1 to 64 letters, digits, dots, underscores or hyphens.");
}

/** One unit more of those that were named before it. */
export function unitsArgument(given: string, before: readonly string[] | undefined): string[] {
  return [...new Set([...(before ?? []), unitArgument(given)])];
}

const DAYS = /^P([1-9]\d{0,3})D$/;

/** An instant, or a number of days from now, such as P90D. */
export function expiryArgument(given: string): Instant {
  const days = DAYS.exec(given)?.[1];
  return days === undefined ? instantArgument(given) : instant(Date.now() + Number(days) * 86_400_000);
}

/** A digest as answers and verification show it. */
export function digestArgument(given: string): string {
  if (/^[0-9a-f]{64}$/.test(given)) return given;
  throw new InvalidArgumentError("It must be a digest: 64 hexadecimal digits in lower case.");
}
