/**
 * Copies with something changed of the values that the course changes most. Every field is written out once,
 * here: spreading a wide object takes some twenty times as long, and a busy shift makes thousands of copies.
 * A field left out is a type error.
 */

import type { Counter } from "./counter.js";
import type { TotalName } from "./entry.js";
import type { Bag, Channel, Programme } from "./state.js";

/** The channel with these fields changed. */
export function channelWith(channel: Channel, change: Partial<Channel>): Channel {
  const copy: Channel = {
    channel: channel.channel,
    line: channel.line,
    connected: channel.connected,
    type: channel.type,
    totals: channel.totals,
    clearsOn: channel.clearsOn,
    device: channel.device,
    rateStep: channel.rateStep,
    dropFactor: channel.dropFactor,
    upTo: channel.upTo,
    hold: channel.hold,
    primary: channel.primary,
    secondary: channel.secondary,
    bolus: channel.bolus,
    primaryBag: channel.primaryBag,
    secondaryBag: channel.secondaryBag,
    endedByTakingDown: channel.endedByTakingDown,
    counters: channel.counters,
    endedThemselves: channel.endedThemselves,
    unconfirmed: channel.unconfirmed,
    reports: channel.reports,
  };
  return Object.assign(copy, change);
}

/** The bag with these fields changed. */
export function bagWith(bag: Bag, change: Partial<Bag>): Bag {
  const copy: Bag = {
    bag: bag.bag,
    fluid: bag.fluid,
    label: bag.label,
    contents: bag.contents,
    holds: bag.holds,
    found: bag.found,
    overfill: bag.overfill,
    mark: bag.mark,
    channel: bag.channel,
    role: bag.role,
  };
  return Object.assign(copy, change);
}

/** The programme with these fields changed. */
export function programmeWith(programme: Programme, change: Partial<Programme>): Programme {
  const copy: Programme = {
    rate: programme.rate,
    left: programme.left,
    followsBag: programme.followsBag,
    keepOpenRate: programme.keepOpenRate,
    keepingOpen: programme.keepingOpen,
    whenDone: programme.whenDone,
    returnsTo: programme.returnsTo,
    startedBy: programme.startedBy,
  };
  return Object.assign(copy, change);
}

/** The channel with another programme of one role. */
export function withProgramme(channel: Channel, role: "primary" | "secondary", to: Programme): Channel {
  return channelWith(channel, role === "primary" ? { primary: to } : { secondary: to });
}

/** The channel with one of its running totals changed. */
export function withCounter(channel: Channel, total: TotalName, to: Counter): Channel {
  return channelWith(channel, { counters: countersWith(channel.counters, total, to) });
}

/** The running totals with one of them changed; what a device does not count stays absent. */
export function countersWith(
  { primary, secondary, combined }: Channel["counters"],
  total: TotalName,
  to: Counter,
): Channel["counters"] {
  const counters: { [one in TotalName]?: Counter } = {};
  if (primary !== undefined) counters.primary = primary;
  if (secondary !== undefined) counters.secondary = secondary;
  if (combined !== undefined) counters.combined = combined;
  counters[total] = to;
  return counters;
}
