/**
 * One thing wrong with a body: where, a code that clients switch on, and a sentence for people.
 * The codes listed here are the whole vocabulary; the API description lists the same.
 */

import type { z } from "zod";

export const FAULT_CODES = [
  "required",
  "unknown-field",
  "wrong-type",
  "out-of-range",
  "too-many-decimals",
  "no-offset",
  "not-an-instant",
  "finer-than-a-millisecond",
  "unknown-kind",
  "not-one-of",
  "wrong-form",
  "too-long",
  "inconsistent",
  "exactly-one-of",
  // Of sense: well written, and still not to be recorded.
  "repeated-id",
  "unknown-entry",
  "not-correctable",
  "other-kind",
  "key-in-use",
  "too-early",
  "too-far-ahead",
  "not-a-shift-start",
  "unknown-unit",
  // Of a chart: a span that is not there, a chart that was never kept, a figure that stands twice.
  "unknown-span",
  "unknown-chart",
  "repeated-figure",
  // Of a dose, drops per minute or a duration that cannot be turned into a rate.
  "dose-unit-unknown",
  "dose-without-weight",
  "dose-without-concentration",
  "dose-unit-mismatch",
  "dose-not-a-rate",
  "dose-not-an-amount",
  "rate-rounds-to-zero",
  "volume-rounds-to-zero",
  "rate-out-of-range",
  "volume-out-of-range",
] as const;
export type FaultCode = (typeof FAULT_CODES)[number];

export interface Fault {
  /** A JSON Pointer in its URI fragment form (RFC 6901 section 6), such as `#/entries/0/rate`. */
  readonly pointer: string;
  readonly code: FaultCode;
  readonly detail: string;
}

export type Path = readonly PropertyKey[];

/**
 * An issue of our own for a zod check; `message` goes on after the name of the field ("must be …").
 * With `goOn` the value is still usable, so that further checks run; without it the checks of the
 * object around it, which would read the value, are left out.
 */
export function faultIssue(
  input: unknown,
  code: FaultCode,
  message: string,
  options: { readonly goOn?: boolean; readonly path?: PropertyKey[] } = {},
): z.core.$ZodRawIssue {
  const { goOn = false, path } = options;
  return { code: "custom", input, message, params: { fault: code }, continue: goOn, ...(path && { path }) };
}

/** The JSON Pointer of a path as a URI fragment; `~` and `/` of a key are escaped as RFC 6901 says. */
export function pointerOf(path: Path): string {
  return `#${path.map((key) => `/${escaped(String(key))}`).join("")}`;
}

function escaped(key: string): string {
  if (/^[\w.-]*$/.test(key)) return key;
  // Half a surrogate pair has no UTF-8 form to percent-encode.
  const text = key
    .replaceAll("~", "~0")
    .replaceAll("/", "~1")
    .replace(/\p{Surrogate}/gu, "\ufffd");
  return encodeURIComponent(text);
}

/** What a sentence calls the value at a path: the last name on it, quoted. */
export function nameOf(path: Path): string {
  const last = path.at(-1);
  if (last === undefined) return "The body";
  return typeof last === "number" ? `Item ${last} of ${nameOf(path.slice(0, -1))}` : `"${String(last)}"`;
}
