/**
 * Rates and volumes, exact. A rate is whole microlitres per hour, a time whole milliseconds, so a
 * delivered volume is a whole number of ticks, one tick being a microlitre divided by the
 * milliseconds of an hour. Nothing here divides except `shownAs`, which rounds once, at the edge.
 *
 * Volumes are BigInt: ticks leave the safe integers of a double at 2,502 L.
 */

import type { Step } from "../conventions/settings.js";
import { type Ratio, ratio } from "./ratio.js";

declare const rateBrand: unique symbol;
declare const volumeBrand: unique symbol;

/** Whole microlitres per hour, above zero. */
export type Rate = number & { readonly [rateBrand]: true };

/** Ticks: 1 microlitre = 3,600,000 ticks. May be negative (a difference, an overdrawn bag). */
export type Volume = bigint & { readonly [volumeBrand]: true };

const TICKS_PER_MICROLITRE = 3_600_000n;

export const NOTHING = 0n as Volume;

/** A rate of whole microlitres per hour; throws a RangeError unless it is a whole number above 0. */
export function rateOf(microlitresPerHour: number): Rate {
  if (!Number.isSafeInteger(microlitresPerHour) || microlitresPerHour <= 0) {
    throw new RangeError(`not a rate in whole microlitres per hour: ${microlitresPerHour}`);
  }
  return microlitresPerHour as Rate;
}

/** A volume of whole microlitres (any sign); throws a RangeError unless it is a whole number. */
export function volumeOf(microlitres: number): Volume {
  if (!Number.isSafeInteger(microlitres)) throw new RangeError(`not whole microlitres: ${microlitres}`);
  return (BigInt(microlitres) * TICKS_PER_MICROLITRE) as Volume;
}

/** What a flow at `rate` delivers in `milliseconds`, exactly. */
export function delivered(rate: Rate, milliseconds: number): Volume {
  const product = rate * milliseconds;
  return (Number.isSafeInteger(product) ? BigInt(product) : BigInt(rate) * BigInt(milliseconds)) as Volume;
}

/** The whole milliseconds after which a flow at `rate` has delivered at least `volume` (0 if not above 0). */
export function timeToDeliver(rate: Rate, volume: Volume): number {
  if (volume <= 0n) return 0;
  const perMillisecond = BigInt(rate);
  return Number((volume + perMillisecond - 1n) / perMillisecond);
}

export function plus(a: Volume, b: Volume): Volume {
  return (a + b) as Volume;
}

export function minus(a: Volume, b: Volume): Volume {
  return (a - b) as Volume;
}

export function lesser(a: Volume, b: Volume): Volume {
  return a < b ? a : b;
}

export function greater(a: Volume, b: Volume): Volume {
  return a > b ? a : b;
}

/** A share of a volume in thousandths, such as an overfill allowance: exact for whole microlitres. */
export function thousandths(volume: Volume, share: number): Volume {
  return ((volume * BigInt(share)) / 1_000n) as Volume;
}

/** A share of a volume in whole per cent. */
export function percentOf(volume: Volume, percent: number): Volume {
  return ((volume * BigInt(percent)) / 100n) as Volume;
}

/**
 * The nearest multiple of `step` to a volume, halves away from zero, in whole microlitres: the one
 * rounding of the ledger. Away from zero, so that a volume and its negative look alike.
 */
export function shownAs(volume: Volume, step: Step): number {
  const size = BigInt(step) * TICKS_PER_MICROLITRE;
  const magnitude = volume < 0n ? -volume : volume;
  const multiples = (2n * magnitude + size) / (2n * size);
  return Number(volume < 0n ? -multiples : multiples) * step;
}

/** A volume in millilitres, unrounded. */
export function inMillilitres(volume: Volume): Ratio {
  return ratio(volume, TICKS_PER_MICROLITRE * 1_000n);
}

/** The volume in ticks as decimal text, and back: how checkpoints keep it exactly. */
export function toTicks(volume: Volume): string {
  return volume.toString();
}

export function fromTicks(text: string): Volume {
  return BigInt(text) as Volume;
}
