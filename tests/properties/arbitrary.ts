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
import type { Scale } from "./scales.js";

/** 07:00 UTC on a day of March 2026, when every encounter begins. */
export const BEGINS = Date.UTC(2026, 2, 4, 7);

export interface Encounter {
  readonly until: number;
  readonly entries: readonly Placed[];
}

/** An entry before its keys are known: `when` in millionths of the stay; channels, bags and lines by number. */
type Move = Record<string, unknown> & {
  kind: string;
  when: number;
  channel?: number;
  bag?: number;
  line?: number;
};

const CATEGORIES: readonly IntakeCategory[] = ["iv-fluid", "iv-medication", "blood-product"];
const LINES = ["forearm", "subclavian"];
const line = fc.nat({ max: 1 });
const device = fc.constantFrom(undefined, "a", "b");
const maybe = <T>(of: fc.Arbitrary<T>) => fc.option(of, { nil: undefined, freq: 2 });

/** Kinds that follow the first minutes, weighed so that flows go on rather than end. */
function moveOf(scale: Scale, bags: number): fc.Arbitrary<Move> {
  const { volume } = scale;
  const rate = fc.oneof(
    { weight: 12, arbitrary: scale.rate },
    { weight: 1, arbitrary: fc.constant("unknown") },
  );
  const volumeToInfuse = fc.oneof(fc.constant("bag"), fc.constant("none"), volume);
  const role = fc.constantFrom("primary", "primary", "secondary");
  const [channel, bag] = [fc.nat({ max: 3 }), fc.nat({ max: bags - 1 })];
  const total = fc.constantFrom("primary", "secondary", "combined");
  const of = (weight: number, kind: string, more: Record<string, fc.Arbitrary<unknown>>) => ({
    weight,
    arbitrary: fc.record({ kind: fc.constant(kind), when: fc.nat({ max: 1_000_000 }), ...more }),
  });
  const rarely = (resume: string) => fc.constantFrom(resume, resume, "wait");
  return fc.oneof(
    of(6, "flow-started", { channel, rate, volumeToInfuse, keepOpenRate: maybe(scale.rate) }),
    of(8, "rate-changed", { channel, role, rate }),
    of(4, "volume-to-infuse-set", { channel, role, volumeToInfuse }),
    of(5, "flow-paused", { channel }),
    of(6, "flow-resumed", { channel }),
    of(2, "flow-stopped", { channel }),
    of(6, "secondary-started", { channel, rate, volumeToInfuse, whenDone: rarely("resume-primary") }),
    of(2, "secondary-ended", { channel }),
    of(6, "bolus-started", { channel, rate: scale.rate, volume, whenDone: rarely("return") }),
    of(2, "bolus-stopped", { channel }),
    of(10, "bag-hung", { channel, bag, role, remaining: maybe(volume) }),
    of(3, "bag-taken-down", { bag, remaining: maybe(volume) }),
    of(2, "bag-level-read", { bag, remaining: volume }),
    of(2, "bag-adjusted", {
      bag,
      volume: fc.oneof(
        volume,
        volume.map((more) => -more),
      ),
    }),
    of(1, "therapy-changed", { channel }),
    of(2, "totals-reset", { channel, totals: fc.uniqueArray(total, { minLength: 1 }) }),
    of(3, "total-read", {
      channel,
      total,
      // A zero is what a cleared total shows; it has tests of its own.
      volume: volume.filter((read) => read > 0),
      position: maybe(fc.constantFrom("before", "after")),
    }),
    of(2, "channel-connected", { channel, line, device }),
    of(1, "channel-disconnected", { channel }),
    of(1, "line-removed", { line }),
    of(1, "away-started", { flows: fc.constantFrom("go-on", "unknown") }),
    of(1, "away-ended", {}),
    of(1, "discharged", {}),
  ) as unknown as fc.Arbitrary<Move>;
}

/** What a channel always has: a key is declared once, with the same properties. */
function channelOf(scale: Scale) {
  return fc.record({
    line,
    device,
    always: fc.record({
      // A level of a gravity set is what was delivered, a device's reading waits for a person: neither is
      // a matter of rate and time, which the simulator knows alone.
      type: fc.constantFrom("pump", "syringe"),
      totals: fc.constantFrom("separate", "separate", "combined", "none"),
      clearsOn: fc.subarray<ClearingEvent>(["therapy-change", "new-secondary", "disconnect"]),
    }),
    start: fc.record({
      rate: scale.rate,
      volumeToInfuse: fc.oneof(fc.constant("bag"), fc.constant("none"), scale.volume),
      keepOpenRate: maybe(scale.rate),
    }),
  });
}

const tie = fc.record({
  source: fc.constantFrom<Source>("person", "person", "person", "person", "device"),
  order: fc.oneof(
    { weight: 12, arbitrary: fc.constant(undefined) },
    { weight: 1, arbitrary: fc.integer({ min: -1, max: 1 }) },
  ),
});

/** Random encounters of a scale, with at most so many moves after the first minutes, and among so many bags. */
export function encounterOf(scale: Scale, maxMoves = 24, bags = 6): fc.Arbitrary<Encounter> {
  const parts = fc.record({
    lasts: scale.lasts,
    channels: fc.array(channelOf(scale), { minLength: 1, maxLength: 4 }),
    labels: fc.array(scale.label, { minLength: 6, maxLength: 6 }),
    moves: fc.array(fc.tuple(moveOf(scale, bags), tie), { maxLength: maxMoves }),
  });
  return parts.map(({ lasts, channels, labels, moves }) => {
    const begin = channels.flatMap(({ line, device, start }, channel): Move[] => [
      { kind: "channel-connected", when: 0, channel, line, device },
      { kind: "bag-hung", when: 0, channel, bag: channel, role: "primary" },
      { kind: "flow-started", when: 0, channel, ...start },
    ]);
    const untied = { source: "person" as Source, order: undefined };
    const told = [...begin.map((move) => [move, untied] as const), ...moves];
    const entries = told.map(([move, { source: from, order }], i): Placed => {
      const source = move.kind === "total-read" ? "person" : from;
      const at = BEGINS + Math.floor((move.when * lasts) / scale.grain / 1_000_000) * scale.grain;
      const entry = { ...withKeys(move, channels, labels), at, ...(order === undefined ? {} : { order }) };
      return { id: `entry-${i + 1}`, sequence: i + 1, source, entry: entry as unknown as Entry };
    });
    return { until: BEGINS + lasts, entries };
  });
}

/** Numbers become keys; a channel and a bag get what they always have. */
function withKeys(
  { when: _when, channel, bag, line, ...rest }: Move,
  channels: readonly { always: object }[],
  labels: readonly number[],
): Record<string, unknown> {
  const entry: Record<string, unknown> = { ...rest };
  const index = channel === undefined ? 0 : channel % channels.length;
  if (channel !== undefined) entry.channel = `pump-${index + 1}`;
  if (bag !== undefined) entry.bag = `bag-${bag + 1}`;
  if (line !== undefined) entry.line = LINES[line];
  if (entry.kind === "channel-connected") Object.assign(entry, channels[index]!.always);
  if (entry.kind === "bag-hung") {
    entry.volume = labels[bag!];
    entry.fluid = { name: `fluid ${bag! + 1}`, category: CATEGORIES[bag! % 3]! } satisfies Fluid;
  }
  return Object.fromEntries(Object.entries(entry).filter(([, value]) => value !== undefined));
}
