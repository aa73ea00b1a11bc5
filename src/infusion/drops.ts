/**
 * Drops and rates. A set's drop factor is how many of its drops make a millilitre (10, 15, 20 or 60);
 * UCUM's `[drp]` is fixed at a twentieth of a millilitre and has no part in this.
 *
 * Invariant: a counted drip rate is rounded once, to a whole microlitre per hour, so that counting
 * again gives the drops that were counted.
 */

import type { DoseFault } from "./dose-fault.js";
import type { Rate } from "./quantity.js";
import { steppedRate } from "./rate-step.js";
import { nearestMultiple, ratio } from "./ratio.js";

/**
 * The rate of a gravity set: drops per minute × 60 ÷ drop factor, half up to a microlitre per hour.
 * @param thousandths whole thousandths of a drop per minute
 * @param dropFactor whole drops per millilitre, above zero
 * Faults: `rate-rounds-to-zero`, `rate-out-of-range`.
 */
export function rateForDrops(thousandths: number, dropFactor: number): Rate | DoseFault {
  // A thousandth of a drop and a thousandth of a millilitre cancel.
  return steppedRate(ratio(BigInt(thousandths) * 60n, dropFactor), 1);
}

/** Whole drops per minute to count for a rate, half up; 0 where it is less than half a drop. */
export function dropsForRate(rate: Rate, dropFactor: number): number {
  return Number(nearestMultiple(ratio(BigInt(rate) * BigInt(dropFactor), 60_000), 1));
}
