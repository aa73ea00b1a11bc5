/**
 * A pump as naive as can be, that judges what the demo's nurses write down: it plays an encounter's
 * entries second by second in floating point and says what each running total would show. It shares no
 * code with the ledger. Unknown rates deliver nothing; amounts, lines and corrections are none of its business.
 */

/** The fields of wire entries that a pump cares for, all of them in one shape. */
export interface Wire {
  readonly id: string;
  readonly kind: string;
  readonly at?: string;
  readonly channel?: string;
  readonly role?: "primary" | "secondary";
  readonly bag?: string;
  readonly type?: string;
  readonly total?: Total;
  readonly totals?: unknown;
  readonly volume?: number;
  readonly remaining?: number;
  readonly additives?: readonly { readonly amount: number; readonly unit: string }[];
  readonly rate?: number | "unknown";
  readonly dripRate?: number;
  readonly dose?: { readonly value: number; readonly unit: string };
  readonly over?: string;
  readonly volumeToInfuse?: number | "none";
  readonly keepOpenRate?: number;
  readonly programmedWeight?: { readonly value: number };
  readonly whenDone?: string;
}

export type Total = "primary" | "secondary" | "combined";

export interface Shown {
  readonly id: string;
  readonly written: number;
  readonly shown: number;
}

interface Flow {
  rate: number;
  left: number;
  followsBag?: boolean;
  keepOpenRate?: number | undefined;
  waits?: boolean;
}

interface Bag {
  holds: number;
  overfill: number;
  /** ug or international units in a millilitre. */
  strength: number;
}

interface Channel {
  readonly combined: boolean;
  held: boolean;
  kilograms: number;
  flows: { primary?: Flow | undefined; secondary?: Flow | undefined; bolus?: Flow | undefined };
  hangs: { primary?: Bag; secondary?: Bag };
  totals: Record<Total, number>;
}

/** What comes first among entries of one instant. */
const ORDER = [
  "total-read",
  "secondary-ended flow-stopped",
  "bag-taken-down",
  "totals-reset therapy-changed",
  "channel-connected bag-hung",
  "bag-adjusted",
  "flow-paused",
  "flow-resumed",
  "flow-started rate-changed secondary-started bolus-started",
];

const SMALL_UNITS: Record<string, number> = { g: 1e6, mg: 1e3, ug: 1, "[iU]": 1, mmol: 1 };

/** What each total of a pump or syringe would have shown when it was written down. */
export function shownBy(entries: readonly Wire[]): Shown[] {
  const channels = new Map<string, Channel>();
  const bags = new Map<string, Bag>();
  const shown: Shown[] = [];
  const timed = entries
    .map((entry) => ({
      entry,
      due: Date.parse(entry.at ?? "") / 1000,
      place: ORDER.findIndex((kinds) => kinds.split(" ").includes(entry.kind)),
    }))
    .filter(({ due, place }) => !Number.isNaN(due) && place !== -1)
    .sort((a, b) => a.due - b.due || a.place - b.place);
  let second = timed[0]?.due ?? 0;
  for (const { entry, due } of timed) {
    for (; second < due; second++) for (const channel of channels.values()) deliver(channel);
    const channel = channels.get(entry.channel ?? "");
    if (entry.kind !== "total-read") apply(entry, channel, channels, bags);
    else if (channel) {
      shown.push({
        id: entry.id,
        written: entry.volume ?? 0,
        shown: channel.totals[entry.total ?? "primary"],
      });
    }
  }
  return shown;
}

/** One second of a channel. */
function deliver(channel: Channel): void {
  const { flows, hangs, totals } = channel;
  const source = flows.bolus ? "bolus" : flows.secondary ? "secondary" : "primary";
  const flow = flows[source];
  if (flow === undefined || channel.held) return;
  const bag = source === "secondary" ? hangs.secondary : hangs.primary;
  const volume = Math.min(flow.rate / 3600, flow.left, bag ? bag.holds + bag.overfill : 0);
  if (bag) bag.holds -= volume;
  flow.left -= volume;
  if (source === "bolus" && flows.primary) flows.primary.left -= volume;
  totals[channel.combined ? "combined" : source === "secondary" ? "secondary" : "primary"] += volume;
  if (flow.left > 1e-9 && bag && bag.holds + bag.overfill > 1e-9) return;
  flows[source] = flow.keepOpenRate ? { rate: flow.keepOpenRate, left: Number.POSITIVE_INFINITY } : undefined;
  if (flow.waits) channel.held = true;
}

