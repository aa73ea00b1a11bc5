/** The reading was taken some minutes before or after the time it is charted at. */

import { minus, plus, type Volume } from "../../infusion/quantity.js";
import { later } from "../../time/instant.js";
import { readingAs } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { toldUpTo } from "./retelling.js";
import { countedFlows, deliveredBetween, flowsAfter } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";
import { LAPSES } from "./usual.js";

export function timeOfReading(d: Disagreeing): Reason[] {
  return likeliest("time-of-reading", d, times(d));
}

function* times(d: Disagreeing): Iterable<Supposed> {
  const { at: charted, over, comparison } = d.reading;
  const before = countedFlows(d);
  const after = flowsAfter(d, toldUpTo(d.reading, d.until));
  for (const { milliseconds, share } of LAPSES) {
    const at = later(charted, milliseconds);
    if (at <= over.from || at > d.until) continue;
    const would: Volume =
      milliseconds < 0
        ? minus(comparison.computed, deliveredBetween(before, at, charted))
        : plus(comparison.computed, deliveredBetween(after, charted, at));
    const tell = () => ({
      sentence:
        `It would agree at ${d.words.time(at)}, ${d.words.duration(Math.abs(milliseconds))} ` +
        `${milliseconds < 0 ? "before" : "after"} the time it is charted at.`,
      proposals: [readingAs(d, { at }, "It was read at another time than charted.")],
    });
    yield { increment: comparison.increment, would, share, tell };
  }
}
