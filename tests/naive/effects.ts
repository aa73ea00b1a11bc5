/** What each entry does to the ward at its instant: the course table of the specification, row by row. */

import { bagChanged, hung, toInfuse } from "./bags.js";
import { allFlowsEnd, bolusEnds, clearedBy, secondaryEnds, shows } from "./ends.js";
import {
  type Bag,
  type Channel,
  channelOf,
  countedFrom,
  type Happening,
  type Programme,
  type Ward,
} from "./ward.js";

/** Applies one entry; kinds that are not about channels and bags do nothing. */
export function happens(ward: Ward, entry: Happening): void {
  if (ward.discharged && entry.kind === "channel-connected") return;
  if (entry.kind === "discharged" || entry.kind === "line-removed") {
    for (const channel of ward.channels.values()) {
      if (entry.kind === "discharged" || channel.line === entry.line) allFlowsEnd(channel);
      if (entry.kind === "discharged") channel.connected = false;
      else if (channel.line === entry.line) channel.line = null;
    }
    if (entry.kind === "discharged") ward.discharged = true;
  } else if (entry.kind === "away-started") ward.awayUnknown = entry.flows === "unknown";
  else if (entry.kind === "away-ended") ward.awayUnknown = false;
  else if (entry.kind === "bag-hung") hung(ward, entry);
  else if (entry.bag !== undefined) bagChanged(ward, entry);
  else if (entry.channel !== undefined) onChannel(channelOf(ward, entry.channel), entry);
}

function onChannel(channel: Channel, entry: Happening): void {
  switch (entry.kind) {
    case "channel-connected":
      return connected(channel, entry);
    case "channel-disconnected":
      return disconnected(channel);
    case "therapy-changed":
      allFlowsEnd(channel);
      return clearedBy(channel, "therapy-change");
    case "flow-started":
    case "secondary-started":
    case "bolus-started":
      return channel.connected && channel.line !== null ? started(channel, entry) : undefined;
    case "rate-changed":
    case "volume-to-infuse-set":
      return reprogrammed(channel, entry);
    case "flow-paused":
      if (channel.hold === "none") channel.hold = "paused";
      return;
    case "flow-resumed":
      channel.hold = "none";
      return;
    case "flow-stopped":
      channel.primary = null;
      channel.bolus = null;
      return;
    case "secondary-ended":
      return secondaryEnds(channel);
    case "bolus-stopped":
      return bolusEnds(channel);
    case "total-read":
      return shows(channel, [entry.total ?? ""], entry.volume as number);
    case "totals-reset":
      return shows(channel, entry.totals as readonly string[], 0);
  }
}

function connected(channel: Channel, entry: Happening): void {
  if (channel.device !== null && entry.device !== undefined && entry.device !== channel.device) {
    allFlowsEnd(channel);
    shows(channel, [...channel.counters.keys()], 0);
  }
  channel.connected = true;
  channel.line = entry.line ?? null;
  channel.device = entry.device ?? channel.device;
  channel.totals = entry.totals as string;
  channel.clearsOn = entry.clearsOn ?? [];
  const kept = { separate: ["primary", "secondary"], combined: ["combined"] }[channel.totals] ?? [];
  for (const total of kept) {
    if (!channel.counters.has(total)) channel.counters.set(total, countedFrom(0));
  }
}

function disconnected(channel: Channel): void {
  if (!channel.connected) return;
  allFlowsEnd(channel);
  channel.connected = false;
  clearedBy(channel, "disconnect");
}

function started(channel: Channel, entry: Happening): void {
  const overWait = channel.hold === "waiting" || (channel.bolus?.overWait ?? false);
  channel.hold = "none";
  channel.bolus = null;
  const { primary, secondary } = channel.hangs;
  if (entry.kind === "bolus-started") {
    const asked = { ...entry, volumeToInfuse: entry.volume as number };
    channel.bolus = { ...programmed(asked, primary, entry.whenDone === "wait"), overWait };
  } else if (entry.kind === "secondary-started") {
    channel.secondary = programmed(entry, secondary ?? primary, entry.whenDone === "wait");
    if (channel.clearsOn.includes("new-secondary")) shows(channel, ["secondary"], 0);
  } else {
    channel.secondary = null;
    channel.primary = programmed(entry, primary, false);
  }
}

function programmed(entry: Happening, bag: Bag | null, thenWait: boolean): Programme {
  return {
    rate: entry.rate === "unknown" ? null : entry.rate!,
    left: toInfuse(entry.volumeToInfuse!, bag),
    followsBag: entry.volumeToInfuse === "bag",
    keepOpen: entry.keepOpenRate ?? null,
    keepingOpen: false,
    thenWait,
    overWait: false,
  };
}

function reprogrammed(channel: Channel, entry: Happening): void {
  const programme = channel[entry.role!];
  if (programme === null) return;
  if (entry.kind === "rate-changed") {
    if (!programme.keepingOpen) programme.rate = entry.rate === "unknown" ? null : entry.rate!;
    return;
  }
  const { primary, secondary } = channel.hangs;
  const bag = entry.role === "secondary" ? (secondary ?? primary) : primary;
  programme.left = toInfuse(entry.volumeToInfuse!, bag);
  programme.followsBag = entry.volumeToInfuse === "bag";
  programme.keepingOpen = false;
}