function apply(
  entry: Wire,
  channel: Channel | undefined,
  channels: Map<string, Channel>,
  bags: Map<string, Bag>,
): void {
  const bag = bags.get(entry.bag ?? "");
  if (entry.kind === "bag-adjusted" && bag) bag.holds += entry.volume ?? 0;
  else if (entry.kind === "bag-taken-down") {
    for (const { flows, hangs } of channels.values()) if (hangs.primary === bag) flows.primary = undefined;
  } else if (channel) onChannel(entry, channel, bags);
  else if (entry.type === "pump" || entry.type === "syringe") {
    channels.set(entry.channel ?? "", {
      combined: entry.totals === "combined",
      held: false,
      kilograms: 0,
      flows: {},
      hangs: {},
      totals: { primary: 0, secondary: 0, combined: 0 },
    });
  }
}

function onChannel(entry: Wire, channel: Channel, bags: Map<string, Bag>): void {
  const { flows, hangs } = channel;
  switch (entry.kind) {
    case "bag-hung": {
      const bag = bagOf(entry);
      bags.set(entry.bag ?? "", bag);
      hangs[entry.role ?? "primary"] = bag;
      if (entry.role !== "secondary" && flows.primary?.followsBag) flows.primary.left = bag.holds;
      return;
    }
    case "flow-started":
      channel.kilograms = entry.programmedWeight?.value ?? channel.kilograms;
      channel.held = false;
      flows.primary = flowOf(entry, channel, hangs.primary);
      return;
    case "secondary-started":
      flows.secondary = flowOf(entry, channel, hangs.secondary);
      return;
    case "bolus-started": {
      const volume = entry.volume ?? amount(entry, channel) / (hangs.primary?.strength ?? 0);
      flows.bolus = { rate: (volume * 60) / Number(/^PT(\d+)M$/.exec(entry.over ?? "")?.[1]), left: volume };
      return;
    }
    case "rate-changed":
      if (flows.primary) flows.primary.rate = rateOf(entry, channel);
      return;
    case "flow-paused":
      channel.held = true;
      return;
    case "flow-resumed":
      channel.held = false;
      return;
    case "flow-stopped":
      flows.primary = undefined;
      return;
    case "secondary-ended":
      flows.secondary = undefined;
      return;
    case "therapy-changed":
      channel.flows = {};
      channel.totals = { primary: 0, secondary: 0, combined: 0 };
      return;
    case "totals-reset":
      channel.totals = { primary: 0, secondary: 0, combined: 0 };
  }
}

function bagOf({ additives, volume = 0, remaining = volume }: Wire): Bag {
  const [additive] = additives ?? [];
  const strength = additive ? (additive.amount * (SMALL_UNITS[additive.unit] ?? 0)) / volume : 0;
  return { holds: remaining, overfill: volume / 10, strength };
}

function flowOf(entry: Wire, channel: Channel, bag: Bag | undefined): Flow {
  const { volumeToInfuse = bag?.holds ?? 0, keepOpenRate, whenDone } = entry;
  return {
    rate: rateOf(entry, channel),
    left: volumeToInfuse === "none" ? Number.POSITIVE_INFINITY : volumeToInfuse,
    followsBag: entry.volumeToInfuse === undefined,
    keepOpenRate,
    waits: whenDone === "wait",
  };
}

/** mL/h, a dose to the nearest tenth, halves up. */
function rateOf(entry: Wire, channel: Channel): number {
  if (typeof entry.rate === "number") return entry.rate;
  const strength = channel.hangs.primary?.strength ?? 0;
  return Math.floor((amount(entry, channel) / strength) * 10 + 0.5 + 1e-6) / 10;
}

/** ug or international units of a dose: in an hour where it is a dose per time. */
function amount({ dose }: Wire, channel: Channel): number {
  const [unit = "", ...per] = dose?.unit.split("/") ?? [];
  const kilograms = per.includes("kg") ? channel.kilograms : 1;
  return (dose?.value ?? 0) * (SMALL_UNITS[unit] ?? 0) * kilograms * (per.includes("min") ? 60 : 1);
}
