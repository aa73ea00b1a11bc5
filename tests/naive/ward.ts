/**
 * What the naive simulator keeps in mind: plain objects that it changes in place. It shares nothing
 * with the calculation it judges, not even a type. Volumes are whole ticks (microlitres per hour ×
 * milliseconds, 3,600,000 to the microlitre) in ordinary numbers, exact below 2,500 L.
 */

export const TICKS = 3_600_000;

/** One thing that happened, with whatever its kind carries; volumes in microlitres, rates in microlitres per hour. */
export interface Happening {
  readonly kind: string;
  readonly at: number;
  readonly order?: number;
  readonly channel?: string;
  readonly line?: string | null;
  readonly bag?: string;
  readonly role?: "primary" | "secondary";
  readonly device?: string;
  readonly totals?: string | readonly string[];
  readonly clearsOn?: readonly string[];
  readonly rate?: number | "unknown";
  readonly volume?: number | "unknown";
  readonly remaining?: number;
  readonly volumeToInfuse?: number | "none" | "bag";
  readonly keepOpenRate?: number;
  readonly whenDone?: string;
  readonly flows?: string;
  readonly total?: string;
  readonly position?: string;
}

export interface Report {
  readonly sequence: number;
  readonly source: "person" | "device";
  readonly entry: Happening;
}

export type Source = "primary" | "secondary" | "bolus";

/** What somebody programmed and how much of it is left; `left` is null without a limit. */
export interface Programme {
  rate: number | null;
  left: number | null;
  followsBag: boolean;
  keepOpen: number | null;
  keepingOpen: boolean;
  /** When done, the channel waits for a person instead of going on. */
  thenWait: boolean;
  /** Of a bolus: it interrupted a channel that waited, and returns to that. */
  overWait: boolean;
}

export interface Channel {
  key: string;
  line: string | null;
  connected: boolean;
  device: string | null;
  totals: string;
  clearsOn: readonly string[];
  hold: "none" | "paused" | "waiting";
  primary: Programme | null;
  secondary: Programme | null;
  bolus: Programme | null;
  hangs: { primary: Bag | null; secondary: Bag | null };
  counters: Map<string, Counter>;
}

/** What a total showed when it was last known, what it counted since and for how long, and whether by a bolus. */
export interface Counter {
  shown: number;
  since: number;
  flowing: number;
  bolus: boolean;
}

export function countedFrom(shown: number): Counter {
  return { shown, since: 0, flowing: 0, bolus: false };
}

export interface Bag {
  key: string;
  holds: number;
  overfill: number;
  on: { channel: Channel; role: "primary" | "secondary" } | null;
}

export interface Ward {
  /** The overfill allowance in thousandths of the label. */
  readonly overfill: number;
  readonly channels: Map<string, Channel>;
  readonly bags: Map<string, Bag>;
  awayUnknown: boolean;
  discharged: boolean;
}

export function channelOf(ward: Ward, key: string): Channel {
  const known = ward.channels.get(key);
  if (known !== undefined) return known;
  const channel: Channel = {
    key,
    line: null,
    connected: false,
    device: null,
    totals: "none",
    clearsOn: [],
    hold: "none",
    primary: null,
    secondary: null,
    bolus: null,
    hangs: { primary: null, secondary: null },
    counters: new Map(),
  };
  ward.channels.set(key, channel);
  return channel;
}

/** What delivers now: nothing while disconnected, paused or waiting; else the bolus, the secondary, the primary. */
export function delivering(ward: Ward, channel: Channel): Source | null {
  if (ward.discharged || !channel.connected || channel.hold !== "none") return null;
  if (channel.bolus !== null) return "bolus";
  if (channel.secondary !== null) return "secondary";
  return channel.primary === null ? null : "primary";
}

export function capacity(bag: Bag): number {
  return Math.max(0, bag.holds + bag.overfill);
}

/** A secondary without a bag, or whose bag is empty, draws the primary's; a bolus always does. */
export function feeding(channel: Channel, source: Source): Bag | null {
  const { primary, secondary } = channel.hangs;
  if (source === "secondary" && secondary !== null && (capacity(secondary) > 0 || primary === null))
    return secondary;
  return primary;
}
