/**
 * Where an exact ratio becomes a rate: rounded once, half up, to the step the channel can be set in.
 * Invariant: a rate made here is a whole number of steps, above zero and exactly countable.
 */

import { type DoseFault, doseFault } from "./dose-fault.js";
import type { Microlitres } from "./entry.js";
import { type Rate, rateOf } from "./quantity.js";
import { nearestMultiple, type Ratio, ratio } from "./ratio.js";

/** Microlitres per hour: 0.1 mL/h, the step of a channel that names none (common practice). */
export const DEFAULT_RATE_STEP = 100;

const MILLISECONDS_PER_HOUR = 3_600_000n;

/**
 * A ratio of microlitres per hour as a rate in whole steps (microlitres per hour), half up.
 * Faults: `rate-rounds-to-zero`, `rate-out-of-range`.
 */
export function steppedRate(microlitresPerHour: Ratio, step: number): Rate | DoseFault {
  const rate = nearestMultiple(microlitresPerHour, step);
  if (rate === 0n) {
    const detail = `The rate comes to less than half of the step of ${millilitres(step)} mL/h, which would be no flow.`;
    return doseFault("rate-rounds-to-zero", detail);
  }
  if (rate > BigInt(Number.MAX_SAFE_INTEGER)) {
    return doseFault("rate-out-of-range", "The rate is beyond anything that can be counted in microlitres.");
  }
  return rateOf(Number(rate));
}

/**
 * The rate at which a volume (whole microlitres) is in after a duration (whole milliseconds).
 * Faults: those of `steppedRate`; a duration of nothing is `rate-out-of-range`.
 */
export function rateOver(
  volume: Microlitres,
  milliseconds: number,
  step: number = DEFAULT_RATE_STEP,
): Rate | DoseFault {
  if (milliseconds <= 0) {
    return doseFault("rate-out-of-range", "A volume over no time at all has no rate.");
  }
  return steppedRate(ratio(BigInt(volume) * MILLISECONDS_PER_HOUR, milliseconds), step);
}

/**
 * Whether a rate sent beside a dose is further from what the dose comes to than one step: the rate is
 * what flows, and the disagreement is for a person to look at.
 */
export function doseRateDisagrees(sent: Rate, ofDose: Rate, step: number = DEFAULT_RATE_STEP): boolean {
  return Math.abs(sent - ofDose) > step;
}

/** Whole microlitres as millilitres in decimal digits. */
function millilitres(microlitres: number): string {
  const digits = String(microlitres).padStart(4, "0");
  return `${digits.slice(0, -3)}.${digits.slice(-3)}`.replace(/\.?0+$/, "");
}
