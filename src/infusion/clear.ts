/** What sets running totals to zero, and what is lost by it. */

import { clearedCounter, writtenDown } from "./counter.js";
import type { ChannelConnected, TotalName } from "./entry.js";
import { expectedBy, markOf } from "./mark.js";
import { type Channel, totalsOf } from "./state.js";
import { evident, type Step } from "./step.js";

type Counters = Channel["counters"];

/**
 * The channel's counters with some of its totals cleared; says what of each only the device knew. Where nobody
 * knows when, `latest` is the latest it can have been, and the step's own instant the earliest.
 */
export function clear(
  run: Step,
  channel: Channel,
  totals: readonly TotalName[],
  leftUncaptured = false,
  latest = run.at,
): Counters {
  const { id, at, sink } = run;
  const cleared: { [total in TotalName]?: ReturnType<typeof clearedCounter> } = {};
  for (const total of totals) {
    const counter = channel.counters[total];
    if (counter !== undefined) {
      const [over, written] = [markOf(counter), writtenDown(counter)];
      const [expected, lost] = [expectedBy(over), over.since];
      sink.cleared(evident(run, channel, { total, latest, over, written, expected, lost, leftUncaptured }));
    }
    cleared[total] = clearedCounter({ entry: id, at, latest }, counter, run.settingsAt(at).chartingGrain);
  }
  return Object.assign({}, channel.counters, cleared) as Counters;
}

/** All totals of a channel cleared, of which it keeps those of `keeps` from now on. */
export function clearAll(
  run: Step,
  channel: Channel,
  keeps: Channel["totals"] = channel.totals,
  leftUncaptured = false,
): Counters {
  const had = Object.keys(channel.counters) as TotalName[];
  const all = clear(run, channel, [...new Set([...had, ...totalsOf(keeps)])], leftUncaptured);
  return Object.fromEntries(totalsOf(keeps).map((total) => [total, all[total]!]));
}

/** What a channel connected again keeps: its totals, unless it keeps them another way from now on. */
export function keptOrFresh(run: Step, channel: Channel, entry: ChannelConnected): Counters {
  const { totals, leaveUncaptured } = entry;
  if (channel.totals === totals && Object.keys(channel.counters).length > 0) return channel.counters;
  return clearAll(run, channel, totals, leaveUncaptured);
}
