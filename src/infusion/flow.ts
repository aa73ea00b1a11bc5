/**
 * What the calculation hands out: flows (one bag delivering at one rate over a span), spans of which
 * nobody knows, and notes on entries that changed nothing. A flow's volume is exact.
 */

import type { Instant } from "../time/instant.js";
import type { Contents } from "./contents.js";
import type { Fluid, TotalName } from "./entry.js";
import type {
  BagGone,
  CameOut,
  Drained,
  Finished,
  LevelJudged,
  SegmentTold,
  TotalCleared,
  TotalJudged,
} from "./evidence.js";
import { delivered, lesser, NOTHING, type Rate, type Volume } from "./quantity.js";

/** Under what a delivered volume is charted. */
export type FlowRole = "primary" | "secondary" | "bolus" | "keep-open";

export interface Flow {
  readonly channel: string;
  readonly line: string | null;
  /** Null for unidentified fluid: a flowing channel without a bag. */
  readonly bag: string | null;
  readonly fluid: Fluid | null;
  /** What drugs were in the bag meanwhile; null where none is known. */
  readonly contents: Contents | null;
  readonly role: FlowRole;
  /** The running total that counts it, if the device keeps one. */
  readonly total: TotalName | null;
  /** What was programmed: the entry that started it and, where its limit is what the bag holds, the bag. */
  readonly programme: string;
  readonly start: Instant;
  readonly end: Instant;
  readonly rate: Rate;
  /** What it delivered, at most rate × time: the last millisecond of a limited flow carries only the rest. */
  readonly volume: Volume;
}

export type UnknownReason = "end-unconfirmed" | "rate-unknown" | "away" | "unread";

/** A span in which something may have flowed that no entry tells of. */
export interface UnknownSpan {
  readonly channel: string;
  /** The running total that would count it, if the device keeps one. */
  readonly total: TotalName | null;
  readonly line: string | null;
  readonly bag: string | null;
  readonly fluid: Fluid | null;
  readonly contents: Contents | null;
  readonly role: FlowRole;
  readonly start: Instant;
  readonly end: Instant;
  readonly reason: UnknownReason;
}

export type NoteCode = "entry-without-effect" | "reported-twice" | "bag-overdrawn" | "line-removed-running";

/** Something a person may want to look at, hung on the entry it is about. */
export interface Note {
  readonly code: NoteCode;
  readonly at: Instant;
  /** The id of the entry. */
  readonly entry: string;
  readonly channel: string | null;
  /** Of an event reported twice: the id of the report that counts. */
  readonly twin?: string;
  /** The bag that is overdrawn. */
  readonly bag?: string;
  /** Why, in a plain sentence without numbers that a later entry could change. */
  readonly why: string;
}

/** Where the calculation puts what it finds. */
export interface Sink {
  flow(flow: Flow): void;
  unknown(span: UnknownSpan): void;
  note(note: Note): void;
  finished(end: Finished): void;
  read(reading: TotalJudged): void;
  segment(segment: SegmentTold): void;
  cleared(clear: TotalCleared): void;
  level(level: LevelJudged): void;
  gone(bag: BagGone): void;
  drained(chamber: Drained): void;
  output(output: CameOut): void;
}

/** A sink for whoever only wants the state. */
export const NOWHERE: Sink = {
  flow() {},
  unknown() {},
  note() {},
  finished() {},
  read() {},
  segment() {},
  cleared() {},
  level() {},
  gone() {},
  drained() {},
  output() {},
};

/** The flow over another span. Written out, since there is one for every piece of a flow. */
export function flowWith(flow: Flow, start: Instant, end: Instant, volume: Volume): Flow {
  return {
    channel: flow.channel,
    line: flow.line,
    bag: flow.bag,
    fluid: flow.fluid,
    contents: flow.contents,
    role: flow.role,
    total: flow.total,
    programme: flow.programme,
    start,
    end,
    rate: flow.rate,
    volume,
  };
}

/** What a flow had delivered by an instant: its cumulative curve. */
export function deliveredBy({ start, end, rate, volume }: Flow, at: Instant): Volume {
  return ranBy(start, end, rate, volume, at);
}

/** What runs at a rate over a span, and comes to a volume in the end, had come to by an instant. */
export function ranBy(start: Instant, end: Instant, rate: Rate, volume: Volume, at: Instant): Volume {
  if (at <= start) return NOTHING;
  if (at >= end) return volume;
  return lesser(delivered(rate, at - start), volume);
}
