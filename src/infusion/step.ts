/**
 * What one entry works with while it changes the course, and what every entry does first: the channel
 * it concerns comes up to its instant by itself, and a computed end is confirmed.
 */

import type { Settings } from "../conventions/settings.js";
import type { Instant } from "../time/instant.js";
import { advance } from "./advance.js";
import { channelWith } from "./copies.js";
import type { Source } from "./entry.js";
import type { Sink, UnknownSpan } from "./flow.js";
import { type Channel, type ComputedEnd, type Draft, unconnected } from "./state.js";

/** The settings of the unit that the course depends on, in force at an instant. */
export interface CourseSettings {
  /** The share of a label that a bag may give beyond what it holds, in thousandths. */
  readonly overfillAllowance: number;
  /** Whether an amount at the instant of a change belongs to what ends there. */
  readonly boundary: Settings["boundary"];
  /** The household measures that are known, by their lower-case names. */
  readonly household: Readonly<Record<string, number>>;
  /** Whether what was given back of an output is taken off. */
  readonly counts: Settings["counts"];
  /** The span that a charted time stands for. */
  readonly chartingGrain: Settings["chartingGrain"];
  /** How far a reading may be off and agree: whole per cent, and floors in whole microlitres. */
  readonly readingTolerance: Settings["readingTolerance"];
  /** How soon an entry must confirm a computed end, in milliseconds. */
  readonly endConfirmedWithin: number;
}

export type SettingsAt = (at: Instant) => CourseSettings;

/** The state being changed, where findings go, and the instant of the entry, its id and its origin. */
export interface Step {
  readonly draft: Draft;
  readonly sink: Sink;
  readonly settingsAt: SettingsAt;
  readonly at: Instant;
  readonly id: string;
  readonly sequence: number;
  readonly source: Source;
}

/** Brings a channel (made known if it is not) up to the step's instant; the entry confirms a computed end. */
export function comeTo(run: Step, key: string): Channel {
  const { draft, at, sink } = run;
  if (draft.channel(key) === undefined) return draft.put(unconnected(key, at));
  const channel = advance(draft, key, at, sink);
  const end = channel.unconfirmed;
  if (end === null) return channel;
  const gap = unconfirmedSpan(channel, end, at, run.settingsAt);
  if (gap !== null) sink.unknown(gap);
  return draft.put(channelWith(channel, { unconfirmed: null }));
}

/** The span after a computed end of which nobody knows, if the next entry on the channel came too late. */
export function unconfirmedSpan(
  channel: Channel,
  end: ComputedEnd,
  next: Instant,
  settingsAt: SettingsAt,
): UnknownSpan | null {
  if (next - end.at <= settingsAt(end.at).endConfirmedWithin) return null;
  return {
    channel: channel.channel,
    line: channel.line,
    bag: end.bag,
    fluid: end.fluid,
    contents: end.contents,
    role: end.source,
    total: end.total,
    start: end.at,
    end: next,
    reason: "end-unconfirmed",
  };
}

/** Notes that an entry changed nothing, and why; a later entry may give it sense. */
export function withoutEffect(run: Step, channel: string | null, why: string): void {
  run.sink.note({ code: "entry-without-effect", at: run.at, entry: run.id, channel, why });
}

/** Evidence, hung on the entry of a step and the channel it concerns. Assigned: spreading takes far longer. */
export function evident<T extends object>(run: Step, { channel, type, line }: Channel, what: T) {
  const { id, sequence, source, at } = run;
  return Object.assign({ entry: id, sequence, source, at, channel, type, line }, what);
}
