/** What stands beside the balance of body weight: its change, and the share of it that was gained. Nothing is corrected. */

import { type BodyWeight, kilograms } from "../infusion/body-weight.js";
import type { Placed } from "../infusion/entry.js";
import { inMillilitres, type Volume } from "../infusion/quantity.js";
import { decimal, dividedBy, ratio, times } from "../infusion/ratio.js";
import type { Instant } from "../time/instant.js";

export interface Weighing {
  readonly entry: string;
  readonly at: Instant;
  readonly weight: BodyWeight;
}

/** The weights known by an instant, in order, that of the admission among them. */
export function weighings(entries: readonly Placed[], by: Instant): Weighing[] {
  return entries.flatMap(({ id, entry }): Weighing[] => {
    if (entry.at > by || (entry.kind !== "weight-measured" && entry.kind !== "admitted")) return [];
    return entry.weight === undefined ? [] : [{ entry: id, at: entry.at, weight: entry.weight }];
  });
}

/** What the stay is measured against: the last weight by the admission, that of the admission itself; else the first. */
export function weightAtAdmission(weights: readonly Weighing[], admittedAt: Instant): Weighing | undefined {
  return weights.findLast(({ at }) => at <= admittedAt) ?? weights[0];
}

/** A litre weighs a kilogram: the net as a share of a weight, in per cent to a hundredth. */
export function shareOfWeight(net: Volume, weight: BodyWeight): number {
  const litres = dividedBy(inMillilitres(net), ratio(1_000));
  return decimal(times(dividedBy(litres, kilograms(weight)), ratio(100)), 2);
}

/** By how much a weight changed, in kilograms to the gram. */
export function weightChange(from: BodyWeight, to: BodyWeight): number {
  const [a, b] = [kilograms(from), kilograms(to)];
  return decimal(ratio(b.n * a.d - a.n * b.d, a.d * b.d), 3);
}
