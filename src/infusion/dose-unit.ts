/**
 * The unit of a dose, taken apart exactly: what is dosed, whether per body weight, whether per time,
 * and the ratio to base units. Reads UCUM's own grammar (`ug/kg/min`, `mg/(kg.h)`, `ug.kg-1.min-1`,
 * `mL/(8.h)`) over the few units a dose is charted in.
 *
 * Invariant: a ratio here is exact. The UCUM library multiplies in binary floating point and reduces
 * `ug/kg/min` to a bare frequency, mass cancelling mass, so it only words refusals and, in the tests,
 * judges this table. A gram above the line is drug, below it is body weight.
 */

import { POUND } from "./body-weight.js";
import { type DoseFault, doseFault } from "./dose-fault.js";
import { dividedBy, ONE, type Ratio, ratio, times } from "./ratio.js";
import { isUcum, respelled } from "./ucum.js";
import { type Term, termsOf } from "./unit-terms.js";

/**
 * What a dose is of. Arbitrary units (`[iU]`) convert to nothing else; `eq` is a mole of charge, whose
 * valence a unit does not tell; so none of these is ever converted into another.
 */
export type Substance = "mass" | "arbitrary-unit" | "amount" | "equivalent" | "volume";

export interface DoseUnit {
  /** The UCUM code. */
  readonly code: string;
  readonly substance: Substance;
  readonly perWeight: boolean;
  readonly perTime: boolean;
  /** One of this unit in g, [iU], mol, eq or mL; per kg where `perWeight`, per h where `perTime`. */
  readonly factor: Ratio;
}

const PREFIXES: ReadonlyMap<string, Ratio> = new Map([
  ["M", ratio(1_000_000)],
  ["k", ratio(1_000)],
  ["", ONE],
  ["d", ratio(1, 10)],
  ["c", ratio(1, 100)],
  ["m", ratio(1, 1_000)],
  ["u", ratio(1, 1_000_000)],
  ["n", ratio(1, 1_000_000_000)],
  ["p", ratio(1, 1_000_000_000_000)],
]);

/**
 * What is dosed, with the prefixes it is dosed in. Others are left out on purpose: `ML` and `Mg` are a
 * megalitre and a tonne, and a millilitre and a milligram typed in capitals.
 */
const DOSED: readonly { unit: string; substance: Substance; prefixes: string[]; base: Ratio }[] = [
  { unit: "g", substance: "mass", prefixes: ["", "c", "m", "u", "n", "p"], base: ONE },
  { unit: "[iU]", substance: "arbitrary-unit", prefixes: ["M", "k", "", "m", "u"], base: ONE },
  { unit: "mol", substance: "amount", prefixes: ["", "m", "u", "n", "p"], base: ONE },
  { unit: "eq", substance: "equivalent", prefixes: ["", "m", "u"], base: ONE },
  { unit: "L", substance: "volume", prefixes: ["", "d", "c", "m", "u", "n"], base: ratio(1_000) },
];

const AMOUNTS: ReadonlyMap<string, { substance: Substance; factor: Ratio }> = new Map(
  DOSED.flatMap(({ unit, substance, prefixes, base }) =>
    prefixes.map((prefix) => {
      const factor = times(PREFIXES.get(prefix) as Ratio, base);
      return [prefix + unit, { substance, factor }] as const;
    }),
  ),
);

/** Body weights in kg. */
const WEIGHTS: ReadonlyMap<string, Ratio> = new Map([
  ["kg", ONE],
  ["g", ratio(1, 1_000)],
  ["[lb_av]", POUND],
]);

/** Times in hours. */
const TIMES: ReadonlyMap<string, Ratio> = new Map([
  ["s", ratio(1, 3_600)],
  ["min", ratio(1, 60)],
  ["h", ONE],
  ["d", ratio(24)],
  ["wk", ratio(168)],
]);

/**
 * Reads a dose's unit in UCUM or a usual ward spelling of it.
 * A fault's code is always `dose-unit-unknown`; its sentence says what to write instead.
 */
export function parseDoseUnit(text: string): DoseUnit | DoseFault {
  const code = respelled(text);
  const terms = termsOf(code);
  return (terms && unitOf(code, terms)) ?? doseFault("dose-unit-unknown", refusal(text, code));
}

/** One amount above the line; at most one weight and one time below it; numbers but 0 anywhere. */
function unitOf(code: string, terms: readonly Term[]): DoseUnit | undefined {
  let substance: Substance | undefined;
  let perWeight = false;
  let perTime = false;
  let factor = ONE;
  for (const term of terms) {
    const amount = term.power === 1 ? AMOUNTS.get(term.code) : undefined;
    const weight = term.power === -1 ? WEIGHTS.get(term.code) : undefined;
    const time = term.power === -1 ? TIMES.get(term.code) : undefined;
    const value = amount?.factor ?? weight ?? time ?? numberOf(term.code);
    if (value === undefined || (amount && substance) || (weight && perWeight) || (time && perTime)) {
      return undefined;
    }
    substance ??= amount?.substance;
    perWeight ||= weight !== undefined;
    perTime ||= time !== undefined;
    factor = term.power === 1 ? times(factor, value) : dividedBy(factor, value);
  }
  return substance && { code, substance, perWeight, perTime, factor };
}

function numberOf(code: string): Ratio | undefined {
  return /^\d*[1-9]\d*$/.test(code) ? ratio(BigInt(code)) : undefined;
}

/** One sentence on why a unit is none of a dose, and what to write. */
function refusal(text: string, code: string): string {
  const shown = `"${text.length > 64 ? `${text.slice(0, 64)}…` : text}"`;
  const words = code.match(/[A-Za-z]*\[\w+\]|[A-Za-z]+/g) ?? [];
  const enzyme = words.find((word) => /^[A-Za-z]?U$/.test(word));
  if (enzyme !== undefined) {
    const meant = `${enzyme.slice(0, -1)}[iU]`;
    return `${shown} is in enzyme units, since U is 1 umol/min in UCUM; write ${meant} for international units.`;
  }
  if (words.some((word) => /^(\[drp\]|gtts?|drops?)$/i.test(word))) {
    return `${shown} counts drops, which are no dose: send them as a drip rate, read with the set's drop factor.`;
  }
  return isUcum(code)
    ? `${shown} is a UCUM unit, but none that a dose can be turned into a rate from; capitals count (mL, not ML).`
    : `${shown} is not a UCUM unit; doses are written like ug/kg/min, mg/h, [iU]/kg/h, mmol/h or mL/h.`;
}
