/** What each entry does to the ward at its instant: the table of domain.md section 4, row by row. */

import {
  type Bag,
  type Channel,
  channelOf,
  feeding,
  type Happening,
  type Programme,
  TICKS,
  type Ward,
} from "./ward.js";

/** Applies one entry; kinds that are not about channels and bags do nothing. */
export function happens(ward: Ward, entry: Happening): void {
  if (entry.kind === "discharged" || entry.kind === "line-removed") {
    for (const channel of ward.channels.values()) {
      if (entry.kind === "discharged" || channel.line === entry.line) allFlowsEnd(channel);
      if (channel.line === entry.line) channel.line = null;
    }
    if (entry.kind === "discharged") ward.discharged = true;
  } else if (entry.kind === "away-started") ward.awayUnknown ||= entry.flows === "unknown";
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
      if (channel.bolus?.overWait && channel.hold === "none") channel.hold = "waiting";
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
    if (!channel.counters.has(total)) channel.counters.set(total, { shown: 0, since: 0 });
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

function toInfuse(volume: number | "none" | "bag", bag: Bag | null): number | null {
  if (volume === "none") return null;
  if (volume !== "bag") return volume * TICKS;
  return bag === null ? null : Math.max(0, bag.holds);
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

function allFlowsEnd(channel: Channel): void {
  channel.primary = null;
  channel.secondary = null;
  channel.bolus = null;
  channel.hold = "none";
}

function hung(ward: Ward, entry: Happening): void {
  const label = (entry.volume as number) * TICKS;
  const bag = ward.bags.get(entry.bag!) ?? {
    key: entry.bag!,
    holds: label,
    overfill: Math.floor((label * ward.overfill) / 1000),
    on: null,
  };
  ward.bags.set(bag.key, bag);
  if (entry.remaining !== undefined) bag.holds = entry.remaining * TICKS;
  const channel = channelOf(ward, entry.channel!);
  const role = entry.role!;
  if (channel.hangs[role] !== bag) takenDown(bag);
  const displaced = channel.hangs[role];
  if (displaced !== null && displaced !== bag) displaced.on = null;
  channel.hangs[role] = bag;
  bag.on = { channel, role };
  for (const source of ["primary", "secondary"] as const) {
    const programme = channel[source];
    const draws = source === role || feeding(channel, source) === bag;
    if (programme?.followsBag && !programme.keepingOpen && draws) programme.left = Math.max(0, bag.holds);
  }
}

/** What a bag holds changes; a level read is never what ends a flow, since no reading moves a course (section 6). */
function bagChanged(ward: Ward, entry: Happening): void {
  const bag = ward.bags.get(entry.bag!);
  if (bag === undefined || entry.kind === "bag-level-read") return;
  if (entry.kind === "bag-adjusted") bag.holds += (entry.volume as number) * TICKS;
  if (entry.remaining !== undefined) bag.holds = entry.remaining * TICKS;
  if (entry.kind === "bag-taken-down") takenDown(bag);
}

/** A bag leaves its hook, and what it fed ends; of the primary's bag, a secondary that has none of its own too. */
function takenDown(bag: Bag): void {
  if (bag.on === null) return;
  const { channel, role } = bag.on;
  const fedSecondary = role === "secondary" || channel.hangs.secondary === null;
  bag.on = null;
  channel.hangs[role] = null;
  if (role === "primary") {
    channel.primary = null;
    bolusEnds(channel);
  }
  if (fedSecondary) secondaryEnds(channel);
}

function clearedBy(channel: Channel, event: string): void {
  if (channel.clearsOn.includes(event)) shows(channel, [...channel.counters.keys()], 0);
}

/** The named totals show this many microlitres from now. */
function shows(channel: Channel, totals: readonly string[], microlitres: number): void {
  for (const total of totals) {
    if (channel.counters.has(total)) channel.counters.set(total, { shown: microlitres * TICKS, since: 0 });
  }
}
