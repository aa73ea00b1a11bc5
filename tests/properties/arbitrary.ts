/**
 * Random encounters: one to four channels over two lines, bags hung, moved and hung again, and every
 * kind of entry that changes a course, from plain shifts to nonsense. Each begins with channels
 * connected, bags hung and flows started, so that what follows mostly means something.
 */

import fc from "fast-check";
import type {
  ClearingEvent,
  Entry,
  Fluid,
  IntakeCategory,
  Placed,
  Source,
} from "../../src/infusion/entry.js";

/** A day of March 2026 at 07:00 UTC, when every encounter begins. */
export const BEGINS = Date.UTC(2026, 2, 4, 7);

/** How wide an encounter is and what its numbers look like; times in ms, rates in µL/h, volumes in µL. */
export interface Scale {
  readonly lasts: fc.Arbitrary<number>;
  /** Entries happen at multiples of this after the beginning. */
  readonly grain: number;
  readonly rate: fc.Arbitrary<number>;
  readonly volume: fc.Arbitrary<number>;
  readonly label: fc.Arbitrary<number>;
}

const HOUR = 3_600_000;
const times = (values: readonly number[], by: number) =>
  fc.constantFrom(...values.map((value) => value * by));

/** Powers of two throughout, so that nearly every limit is reached on a whole second. */
export const WHOLE_SECONDS: Scale = {
  lasts: times([2, 4, 8, 24], HOUR),
  grain: 256_000,
  rate: times([5, 10, 20, 40, 80], 3_600),
  volume: fc.integer({ min: 1, max: 16 }).map((n) => n * 20_480),
  label: times([1, 2, 4, 8], 102_400),
};

/** What hangs on a ward: rates to a tenth of a mL/h, volumes to a tenth of a mL, charted by the minute. */
export const REALISTIC: Scale = {
  lasts: times([2, 4, 8, 24], HOUR),
  grain: 60_000,
  rate: fc.oneof(times([20, 75, 80, 100, 125, 150, 200, 300], 1_000), times([1, 8, 21, 833, 9_999], 100)),
  volume: fc.oneof(
    times([10, 20, 50, 100, 250], 1_000),
    fc.integer({ min: 1, max: 3_000 }).map((n) => n * 100),
  ),
  label: times([50, 100, 250, 500, 1_000], 1_000),
};

/** A few seconds looked at by the millisecond, with any rate and any volume. */
export const CLOSE_UP: Scale = {
  lasts: times([2, 5, 20], 1_000),
  grain: 50,
  rate: fc.oneof(fc.integer({ min: 1, max: 5_000_000 }), times([999, 1_200], 1_000)),
  volume: fc.oneof(fc.integer({ min: 1, max: 2_000 }), times([1, 2], 1_000)),
  label: fc.oneof(fc.integer({ min: 1, max: 3_000 }), times([1, 2, 5], 1_000)),
};

export interface Encounter {
  readonly until: number;
  readonly entries: readonly Placed[];
}

type Move = Record<string, unknown> & {
  kind: string;
  when: number;
  channel?: number;
  bag?: number;
  line?: number;
};

const index = fc.nat({ max: 3 });
const CATEGORIES: readonly IntakeCategory[] = ["iv-fluid", "iv-medication", "blood-product"];
const LINES = ["forearm", "subclavian"];

/** Kinds that follow the first minutes, weighed by how often they happen at a bedside. */
function moveOf(scale: Scale): fc.Arbitrary<Move> {
  const { volume } = scale;
  const rate = fc.oneof(
    { weight: 12, arbitrary: scale.rate },
    { weight: 1, arbitrary: fc.constant("unknown") },
  );
  const toInfuse = fc.oneof(fc.constant("bag"), fc.constant("none"), volume);
  const role = fc.constantFrom("primary", "primary", "secondary");
  const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined, freq: 2 });
  const channel = index;
  const bag = fc.nat({ max: 5 });
  const when = fc.nat({ max: 1_000_000 });
  const total = fc.constantFrom("primary", "secondary", "combined");
  const of = (weight: number, kind: string, more: Record<string, fc.Arbitrary<unknown>>) => ({
    weight,
    arbitrary: fc.record({ kind: fc.constant(kind), when, ...more }) as unknown as fc.Arbitrary<Move>,
  });
  return fc.oneof(
    of(6, "flow-started", { channel, rate, volumeToInfuse: toInfuse, keepOpenRate: maybe(scale.rate) }),
    of(8, "rate-changed", { channel, role, rate }),
    of(4, "volume-to-infuse-set", { channel, role, volumeToInfuse: toInfuse }),
    of(5, "flow-paused", { channel }),
    of(6, "flow-resumed", { channel }),
    of(2, "flow-stopped", { channel }),
    of(6, "secondary-started", {
      channel,
      rate,
      volumeToInfuse: toInfuse,
      whenDone: fc.constantFrom("resume-primary", "resume-primary", "wait"),
    }),
    of(2, "secondary-ended", { channel }),
    of(6, "bolus-started", {
      channel,
      rate: scale.rate,
      volume,
      whenDone: fc.constantFrom("return", "return", "wait"),
    }),
    of(2, "bolus-stopped", { channel }),
    of(10, "bag-hung", { channel, bag, role, remaining: maybe(volume) }),
    of(3, "bag-taken-down", { bag, remaining: maybe(volume) }),
    of(2, "bag-level-read", { bag, remaining: volume }),
    of(2, "bag-adjusted", {
      bag,
      volume: fc.oneof(
        volume,
        volume.map((v) => -v),
      ),
    }),
    of(1, "therapy-changed", { channel }),
    of(2, "totals-reset", { channel, totals: fc.uniqueArray(total, { minLength: 1 }) }),
    of(3, "total-read", {
      channel,
      total,
      volume: fc.oneof(fc.constant(0), volume),
      position: maybe(fc.constantFrom("before", "after")),
    }),
    of(2, "channel-connected", {
      channel,
      line: fc.nat({ max: 1 }),
      device: maybe(fc.constantFrom("a", "b")),
    }),
    of(1, "channel-disconnected", { channel }),
    of(1, "line-removed", { line: fc.nat({ max: 1 }) }),
    of(1, "away-started", { flows: fc.constantFrom("go-on", "unknown") }),
    of(1, "away-ended", {}),
  );
}

