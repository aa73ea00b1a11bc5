/**
 * Random readings over random courses: people and devices write down what the running totals of a channel
 * show, a little off or far off, some channels hang from gravity sets or count without a rate, and devices
 * tell what they counted over segments of their own.
 */

import fc from "fast-check";
import { defaultSettings } from "../../src/conventions/settings.js";
import type { Anchor } from "../../src/infusion/anchor.js";
import type { Apportioned } from "../../src/infusion/apportion.js";
import { type Collected, collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import { givenBy } from "../../src/infusion/delivery.js";
import type { Entry, Placed, Source, TotalName } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { NOTHING_KNOWN, type State } from "../../src/infusion/state.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { BEGINS, type Encounter, encounterOf } from "./arbitrary.js";
import { OVERFILL } from "./folding.js";
import type { Scale } from "./scales.js";

const TICKS_PER_MICROLITRE = 3_600_000n;
const MINUTE = 60_000;

/** How a reading is taken: by whom, when, and how far off it is, in thousandths of what was computed. */
export interface Look {
  /** When, in millionths of the stay. */
  readonly when: number;
  readonly channel: number;
  readonly total: TotalName;
  readonly source: Source;
  readonly thousandths: number;
  readonly confirmed: boolean;
}

const total = fc.constantFrom<TotalName>("primary", "primary", "secondary", "combined");

const lookOff = (thousandths: fc.Arbitrary<number>): fc.Arbitrary<Look> =>
  fc.record({
    when: fc.integer({ min: 1, max: 1_000_000 }),
    channel: fc.nat({ max: 3 }),
    total,
    source: fc.constantFrom<Source>("person", "device"),
    thousandths,
    confirmed: fc.boolean(),
  });

/** Off by no more than what agrees: 5 % of what was computed. */
export const agreeing = lookOff(fc.integer({ min: 951, max: 1_049 }));
/** So far off that a factor of 0.8 to 1.25 is passed now and then. */
export const doubtful = lookOff(fc.integer({ min: 600, max: 1_400 }));
/** To the microlitre what was computed. */
export const exact = lookOff(fc.constant(1_000));
/** Mostly agreeing, some so far off that they are in doubt. */
export const anyhow = fc.oneof(
  { weight: 4, arbitrary: agreeing },
  { weight: 1, arbitrary: lookOff(fc.integer({ min: 0, max: 2_000 })) },
);

export interface Segment {
  readonly when: number;
  readonly lasts: number;
  readonly channel: number;
  readonly volume: number;
  readonly source: Source;
}

/** What a person writes down of a device's segments counts, in dispute; a device's own waits unless it agrees. */
export const segments = fc.array(
  fc.record({
    when: fc.nat({ max: 900_000 }),
    lasts: fc.integer({ min: 1, max: 400_000 }),
    channel: fc.nat({ max: 3 }),
    volume: fc.nat({ max: 200_000 }),
    source: fc.constantFrom("person", "person", "device"),
  }),
  { maxLength: 3 },
);

/** Courses of their own entries alone, some of their channels no pumps. */
export function courseOf(scale: Scale, moves = 16): fc.Arbitrary<Encounter> {
  const others = fc.record({
    type: fc.constantFrom(undefined, undefined, "gravity", "metered"),
    channel: fc.nat({ max: 3 }),
    plain: fc.boolean(),
    /** A channel that begins wide open, at a rate nobody knows. */
    open: fc.nat({ max: 7 }),
  });
  return fc.record({ stay: encounterOf(scale, moves), others }).map(({ stay, others }) => ({
    ...stay,
    entries: stay.entries
      .filter(({ entry }) => entry.kind !== "total-read")
      .map((placed) => ({ ...placed, entry: altered(placed.entry, others) })),
  }));
}

/** A plain stay begins with bags that last it, so that readings have something to say for hours. */
function altered(
  entry: Entry,
  { type, channel, plain, open }: { type: string | undefined; channel: number; plain: boolean; open: number },
): Entry {
  if (entry.kind === "flow-started" && entry.at === BEGINS && entry.channel === `pump-${open + 1}`) {
    return { ...entry, rate: "unknown" };
  }
  if (plain && entry.kind === "bag-hung" && entry.at === BEGINS) return { ...entry, volume: 5_000_000 };
  if (plain && entry.kind === "flow-started") return { ...entry, volumeToInfuse: "none" };
  const other = entry.kind === "channel-connected" && entry.channel === `pump-${channel + 1}`;
  if (!other || type === undefined) return entry;
  return { ...entry, type, totals: type === "gravity" ? "none" : entry.totals } as Entry;
}

const settings = () => ({ ...defaultSettings, overfillAllowance: OVERFILL, household: {} });

export interface Followed extends Collected {
  readonly state: State;
}

/** The course of entries recorded in any order, as a ledger collects it: flows joined where they go on. */
export function followed(entries: readonly Placed[], until: number): Followed {
  const { sink, ...collected } = collector();
  let state = NOTHING_KNOWN;
  for (const placed of inOrder(entries)) {
    if (placed.entry.at <= until) state = follow(state, placed, settings, sink);
  }
  state = comeUpTo(state, instant(until), sink);
  return { state, ...collected };
}

/** The stay with what was read: each reading is taken off a device that counts what was computed, a little off. */
export function withLooks(
  stay: Encounter,
  looks: readonly Look[],
  told: readonly Segment[] = [],
): { readonly entries: readonly Placed[]; readonly readings: readonly Placed[] } {
  const channels = [
    ...new Set(stay.entries.flatMap(({ entry }) => ("channel" in entry ? [entry.channel] : []))),
  ];
  let entries = [...stay.entries];
  const readings: Placed[] = [];
  const add = (source: Source, entry: Entry) => {
    const sequence = 1 + Math.max(...entries.map((one) => one.sequence));
    const placed: Placed = { id: `entry-${sequence}`, sequence, source, entry };
    readings.push(placed);
    entries = [...entries, placed];
  };
  const length = stay.until - BEGINS;
  const at = (when: number) =>
    instant(BEGINS + Math.max(1, Math.floor((when * length) / MINUTE / 1_000_000)) * MINUTE);
  for (const look of [...looks].sort((a, b) => a.when - b.when)) {
    const time = at(look.when);
    if (time > stay.until) continue;
    const { state } = followed(
      entries.filter(({ entry }) => entry.at < time),
      time,
    );
    const channel = channels[look.channel % channels.length]!;
    const counter = state.channels.get(channel)?.counters[look.total];
    if (counter === undefined) continue;
    const since = (counter.since * BigInt(look.thousandths)) / 1_000n;
    const volume = Number((counter.base + since) / TICKS_PER_MICROLITRE);
    // A zero says that a total was cleared, and never answers for what it counted.
    if (volume === 0) continue;
    const { total, confirmed, source } = look;
    add(source, { kind: "total-read", at: time, channel, total, volume, confirmed });
  }
  for (const { when, lasts, channel, volume, source } of told) {
    const [start, end] = [at(when), at(Math.min(1_000_000, when + lasts))];
    if (start >= end || end > stay.until) continue;
    const key = channels[channel % channels.length]!;
    add(source, { kind: "segment-read", at: end, channel: key, start, volume });
  }
  return { entries, readings };
}

/** What the deliveries of an anchor's span come to, between two instants of it, in ticks. */
export function deliveredIn(told: Apportioned, anchor: Anchor, from: Instant, to: Instant): bigint {
  return told.deliveries
    .filter((delivery) => delivery.channel === anchor.channel && counts(anchor, delivery))
    .reduce((sum, delivery) => sum + givenBy(delivery, to) - givenBy(delivery, from), 0n);
}

function counts(anchor: Anchor, { total, bag }: { total: TotalName | null; bag: string | null }): boolean {
  if (anchor.kind === "segment") return true;
  return anchor.kind === "total" ? anchor.total === total : anchor.bag === bag;
}
