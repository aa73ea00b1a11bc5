/** What reading and clearing running totals does. Neither moves the course; only a change of therapy ends flows. */

import { cleared } from "./connection-steps.js";
import type { TotalRead, TotalsReset } from "./entry.js";
import { endAll } from "./flow-steps.js";
import { NOTHING, volumeOf } from "./quantity.js";
import { freshCounter } from "./state.js";
import { type Step, withoutEffect } from "./step.js";

/** From a reading on, the device is expected to show it plus what is delivered since. */
export function read(run: Step, entry: TotalRead): void {
  const channel = run.draft.channel(entry.channel)!;
  if (channel.counters[entry.total] === undefined) {
    // A sum of both totals read on a channel that keeps them apart is a check, not a counter.
    if (entry.total === "combined" && channel.totals === "separate") return;
    return withoutEffect(run, channel.channel, `the channel keeps no ${entry.total} total`);
  }
  const counter = { base: volumeOf(entry.volume), since: NOTHING, from: run.at, read: true };
  run.draft.put({ ...channel, counters: { ...channel.counters, [entry.total]: counter } });
}

export function reset(run: Step, entry: TotalsReset): void {
  const channel = run.draft.channel(entry.channel)!;
  const kept = entry.totals.filter((total) => channel.counters[total] !== undefined);
  if (kept.length === 0) return withoutEffect(run, channel.channel, "the channel keeps no such total");
  const fresh = Object.fromEntries(kept.map((total) => [total, freshCounter(run.at)]));
  run.draft.put({ ...channel, counters: { ...channel.counters, ...fresh } });
}

/** All flows end; the totals clear where the device does that; bags keep what they hold. */
export function changeTherapy(run: Step, key: string): void {
  const channel = run.draft.channel(key)!;
  const known = channel.connected || Object.keys(channel.counters).length > 0;
  if (!known) return withoutEffect(run, key, "the channel was never connected to a line");
  const ended = endAll(channel);
  run.draft.put(
    channel.clearsOn.includes("therapy-change")
      ? { ...ended, counters: cleared(channel.totals, run.at) }
      : ended,
  );
}
