/**
 * What is known of an encounter's channels and bags at an instant: the complete state from which the
 * rest of the course follows. Values are never changed in place; `Draft` copies what it touches.
 */

import { type Instant, later } from "../time/instant.js";
import type { BodyWeight } from "./body-weight.js";
import type { Contents } from "./contents.js";
import { CLOCKS_APART, type Counter } from "./counter.js";
import type {
  ChannelType,
  ClearingEvent,
  EntryKind,
  FlowRate,
  Fluid,
  OutputCategory,
  Role,
  Source,
  TotalName,
} from "./entry.js";
import type { BagMark } from "./evidence.js";
import type { Rate, Volume } from "./quantity.js";

/** What a channel can deliver from. */
export type FlowSource = "primary" | "secondary" | "bolus";

/**
 * `paused` keeps everything in its place; `waiting` is a secondary or bolus done that asked for a person;
 * `stopped` is a metered channel, which would else be taken to deliver whatever is charted.
 */
export type Hold = "none" | "paused" | "waiting" | "stopped";

/** One flow as programmed and how far it has come. */
export interface Programme {
  readonly rate: FlowRate;
  /** Still to infuse; null without a limit. */
  readonly left: Volume | null;
  /** Whether the limit is what the bag holds, and so is resolved anew for each bag. */
  readonly followsBag: boolean;
  readonly keepOpenRate: Rate | null;
  /** The volume to infuse was reached and the flow goes on at its keep-open rate. */
  readonly keepingOpen: boolean;
  /** What happens when it is done: of a secondary or bolus. */
  readonly whenDone: "go-on" | "wait";
  /** Of a bolus: the hold it returns to. */
  readonly returnsTo: Hold;
  /** The id of the entry that started it. */
  readonly startedBy: string;
}

/** A flow that ended by itself and left the channel delivering nothing, until an entry confirms it. */
export interface ComputedEnd {
  readonly at: Instant;
  readonly bag: string | null;
  readonly fluid: Fluid | null;
  readonly contents: Contents | null;
  readonly source: FlowSource;
  readonly total: TotalName | null;
}

/** A report still young enough to be the same event as one from the other source. */
export interface RecentReport {
  /** The id of the entry. */
  readonly entry: string;
  readonly at: Instant;
  readonly source: Source;
  readonly kind: EntryKind;
  readonly value: string;
}

export interface Channel {
  readonly channel: string;
  readonly line: string | null;
  readonly connected: boolean;
  readonly type: ChannelType;
  readonly totals: "separate" | "combined" | "none";
  readonly clearsOn: readonly ClearingEvent[];
  readonly device: string | null;
  readonly rateStep: number | null;
  readonly dropFactor: number | null;
  /** Up to when the course of this channel has been worked out. */
  readonly upTo: Instant;
  readonly hold: Hold;
  readonly primary: Programme | null;
  readonly secondary: Programme | null;
  readonly bolus: Programme | null;
  readonly primaryBag: string | null;
  readonly secondaryBag: string | null;
  /** When taking a bag down last ended a flow: the bag hung in the same minute does not start it again. */
  readonly endedByTakingDown: Instant | null;
  readonly counters: Readonly<Partial<Record<TotalName, Counter>>>;
  /** Sources that ended by themselves since they were last started: an end charted later confirms. */
  readonly endedThemselves: readonly FlowSource[];
  readonly unconfirmed: ComputedEnd | null;
  readonly reports: readonly RecentReport[];
}

/** By how much more or less than computed a bag was found to hold, where that counts only from an instant on. */
export interface FoundLater {
  readonly off: Volume;
  readonly from: Instant;
}

/** A bag that hangs. What it holds may fall below zero, by flowing down to what its overfill allows. */
export interface Bag {
  readonly bag: string;
  readonly fluid: Fluid;
  readonly label: Volume;
  /** What drugs it holds; null where no additive is known. */
  readonly contents: Contents | null;
  readonly holds: Volume;
  /** What levels found that does not count yet, in the order in which it will. */
  readonly found: readonly FoundLater[];
  readonly overfill: Volume;
  /** When it was last known, not computed, what it holds. */
  readonly mark: BagMark;
  readonly channel: string;
  readonly role: Role;
}

/** What a bag holds that hangs no longer. */
export interface ShelvedBag {
  readonly holds: Volume;
  readonly found: readonly FoundLater[];
  readonly contents: Contents | null;
  /** When it came down, or was last adjusted or looked at since. */
  readonly since: Instant;
}

/** What drains collect in, and what it held when somebody last looked. */
export interface Chamber {
  readonly chamber: string;
  readonly category: OutputCategory;
  readonly level: Volume;
  readonly from: Instant;
  /** The entry that says so. */
  readonly entry: string;
}

export interface State {
  readonly channels: ReadonlyMap<string, Channel>;
  readonly bags: ReadonlyMap<string, Bag>;
  /**
   * Every bag hung before that hangs no longer. Of a state read from its text the lately taken down
   * ones; whoever goes on from it puts in whatever else the entries to come name.
   */
  readonly shelf: ReadonlyMap<string, ShelvedBag>;
  readonly chambers: ReadonlyMap<string, Chamber>;
  /** The lines that are in place. */
  readonly lines: ReadonlySet<string>;
  /** Lines that irrigate, in place or not any more. */
  readonly irrigating: ReadonlySet<string>;
  /** The patient is away and nobody knows whether the flows went on. */
  readonly awayUnknown: boolean;
  readonly discharged: boolean;
  /** The last weight measured, or that of admission: what a dose per weight is reckoned with. */
  readonly weight: BodyWeight | null;
}

