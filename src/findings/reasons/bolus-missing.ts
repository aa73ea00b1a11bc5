/** Nobody charted a bolus: more was delivered than computed, less what its flow would have given meanwhile. */

import {
  delivered,
  minus,
  plus,
  type Rate,
  rateOf,
  timeToDeliver,
  volumeOf,
} from "../../infusion/quantity.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { interruptible, midway, missing, room } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";
import { BOLUS_VOLUMES, inShares } from "./usual.js";

/** Rates that boluses run at: as fast as a pump goes, or over some minutes. */
const RATES: readonly { rate: Rate; share: number }[] = inShares([
  { rate: rateOf(1_000_000), weight: 4 },
  { rate: rateOf(500_000), weight: 3 },
  { rate: rateOf(300_000), weight: 2 },
  { rate: rateOf(250_000), weight: 1 },
  { rate: rateOf(60_000), weight: 1 },
]);

export function bolusMissing(d: Disagreeing): Reason[] {
  return d.reading.total === "secondary" ? [] : likeliest("bolus-missing", d, boluses(d));
}

/** In the middle of each flow, since nothing tells when. */
function* boluses(d: Disagreeing): Iterable<Supposed> {
  const { comparison, channel } = d.reading;
  const left = room(d, "primary");
  const flows = interruptible(d).filter(({ role }) => role === "primary");
  for (const flow of flows) {
    for (const { volume: microlitres, share: ofVolume } of BOLUS_VOLUMES) {
      const volume = volumeOf(microlitres);
      // None is larger than the difference and all that the flow would have given meanwhile.
      if (volume > 2n * missing(d)) continue;
      for (const { rate, share: ofRate } of RATES) {
        const lasts = timeToDeliver(rate, volume);
        const start = midway(flow, lasts);
        const more = minus(volume, delivered(flow.rate, lasts));
        if (start === null || rate <= flow.rate || (left !== null && more > left)) continue;
        const tell = () => ({
          sentence:
            `A bolus of ${d.words.volume(volume)} may not have been charted; when it was is not known, ` +
            `${d.words.time(start)} is a guess.`,
          proposals: [
            record({
              kind: "bolus-started",
              at: start,
              channel,
              rate,
              volume: microlitres,
              whenDone: "return",
            }),
          ],
        });
        const would = plus(comparison.computed, more);
        yield { increment: comparison.increment, would, share: (ofVolume * ofRate) / flows.length, tell };
      }
    }
  }
}
