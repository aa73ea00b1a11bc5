/** What is over on a channel of the naive simulator: a secondary, a bolus, all flows, a running total. */

import { type Channel, countedFrom, TICKS } from "./ward.js";

/** `whenDone` of a secondary: the primary goes on, or the channel waits; a pause stays a pause. */
export function secondaryEnds(channel: Channel): void {
  if (channel.secondary?.thenWait) {
    if (channel.bolus !== null) channel.bolus.overWait = true;
    else if (channel.hold === "none") channel.hold = "waiting";
  }
  channel.secondary = null;
}

export function bolusEnds(channel: Channel): void {
  const { bolus } = channel;
  if (bolus !== null && (bolus.thenWait || bolus.overWait) && channel.hold === "none")
    channel.hold = "waiting";
  channel.bolus = null;
}

export function allFlowsEnd(channel: Channel): void {
  channel.primary = null;
  channel.secondary = null;
  channel.bolus = null;
  channel.hold = "none";
}

export function clearedBy(channel: Channel, event: string): void {
  if (channel.clearsOn.includes(event)) shows(channel, [...channel.counters.keys()], 0);
}

/** The named totals show this many microlitres from now. */
export function shows(channel: Channel, totals: readonly string[], microlitres: number): void {
  for (const total of totals) {
    if (channel.counters.has(total)) channel.counters.set(total, countedFrom(microlitres * TICKS));
  }
}
