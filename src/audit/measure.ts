/**
 * A measure of the audit: one number, or yes or no, of one encounter's part of a shift, with its definition
 * beside it. Over the unit a measure is also n of N: of how many encounters it can be told, and how many of
 * those it counts.
 */

import type { Audited } from "./audited.js";

/**
 * What the values of a measure are: whole microlitres, milliseconds, a number of things, yes or no, or an
 * instant. Null is of an encounter of which the measure cannot be told.
 */
export type Value = number | boolean | null;
export type Form = "volume" | "duration" | "count" | "yes-no" | "instant";

/** What values are answered in. */
export const UNITS = {
  volume: "mL",
  duration: "min",
  count: "count",
  "yes-no": "yes/no",
  instant: "instant",
} as const satisfies Readonly<Record<Form, string>>;

export interface Measure {
  /** Such as `unknown-minutes`: how it is named in a query, an answer and a table. */
  readonly key: string;
  readonly label: string;
  readonly form: Form;
  /** What is measured, in a sentence or two. */
  readonly definition: string;
  /** Of which encounters it can be told, and which of those are counted: what n of N says. */
  readonly counting: string;
  /** How the unit's own value is made of the encounters'. */
  readonly over: "sum" | "most" | null;
  readonly take: (audited: Audited) => Value;
}

/** Whether an encounter of this value is one of the n; null where it is none of the N. */
export function isCounted({ form }: Pick<Measure, "form">, value: Value): boolean | null {
  if (value === null) return null;
  if (form === "yes-no") return value === true;
  return form === "instant" || Number(value) > 0;
}

/** A measure over a unit. */
export interface OverUnit {
  readonly n: number;
  readonly of: number;
  /** The sum, or the most, of the values there are; null where there is none, or none can be made. */
  readonly value: number | null;
}

export function overUnit(measure: Measure, values: readonly Value[]): OverUnit {
  const told = values.filter((value) => value !== null);
  const numbers = told.map(Number);
  const made = measure.over === null || told.length === 0 ? null : madeOf(measure.over, numbers);
  return { n: told.filter((value) => isCounted(measure, value)).length, of: told.length, value: made };
}

function madeOf(over: "sum" | "most", values: readonly number[]): number {
  return over === "sum" ? values.reduce((sum, value) => sum + value, 0) : Math.max(...values);
}
