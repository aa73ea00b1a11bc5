/**
 * The likely reasons for a reading that disagrees, best first.
 *
 * Principle: each kind is weighed by how usual it is and by all the ways in which it fits the numbers
 * together, and is shown by the likeliest of them (`supposed.ts`). One number cannot tell everything apart:
 * a bolus of 20 mL and a rate that gave 20 mL more leave the same total. So reasons of comparable
 * likelihood share a place and say so, and what is far less likely than the best is not named at all. Nor
 * is what would not settle the reading once its entries are recorded, or what the other readings refute
 * (`retelling.ts`).
 */

import { bagMissing } from "./bag-missing.js";
import { bolusMissing } from "./bolus-missing.js";
import { clearMissing } from "./clear-missing.js";
import { digits } from "./digits.js";
import { entryWrong } from "./entry-wrong.js";
import { otherChannel } from "./other-channel.js";
import { otherTotal } from "./other-total.js";
import { pauseMissing } from "./pause-missing.js";
import { rateChangeLate } from "./rate-change-late.js";
import { rateChangeMissing } from "./rate-change-missing.js";
import { readBeforeClear } from "./read-before-clear.js";
import type { Disagreeing, Ranked, Reason } from "./reason.js";
import { secondaryMissing } from "./secondary-missing.js";
import { segmentsSay } from "./segments-say.js";
import { timeOfReading } from "./time-of-reading.js";

type Finding = (d: Disagreeing) => Reason[];

/** What happened otherwise than it is charted, or was not charted at all. */
const HAPPENED: readonly Finding[] = [
  entryWrong,
  rateChangeMissing,
  rateChangeLate,
  pauseMissing,
  secondaryMissing,
  bolusMissing,
  bagMissing,
  clearMissing,
];

/** What was read, or written down, otherwise than it stood there: people do that, a device does not. */
const MISREAD: readonly Finding[] = [readBeforeClear, otherTotal, otherChannel, digits, timeOfReading];

const SHOWN = 6;
/** In tenths of a power of two: within a factor of four numbers do not tell reasons apart. */
const COMPARABLE = 20;
/** A reason a hundred times less likely than the best is none. */
const FAR_FETCHED = 66;

/** At most six reasons, the likeliest first; each shares its place with those that are about as likely as its first. */
export function likelyReasons(d: Disagreeing): Ranked[] {
  const kinds = d.reading.source === "device" ? HAPPENED : [...HAPPENED, ...MISREAD];
  const supposed = kinds.flatMap((kind) => kind(d)).sort((a, b) => a.unlikeliness - b.unlikeliness);
  const reasons = [...segmentsSay(d, supposed), ...supposed];
  const likely = reasons
    .filter(({ unlikeliness }) => unlikeliness <= reasons[0]!.unlikeliness + FAR_FETCHED)
    .slice(0, SHOWN);
  const placed: { place: number; reason: Reason }[] = [];
  let first: { place: number; unlikeliness: number } | null = null;
  for (const [i, reason] of likely.entries()) {
    if (first === null || reason.unlikeliness > first.unlikeliness + COMPARABLE) {
      first = { place: i + 1, unlikeliness: reason.unlikeliness };
    }
    placed.push({ place: first.place, reason });
  }
  return placed.map(({ place, reason }) => ({
    place,
    tied: placed.filter((other) => other.place === place).length > 1,
    reason,
  }));
}
