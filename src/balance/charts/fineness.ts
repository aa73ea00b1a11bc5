/**
 * How finely a chart is written: two numbers are taken for the same only within what rounding can do to them,
 * since a wider net catches explanations by chance.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { LedgerItem } from "./chart.js";

const STEPS: readonly Microlitres[] = [10_000, 5_000, 1_000];
const FINEST: Microlitres = 100;
/** Fewer figures than this may be round by chance. */
const ENOUGH = 12;
const NEARLY_ALL = 0.9;
/** Of a sum of so many rounded numbers, in steps times the square root: twice the usual deviation. */
const ROUNDING = 0.6;

/** The step a chart is rounded to: the coarsest of 10, 5, 1 and 0.1 mL that nearly all its figures are multiples of. */
export function stepOfChart(volumes: readonly Microlitres[]): Microlitres {
  const written = volumes.filter((volume) => volume !== 0);
  const steps = written.length < ENOUGH ? STEPS.filter((step) => step <= 1_000) : STEPS;
  const fits = (step: Microlitres) => written.filter((volume) => volume % step === 0).length;
  return steps.find((step) => fits(step) >= NEARLY_ALL * written.length) ?? FINEST;
}

/** How far a figure may be off by rounding alone, where `rounded` of the numbers in it were rounded. */
export function fitOf(step: Microlitres, rounded: number): Microlitres {
  return step / 2 + Math.round(ROUNDING * step * Math.sqrt(rounded));
}

/** Of the items in a figure, those that do not fall on the step of the chart. */
export function roundedAmong(items: readonly LedgerItem[], step: Microlitres): number {
  return items.filter(({ volume }) => volume % step !== 0).length;
}

/** Within how much nine in ten of the matching figures lie; 0 where too few match to say. */
export function noiseOf(differences: readonly Microlitres[]): Microlitres {
  if (differences.length < ENOUGH) return 0;
  const sorted = differences.map(Math.abs).sort((a, b) => a - b);
  return sorted[Math.floor(NEARLY_ALL * (sorted.length - 1))]!;
}
