/** Nobody charted that the total was cleared: what it shows was delivered since then. */

import type { TotalName } from "../../infusion/entry.js";
import { NOTHING, type Volume } from "../../infusion/quantity.js";
import { type Instant, instant, later, MINUTE } from "../../time/instant.js";
import { saidTotals } from "../said.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { countedFlows, deliveredBetween, onChannel, wholeMinuteBefore } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

/** Totals are mostly cleared when something else is done: right after they were read, at a start, with a bag. */
const JUST_READ = 0.3;
const AT_AN_ENTRY = 0.4;
const AT_ANY_MINUTE = 0.3;
/** And a zero is mostly read right after the clear. */
const AT_A_ZERO = 0.7;

export function clearMissing(d: Disagreeing): Reason[] {
  return likeliest("clear-missing", d, clears(d));
}

function* clears(d: Disagreeing): Iterable<Supposed> {
  const { channel, total, value, expected, checkOnly } = d.reading;
  if (value >= expected) return;
  const flows = countedFlows(d);
  const totals = checkOnly ? (["primary", "secondary"] as const) : [total];
  for (const { at, share } of moments(d)) {
    const since: Volume = deliveredBetween(flows, at, d.reading.at);
    const tell = () => ({
      sentence: sentence(d, at, since, totals),
      proposals: [record({ kind: "totals-reset", at, channel, totals, leaveUncaptured: true })],
    });
    yield { increment: value, would: since, share, tell };
  }
}

function sentence({ reading, words }: Disagreeing, at: Instant, since: Volume, totals: readonly TotalName[]) {
  const cleared = `the ${saidTotals(totals)} may have been cleared then.`;
  if (at === reading.at) return `At ${words.time(at)} it showed nothing: ${cleared}`;
  return at === reading.over.from
    ? `The reading is what was delivered since ${words.time(at)}: ${cleared}`
    : `Since ${words.time(at)} ${words.volume(since)} were delivered: ${cleared}`;
}

/** When the total may have been cleared: at a zero, at the mark, at what is charted on the channel, at any minute. */
function moments(d: Disagreeing): { at: Instant; share: number }[] {
  const { over, at: read, value } = d.reading;
  const charted = [...new Set(onChannel(d).map(({ placed }) => placed.entry.at))].filter(
    (at) => over.from < at && at < read,
  );
  const first = wholeMinuteBefore(later(over.from, MINUTE));
  const minutes = Math.max(0, Math.ceil((read - first) / MINUTE));
  const before = [
    ...(over.base > 0n ? [{ at: over.from, share: JUST_READ }] : []),
    ...charted.map((at) => ({ at, share: AT_AN_ENTRY / charted.length })),
    ...Array.from({ length: minutes }, (_, i) => ({
      at: instant(first + i * MINUTE),
      share: AT_ANY_MINUTE / minutes,
    })),
  ];
  if (value > NOTHING) return before;
  // A clear charted at the very instant of a zero comes before it.
  const earlier = before.map(({ at, share }) => ({ at, share: share * (1 - AT_A_ZERO) }));
  return [{ at: read, share: AT_A_ZERO }, ...earlier];
}