const clearsOn = fc.subarray<ClearingEvent>(["therapy-change", "new-secondary", "disconnect"]);

/** Random encounters of a scale; `moves` is how many entries at most follow the first minutes. */
export function encounterOf(scale: Scale, moves = 24): fc.Arbitrary<Encounter> {
  const connected = fc.record({
    line: fc.nat({ max: 1 }),
    type: fc.constantFrom("pump", "syringe", "gravity"),
    device: fc.constantFrom(undefined, "a", "b"),
    totals: fc.constantFrom("separate", "separate", "combined", "none"),
    clearsOn,
    start: fc.record({
      rate: scale.rate,
      volumeToInfuse: fc.oneof(fc.constant("bag"), fc.constant("none"), scale.volume),
      keepOpenRate: fc.option(scale.rate, { nil: undefined }),
    }),
  });
  const tie = fc.record({
    source: fc.constantFrom<Source>("person", "person", "person", "person", "device"),
    order: fc.oneof(
      { weight: 12, arbitrary: fc.constant(undefined) },
      { weight: 1, arbitrary: fc.integer({ min: -1, max: 1 }) },
    ),
  });
  return fc
    .record({
      lasts: scale.lasts,
      channels: fc.array(connected, { minLength: 1, maxLength: 4 }),
      labels: fc.array(scale.label, { minLength: 6, maxLength: 6 }),
      moves: fc.array(fc.tuple(moveOf(scale), tie), { maxLength: moves }),
    })
    .map(({ lasts, channels, labels, moves }) => {
      const begins = channels.flatMap((channel, i): Move[] => [
        { kind: "channel-connected", when: 0, channel: i, line: channel.line, device: channel.device },
        { kind: "bag-hung", when: 0, channel: i, bag: i, role: "primary" },
        { kind: "flow-started", when: 0, channel: i, ...channel.start },
      ]);
      const said = [
        ...begins.map((move) => [move, { source: "person" as Source, order: undefined }] as const),
        ...moves,
      ];
      const steps = lasts / scale.grain;
      const entries = said.map(([move, { source, order }], i): Placed => {
        const at = BEGINS + Math.floor((move.when * steps) / 1_000_000) * scale.grain;
        const entry = { ...named(move, channels, labels), at, ...(order === undefined ? {} : { order }) };
        return { id: `entry-${i + 1}`, sequence: i + 1, source, entry: entry as unknown as Entry };
      });
      return { until: BEGINS + lasts, entries };
    });
}

type Connected = { type: string; totals: string; clearsOn: readonly ClearingEvent[] };

/** Turns the numbers of a move into keys, and gives a channel and a bag what it always has. */
function named(
  move: Move,
  channels: readonly Connected[],
  labels: readonly number[],
): Record<string, unknown> {
  const { when: _when, channel, bag, line, ...rest } = move;
  const entry: Record<string, unknown> = rest;
  if (channel !== undefined) entry.channel = `pump-${(channel % channels.length) + 1}`;
  if (bag !== undefined) entry.bag = `bag-${bag + 1}`;
  if (line !== undefined) entry.line = LINES[line];
  if (move.kind === "channel-connected") {
    const { type, totals, clearsOn } = channels[channel! % channels.length]!;
    Object.assign(entry, { type, totals, clearsOn });
  }
  if (move.kind === "bag-hung") {
    entry.volume = labels[bag!];
    entry.fluid = { name: `fluid ${bag! + 1}`, category: CATEGORIES[bag! % 3] } satisfies Fluid;
  }
  for (const key of Object.keys(entry)) if (entry[key] === undefined) delete entry[key];
  return entry;
}
