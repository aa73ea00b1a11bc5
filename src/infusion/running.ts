/**
 * The bedside question: what each channel does at an instant, what its running totals should show,
 * what only the device knows since they were last read or cleared, and when the bag runs dry.
 */

import { type Instant, later, latest } from "../time/instant.js";
import { effectiveRate, feeding, roleOf } from "./advance.js";
import type { Counter } from "./counter.js";
import type { TotalName } from "./entry.js";
import { deliveredBy, type Flow, type FlowRole } from "./flow.js";
import { expectedBy } from "./mark.js";
import { greater, lesser, minus, NOTHING, plus, type Rate, timeToDeliver, type Volume } from "./quantity.js";
import {
  type Bag,
  type Channel,
  Draft,
  delivering,
  type FlowSource,
  type Programme,
  type State,
} from "./state.js";

export interface FlowNow {
  readonly bag: string | null;
  readonly role: FlowRole;
  /** Null when nobody knows the rate. */
  readonly rate: Rate | null;
  /** What the bag is said to hold, never below nothing; null without a bag. */
  readonly left: Volume | null;
  /** A forecast: when the bag has given what it is said to hold, if the flow goes on so long. */
  readonly emptyAt: Instant | null;
  /** A forecast: when this flow comes to its end by itself, if nothing is changed. */
  readonly endsAt: Instant | null;
}

export interface TotalNow {
  readonly total: TotalName;
  /** What the device should show: the last reading (or 0 from a clear) and what was computed since. */
  readonly expected: Volume;
  readonly lastReading: Volume | null;
  readonly atRisk: Volume;
  readonly since: Instant;
  /** Something was counted since at a rate nobody knows: what is expected and at risk is the least it can be. */
  readonly atLeast: boolean;
  /** A reading that disagrees and waits for somebody to decide, and what the device should show if it is right. */
  readonly waiting: { readonly entry: string; readonly value: Volume; readonly expected: Volume } | null;
}

export interface ChannelNow {
  readonly channel: Channel;
  readonly delivering: "nothing" | FlowSource;
  readonly flow: FlowNow | null;
  readonly totals: readonly TotalNow[];
}

/** Every connected channel, and every other one whose totals are not yet written down. */
export function runningTotals(state: State): ChannelNow[] {
  return [...state.channels.values()]
    .map((channel) => channelNow(state, channel))
    .filter(({ channel, totals }) => channel.connected || totals.some(({ atRisk }) => atRisk > NOTHING))
    .sort((a, b) => (a.channel.channel < b.channel.channel ? -1 : 1));
}

function channelNow(state: State, channel: Channel): ChannelNow {
  const source = delivering(channel);
  return {
    channel,
    delivering: source ?? "nothing",
    flow: source === null ? null : flowNow(channel, source, feeding(new Draft(state), channel, source)),
    totals: Object.entries(channel.counters).map(([total, counter]) => ({
      total: total as TotalName,
      expected: expectedBy(counter),
      lastReading: counter.read ? counter.base : null,
      atRisk: counter.since,
      since: counter.from,
      atLeast: counter.atLeast,
      waiting: waitingOn(counter),
    })),
  };
}

function waitingOn({ other }: Counter): TotalNow["waiting"] {
  if (other === null || other.doubt !== "waiting") return null;
  return { entry: other.entry, value: other.base, expected: expectedBy(other) };
}

function flowNow(channel: Channel, source: FlowSource, bag: Bag | undefined): FlowNow {
  const programme = channel[source]!;
  const rate = programme.rate === "unknown" ? null : effectiveRate(programme, programme.rate);
  return {
    bag: bag?.bag ?? null,
    role: roleOf(source, programme),
    rate,
    left: bag === undefined ? null : greater(bag.holds, NOTHING),
    emptyAt: rate === null || bag === undefined ? null : emptyAt(channel.upTo, programme, rate, bag),
    endsAt: rate === null ? null : endsAt(channel.upTo, programme, rate, bag),
  };
}

function endsAt(now: Instant, programme: Programme, rate: Rate, bag: Bag | undefined): Instant | null {
  const capacity = bag === undefined ? null : plus(bag.holds, bag.overfill);
  if (programme.left === null && capacity === null) return null;
  const limit =
    programme.left === null
      ? capacity!
      : capacity === null
        ? programme.left
        : lesser(programme.left, capacity);
  return later(now, timeToDeliver(rate, limit));
}

/** A flow that stops before the bag is empty leaves it hanging: then there is no such instant. */
function emptyAt(now: Instant, programme: Programme, rate: Rate, bag: Bag): Instant | null {
  if (bag.holds <= NOTHING) return null;
  const { left, keepOpenRate } = programme;
  if (left === null || left >= bag.holds) return later(now, timeToDeliver(rate, bag.holds));
  if (keepOpenRate === null) return null;
  const slow = keepOpenRate < rate ? keepOpenRate : rate;
  return later(now, timeToDeliver(rate, left) + timeToDeliver(slow, minus(bag.holds, left)));
}

/** The flows a total has counted since an instant, cut there, for the sentence "of which flows". */
export function flowsCountedIn(
  flows: readonly Flow[],
  channel: string,
  total: TotalName,
  since: Instant,
): Flow[] {
  return flows
    .filter((flow) => flow.channel === channel && flow.total === total && flow.end > since)
    .map((flow) => ({
      ...flow,
      start: latest(flow.start, since),
      volume: minus(flow.volume, deliveredBy(flow, since)),
    }));
}
