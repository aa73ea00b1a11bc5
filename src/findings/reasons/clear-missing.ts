/** Nobody charted that the total was cleared: what it shows was delivered since then. */

import type { Volume } from "../../infusion/quantity.js";
import { type Instant, instant, later, MINUTE } from "../../time/instant.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { countedFlows, deliveredBetween, onChannel, wholeMinuteBefore } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

/** Totals are mostly cleared when something else is done: right after they were read, at a start, with a bag. */
const JUST_READ = 0.3;
const AT_AN_ENTRY = 0.4;
const AT_ANY_MINUTE = 0.3;

export function clearMissing(d: Disagreeing): Reason[] {
  return d.reading.checkOnly ? [] : likeliest("clear-missing", d, clears(d));
}

function* clears(d: Disagreeing): Iterable<Supposed> {
  const { channel, total, value, over, expected } = d.reading;
  if (value >= expected) return;
  const flows = countedFlows(d);
  for (const { at, share } of moments(d)) {
    const since: Volume = deliveredBetween(flows, at, d.reading.at);
    const tell = () => ({
      sentence:
        at === over.from
          ? `The reading is what was delivered since ${d.words.time(at)}: the ${total} total may have been cleared then.`
          : `Since ${d.words.time(at)} ${d.words.volume(since)} were delivered: the ${total} total may have been cleared then.`,
      proposals: [record({ kind: "totals-reset", at, channel, totals: [total], leaveUncaptured: true })],
    });
    yield { increment: value, would: since, share, tell };
  }
}

/** When the total may have been cleared: at the mark, at what is charted on the channel, at any minute. */
function moments(d: Disagreeing): { at: Instant; share: number }[] {
  const { over, at: read } = d.reading;
  const charted = [...new Set(onChannel(d).map(({ placed }) => placed.entry.at))].filter(
    (at) => over.from < at && at < read,
  );
  const first = wholeMinuteBefore(later(over.from, MINUTE));
  const minutes = Math.max(0, Math.ceil((read - first) / MINUTE));
  return [
    ...(over.base > 0n ? [{ at: over.from, share: JUST_READ }] : []),
    ...charted.map((at) => ({ at, share: AT_AN_ENTRY / charted.length })),
    ...Array.from({ length: minutes }, (_, i) => ({
      at: instant(first + i * MINUTE),
      share: AT_ANY_MINUTE / minutes,
    })),
  ];
}
