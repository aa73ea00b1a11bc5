/** Query parameters that several routes share: pages of a list, the two coordinates, a period. */

import { z } from "zod";
import type { Asked, AsOf, PeriodAsked } from "../ledger/ledger.js";
import { faultIssue } from "../wire/fault.js";
import { InstantText, readInstant } from "../wire/instant.js";

const MOST_ITEMS = 1_000;
const USUAL_ITEMS = 100;

export const PAGE = {
  after: z
    .string()
    .max(200)
    .optional()
    .describe("Where the page begins: what the `next` of the page before says. Absent: at the beginning."),
  limit: z
    .int()
    .min(1)
    .max(MOST_ITEMS)
    .optional()
    .meta({ description: "The most items of one page, 1 to 1,000.", default: USUAL_ITEMS }),
};

export function limitOf({ limit }: { readonly limit?: number | undefined }): number {
  return limit ?? USUAL_ITEMS;
}

const SEQUENCE = /^\d{1,15}$/;

const AsOfText = z
  .string()
  .check((payload) => {
    if (SEQUENCE.test(payload.value) || InstantText.safeParse(payload.value).success) return;
    const detail = "must be a sequence (digits alone), or an instant of RFC 3339 with an offset.";
    payload.issues.push(faultIssue(payload.value, "wrong-form", detail));
  })
  .meta({
    description:
      "What is to be known: digits are a sequence of the encounter's chain; an instant is everything recorded by then, and is also what `until` is unless given. Absent: everything.",
    examples: ["14", "2026-03-04T12:00:00-06:00"],
  });

export const COORDINATES = {
  asOf: AsOfText.optional(),
  until: InstantText.optional().describe(
    "Up to when to compute. Absent: now; never later. Nothing is projected beyond it.",
  ),
};

export const SINCE = {
  since: AsOfText.describe(
    "The earlier moment: digits are a sequence of the encounter's chain; an instant is everything recorded by then.",
  ),
};

/** The earlier of two moments. */
export function sinceOf({ since }: { readonly since: string }): AsOf {
  return asOfOf(since);
}

type SentCoordinates = { readonly [Name in keyof typeof COORDINATES]?: string | undefined };

/** The coordinates as the ledger takes them; whether there is such a moment is for the ledger to say. */
export function coordinatesOf({ asOf, until }: SentCoordinates): Asked {
  return { asOf: asOf === undefined ? undefined : asOfOf(asOf), until: instantOf(until) };
}

function asOfOf(text: string): AsOf {
  return SEQUENCE.test(text) ? { sequence: Number(text) } : { recordedBy: readInstant(text) };
}

export function instantOf(text: string | undefined) {
  return text === undefined ? undefined : readInstant(text);
}

export const SHIFT = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}\/[A-Za-z0-9._-]{1,64}$/, {
    error: "must be the date on which the shift starts and its name, such as 2026-03-04/day.",
  })
  .meta({
    description: "A shift, by the date on which it starts and its name.",
    examples: ["2026-03-04/day"],
  });

export const PERIOD = {
  shift: SHIFT.optional(),
  day: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, { error: "must be a date, such as 2026-03-04." })
    .optional()
    .meta({
      description: "A day of the unit, by its date: from its first shift to the next day's.",
      examples: ["2026-03-04"],
    }),
  from: InstantText.optional().describe("The start of the period, with `to`."),
  to: InstantText.optional().describe("The end of the period, which is not part of it, with `from`."),
};

export const BY = {
  by: z.enum(["hour", "shift", "day", "whole"]).optional().meta({
    description:
      "What the period is divided into: hours of the unit's clocks (31 days at most), its shifts (366 at most), its days, or nothing.",
    default: "hour",
  }),
};

export const PRECISION = {
  precision: z
    .literal([0.001, 0.01, 0.1, 0.5, 1, 5, 10])
    .optional()
    .describe("The step in mL to which volumes are rounded. Absent: the unit's own setting."),
};

type SentPeriod = { readonly [Name in keyof typeof PERIOD]?: string | undefined };

/** A check that a query names its period in exactly one way. */
export function onePeriod({ value, issues }: z.core.ParsePayload<SentPeriod>): void {
  const { shift, day, from, to } = value;
  const ways = [shift, day, from ?? to].filter((way) => way !== undefined);
  const fault = (parameter: keyof SentPeriod, code: "exactly-one-of" | "required", message: string) =>
    issues.push(faultIssue(value, code, message, { path: [parameter] }));
  if (ways.length !== 1) {
    const detail = "must stand alone: a period is a shift, a day, or from and to, exactly one of the three.";
    fault(shift !== undefined || ways.length === 0 ? "shift" : "day", "exactly-one-of", detail);
  } else if (from !== undefined && to === undefined) {
    fault("to", "required", "is required with from.");
  } else if (to !== undefined && from === undefined) {
    fault("from", "required", "is required with to.");
  }
}

/** The period of a query that names one. */
export function periodOf({ shift, day, from, to }: SentPeriod): PeriodAsked {
  if (shift !== undefined) return { shift };
  if (day !== undefined) return { day };
  return { from: readInstant(from ?? ""), to: readInstant(to ?? "") };
}