export const NOTHING_KNOWN: State = {
  channels: new Map(),
  bags: new Map(),
  shelf: new Map(),
  chambers: new Map(),
  lines: new Set(),
  irrigating: new Set(),
  awayUnknown: false,
  discharged: false,
  weight: null,
};

/** A channel of which only its key is known: nothing can flow until it is connected. */
export function unconnected(channel: string, at: Instant): Channel {
  return {
    channel,
    line: null,
    connected: false,
    type: "pump",
    totals: "none",
    clearsOn: [],
    device: null,
    rateStep: null,
    dropFactor: null,
    upTo: at,
    hold: "none",
    primary: null,
    secondary: null,
    bolus: null,
    primaryBag: null,
    secondaryBag: null,
    endedByTakingDown: null,
    counters: {},
    endedThemselves: [],
    unconfirmed: null,
    reports: [],
  };
}

/** What a channel delivers from now, if anything: the bolus, else the secondary, else the primary. */
export function delivering(channel: Channel): FlowSource | null {
  if (!channel.connected || channel.hold !== "none") return null;
  if (channel.bolus !== null) return "bolus";
  if (channel.secondary !== null) return "secondary";
  return channel.primary !== null ? "primary" : null;
}

/** The total that a source of this channel counts in; a bolus counts in the primary's. */
export function countedIn(channel: Channel, source: FlowSource): TotalName | null {
  if (channel.totals === "none") return null;
  if (channel.totals === "combined") return "combined";
  return source === "secondary" ? "secondary" : "primary";
}

/** The totals a channel keeps. */
export function totalsOf(kind: Channel["totals"]): readonly TotalName[] {
  if (kind === "none") return [];
  return kind === "combined" ? ["combined"] : ["primary", "secondary"];
}

/** How long two reports of one event, by a person and a device, may lie apart: as far as their clocks. */
export const SAME_EVENT_WITHIN = CLOCKS_APART;

export function stillYoung(report: RecentReport, at: Instant): boolean {
  return later(report.at, SAME_EVENT_WITHIN) >= at;
}

/** A state being changed: copies a map the first time something in it changes. */
export class Draft {
  private channelsCopied = false;
  private bagsCopied = false;
  private shelfCopied = false;
  private channels: Map<string, Channel>;
  private bags: Map<string, Bag>;
  private shelf: Map<string, ShelvedBag>;
  private chambers: ReadonlyMap<string, Chamber>;
  lines: ReadonlySet<string>;
  irrigating: ReadonlySet<string>;
  awayUnknown: boolean;
  discharged: boolean;
  weight: BodyWeight | null;

  constructor(state: State) {
    this.channels = state.channels as Map<string, Channel>;
    this.bags = state.bags as Map<string, Bag>;
    this.shelf = state.shelf as Map<string, ShelvedBag>;
    this.chambers = state.chambers;
    this.lines = state.lines;
    this.irrigating = state.irrigating;
    this.awayUnknown = state.awayUnknown;
    this.discharged = state.discharged;
    this.weight = state.weight;
  }

  channel(key: string): Channel | undefined {
    return this.channels.get(key);
  }

  everyChannel(): readonly Channel[] {
    return [...this.channels.values()];
  }

  put(channel: Channel): Channel {
    if (!this.channelsCopied) {
      this.channels = new Map(this.channels);
      this.channelsCopied = true;
    }
    this.channels.set(channel.channel, channel);
    return channel;
  }

  bag(key: string | null): Bag | undefined {
    return key === null ? undefined : this.bags.get(key);
  }

  hang(bag: Bag): void {
    if (!this.bagsCopied) {
      this.bags = new Map(this.bags);
      this.bagsCopied = true;
    }
    this.bags.set(bag.bag, bag);
  }

  /** What a bag hung before, and hanging no longer, holds. */
  shelved(key: string): ShelvedBag | undefined {
    return this.shelf.get(key);
  }

  /** Takes a bag off its hook (if it hangs) and remembers what it holds. */
  shelve(key: string, shelved: ShelvedBag): void {
    if (!this.shelfCopied) {
      this.shelf = new Map(this.shelf);
      this.shelfCopied = true;
    }
    this.shelf.set(key, shelved);
    if (!this.bags.has(key)) return;
    if (!this.bagsCopied) {
      this.bags = new Map(this.bags);
      this.bagsCopied = true;
    }
    this.bags.delete(key);
  }

  unshelve(key: string): void {
    if (!this.shelf.has(key)) return;
    if (!this.shelfCopied) {
      this.shelf = new Map(this.shelf);
      this.shelfCopied = true;
    }
    this.shelf.delete(key);
  }

  chamber(key: string): Chamber | undefined {
    return this.chambers.get(key);
  }

  putChamber(chamber: Chamber): void {
    this.chambers = new Map(this.chambers).set(chamber.chamber, chamber);
  }

  done(): State {
    return {
      channels: this.channels,
      bags: this.bags,
      shelf: this.shelf,
      chambers: this.chambers,
      lines: this.lines,
      irrigating: this.irrigating,
      awayUnknown: this.awayUnknown,
      discharged: this.discharged,
      weight: this.weight,
    };
  }
}
