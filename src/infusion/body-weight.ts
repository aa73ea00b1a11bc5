/** Body weights, exact: whole thousandths of the unit they were written down in. */

import { ONE, type Ratio, ratio, times } from "./ratio.js";

export interface BodyWeight {
  /** Whole thousandths of the unit (71.25 kg is 71,250). */
  readonly value: number;
  readonly unit: "kg" | "g" | "lb";
}

/** The avoirdupois pound in kg, by definition (international yard and pound agreement, 1959). */
export const POUND: Ratio = ratio(45_359_237, 100_000_000);

const KILOGRAMS: Readonly<Record<BodyWeight["unit"], Ratio>> = { kg: ONE, g: ratio(1, 1_000), lb: POUND };

/** A body weight in kg, unrounded. */
export function kilograms(weight: BodyWeight): Ratio {
  return times(ratio(weight.value, 1_000), KILOGRAMS[weight.unit]);
}
