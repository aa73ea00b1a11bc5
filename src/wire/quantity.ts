/**
 * Numbers on the wire. A quantity is a JSON number with a stated count of decimals, judged on the
 * number's shortest decimal form and never rounded; inside it is a whole number of the smallest
 * unit, made from the decimal text. Nothing here multiplies a fraction in floating point.
 */

import { z } from "zod";
import type { Microlitres } from "../infusion/entry.js";
import { type Rate, rateOf } from "../infusion/quantity.js";
import { faultIssue } from "./fault.js";

/** The most a single volume (mL) or rate (mL/h) may be. */
const MOST = 100_000;
/** The most a dose, an additive or a count of drug units may be. */
const MOST_AMOUNT = 1_000_000_000;

/** How many decimals the shortest decimal form of a finite number has: 0.1 has 1, 1e-7 has 7, 1e21 has 0. */
export function decimalsOf(value: number): number {
  const [mantissa = "", exponent = "0"] = String(value).split("e");
  const dot = mantissa.indexOf(".");
  const fraction = dot === -1 ? 0 : mantissa.length - dot - 1;
  return Math.max(0, fraction - Number(exponent));
}

/**
 * The number times ten to the power of `places`, exactly: scaled(0.3, 3) is 300. Throws a RangeError
 * when the number has more decimals than that, or the result leaves the safe integers.
 */
export function scaled(value: number, places: number): number {
  const text = String(value);
  const [whole = "", fraction = ""] = text.split(".");
  const digits = Number(whole + fraction.padEnd(places, "0"));
  if (text.includes("e") || fraction.length > places || !Number.isSafeInteger(digits)) {
    throw new RangeError(`not a number of at most ${places} decimals: ${text}`);
  }
  // A negative zero has no text of its own, and must not come out as one.
  return digits + 0;
}

/** Whole microlitres of a volume in mL; throws a RangeError beyond three decimals. */
export function microlitres(millilitres: number): Microlitres {
  return scaled(millilitres, 3);
}

/** A volume in mL, as shown on the wire, of whole microlitres: the quotient's nearest double prints exactly. */
export function millilitres(microlitres: Microlitres): number {
  return microlitres / 1_000;
}

/** A rate of mL/h as whole microlitres per hour; throws a RangeError beyond three decimals or unless above 0. */
export function rate(millilitresPerHour: number): Rate {
  return rateOf(scaled(millilitresPerHour, 3));
}

/** A check that a number has at most `places` decimals; more are refused, since rounding would invent a fact. */
export function atMostDecimals(places: number): z.core.CheckFn<number> {
  return ({ value, issues }) => {
    const found = decimalsOf(value);
    if (found > places) {
      const detail = `takes at most ${places} decimals; this has ${found}.`;
      issues.push(faultIssue(value, "too-many-decimals", detail, { goOn: true }));
    }
  };
}

export const Volume = z
  .number()
  .min(0)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "Volume",
    description:
      "A volume in mL, 0 to 100,000, with at most 3 decimals (judged on the shortest decimal form; more are refused, never rounded).",
    examples: [250, 162.5, 0.125],
  });

export const LabelVolume = z
  .number()
  .gt(0)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "VolumeAboveZero",
    description: "A volume in mL, above 0 and at most 100,000, with at most 3 decimals; more are refused.",
    examples: [1000, 50],
  });

export const SignedVolume = z
  .number()
  .min(-MOST)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "SignedVolume",
    description: "A change of volume in mL, -100,000 to 100,000, with at most 3 decimals; more are refused.",
    examples: [-20, 12.5],
  });

export const RateNumber = z
  .number()
  .gt(0)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "Rate",
    description: "A rate in mL/h, above 0 and at most 100,000, with at most 3 decimals; more are refused.",
    examples: [75, 12.5, 0.4],
  });

export const Amount = z
  .number()
  .gt(0)
  .max(MOST_AMOUNT)
  .check(atMostDecimals(6))
  .meta({
    id: "Amount",
    description:
      "An amount or dose in the unit beside it, above 0 and at most 1,000,000,000, with at most 6 decimals; more are refused.",
    examples: [0.05, 25000],
  });

export const Weight = z
  .strictObject({
    value: z
      .number()
      .gt(0)
      .max(1_000_000)
      .check(atMostDecimals(3))
      .describe("The number, above 0 and at most 1,000,000, with at most 3 decimals; more are refused."),
    unit: z.enum(["kg", "g", "lb"]).describe("Kilograms, grams or pounds (avoirdupois)."),
  })
  .meta({ id: "Weight", description: "A body weight.", examples: [{ value: 72.4, unit: "kg" }] });
export type Weight = z.infer<typeof Weight>;

export const Grams = z
  .number()
  .min(0)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "Grams",
    description: "A mass in grams, 0 to 100,000, with at most 3 decimals; more are refused.",
    examples: [412.5],
  });
