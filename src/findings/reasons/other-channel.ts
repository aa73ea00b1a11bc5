/** The total of another channel was read. */

import type { TotalName } from "../../infusion/entry.js";
import { expectedBy } from "../../infusion/mark.js";
import { minus, NOTHING } from "../../infusion/quantity.js";
import { readingAs } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { atReading, channelOf } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

/** The total of the same name is the one that is mistaken most. */
const SAME_TOTAL = 0.7;

export function otherChannel(d: Disagreeing): Reason[] {
  return likeliest("other-channel", d, others(d));
}

function* others(d: Disagreeing): Iterable<Supposed> {
  const { value, total: charted } = d.reading;
  const channels = [...atReading(d).channels.values()].filter(
    ({ channel, counters }) => channel !== d.reading.channel && Object.keys(counters).length > 0,
  );
  const here = channelOf(d)?.type;
  for (const { channel, type, counters } of channels) {
    for (const [total, counter] of Object.entries(counters)) {
      // What shows nothing is not what was read.
      if (expectedBy(counter) <= NOTHING) continue;
      const share = (total === charted ? SAME_TOTAL : 1 - SAME_TOTAL) / channels.length;
      const [increment, would] = [minus(value, counter.base), counter.since];
      // Tolerances differ by the type of channel: of another type it must fit nearer than any would ask.
      if (type !== here && 50n * minus(increment, would) ** 2n > would * minus(increment, would)) continue;
      const tell = () => ({
        sentence:
          `${d.words.volume(value)} is what the ${total} total of ${channel} should show, ` +
          `${d.words.volume(expectedBy(counter))}: that may be the one that was read.`,
        proposals: [
          readingAs(d, { channel, total: total as TotalName }, `It was read on the channel ${channel}.`),
        ],
      });
      yield { increment, would, elsewhere: true, share, tell };
    }
  }
}
