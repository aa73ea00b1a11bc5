/**
 * What is usual at the bedside, with how usual it is: round rates and volumes, lengths of interruptions,
 * times that something is charted at. Weights are estimates of ours; only their order of magnitude matters.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { type Rate, rateOf } from "../../infusion/quantity.js";
import { HOUR, type Instant, instant, MINUTE } from "../../time/instant.js";
import { LONGEST_LAPSE } from "./retelling.js";
import { normal } from "./supposed.js";

/** Volumes a bolus is given in. */
export const BOLUS_VOLUMES: readonly { volume: Microlitres; share: number }[] = inShares([
  ...[10, 20, 50, 100, 250, 500].map((mL) => ({ volume: mL * 1_000, weight: 4 })),
  ...[1, 2, 5, 25, 150, 200, 1_000].map((mL) => ({ volume: mL * 1_000, weight: 2 })),
  ...[3, 4, 15, 30, 40, 75, 300].map((mL) => ({ volume: mL * 1_000, weight: 1 })),
]);

/** Volumes and rates (whole microlitres, and per hour) that secondary infusions run with. */
export const SECONDARIES: readonly { volume: Microlitres; rate: Rate; share: number }[] = inShares(
  [50, 100, 150, 200, 250, 500].flatMap((mL) =>
    [25, 50, 75, 100, 125, 150, 200, 250, 300, 400]
      .map((rate) => ({ volume: mL * 1_000, rate: rateOf(rate * 1_000), hours: mL / rate }))
      .filter(({ hours }) => hours >= 0.2 && hours <= 5)
      .map(({ volume, rate, hours }) => ({
        volume,
        rate,
        weight: (mL === 50 || mL === 100 || mL === 250 ? 3 : 1) * (hours === 0.5 || hours === 1 ? 3 : 1),
      })),
  ),
);

/** How long flows are held for a procedure, a line that is blocked, an empty bag: three minutes to four hours. */
export const INTERRUPTIONS: readonly { milliseconds: number; share: number }[] = inShares(
  Array.from({ length: 238 }, (_, i) => i + 3).map((minutes) => ({
    milliseconds: minutes * MINUTE,
    weight: roundnessOfMinutes(minutes) / minutes,
  })),
);

/** How far a charted time is off, either way: a few minutes, up to an hour; an hour exactly is a slip of its own. */
export const LAPSES: readonly { milliseconds: number; share: number }[] = inShares(
  Array.from({ length: LONGEST_LAPSE / MINUTE }, (_, i) => i + 1).flatMap((minutes) => {
    const weight = roundnessOfMinutes(minutes) / (minutes + 5) + (minutes === 60 ? 0.5 : 0);
    return [
      { milliseconds: minutes * MINUTE, weight },
      { milliseconds: -minutes * MINUTE, weight },
    ];
  }),
);

function roundnessOfMinutes(minutes: number): number {
  return 1 + (minutes % 5 === 0 ? 4 : 0) + (minutes % 15 === 0 ? 6 : 0);
}

/** How often a rate is a multiple of so many microlitres per hour, of those of 20 mL/h and above; below, a tenth. */
const ROUND_RATES = [
  { step: 25_000, often: 0.4 },
  { step: 10_000, often: 0.25 },
  { step: 5_000, often: 0.2 },
  { step: 1_000, often: 0.15 },
];
const FINE_RATES_BELOW = 20_000;
/** Most changes are to between half and double of what it was: the spread of the logarithm of their ratio. */
const SPREAD_OF_CHANGES = 0.5;

/**
 * Round rates about a needed one that a flow at `rate` may have been changed to, in steps the channel can
 * be set in; one that is round in several ways comes several times.
 */
export function roundRatesAbout(
  needed: number,
  rate: Rate,
  rateStep: number,
): { rate: Rate; share: number }[] {
  if (needed <= 0) return [];
  return ROUND_RATES.flatMap(({ step: whole, often }) => {
    const step = rate < FINE_RATES_BELOW ? whole / 10 : whole;
    if (step % rateStep !== 0) return [];
    const below = Math.floor(needed / step) * step;
    return [below, below + step]
      .filter((round) => round > 0 && round !== rate)
      .map((round) => ({
        rate: rateOf(round),
        share: (often * step * normal(Math.log(round / rate), SPREAD_OF_CHANGES)) / round,
      }));
  });
}

/**
 * The whole five minutes of a span at which something may have happened, quarters and hours more often,
 * and the instants at which something else is charted most of all.
 */
export function timesWithin(
  start: Instant,
  end: Instant,
  charted: ReadonlySet<Instant>,
): { at: Instant; share: number }[] {
  const step = end - start > 24 * HOUR ? 15 * MINUTE : 5 * MINUTE;
  const whole: Instant[] = [];
  for (let at = Math.ceil(start / step) * step; at < end; at += step) whole.push(instant(at));
  const times = new Set([...whole, ...[...charted].filter((at) => start <= at && at < end)]);
  return inShares([...times].map((at) => ({ at, weight: charted.has(at) ? 4 : roundnessOfTime(at) })));
}

/** Offsets from UTC are whole quarters of an hour, so the quarters of every zone's clock are those of UTC. */
function roundnessOfTime(at: Instant): number {
  if (at % HOUR === 0) return 3;
  return at % (15 * MINUTE) === 0 ? 2 : 1;
}

/** Shares in proportion to weights. */
export function inShares<T extends { readonly weight: number }>(
  all: readonly T[],
): (T & { share: number })[] {
  const together = all.reduce((sum, { weight }) => sum + weight, 0);
  return all.map((one) => ({ ...one, share: one.weight / together }));
}
