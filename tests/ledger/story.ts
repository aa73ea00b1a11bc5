/**
 * Random stories of a stay, told request by request over several days and the night the clocks change:
 * charting near now, late and very late, corrections of anything and corrections of those, moves, changes
 * of settings, a discharge. A story names times by how long ago they were and entries by how many there
 * are, so that any part of it is a story too.
 */

import fc from "fast-check";
import type { Told } from "./telling.js";

/** One entry as told: `ago` in minutes before the request, below 0 ahead of it. */
export interface Event {
  readonly ago: number;
  readonly told: Told;
  readonly byDevice: boolean;
}

export type Deed =
  | { readonly deed: "chart"; readonly later: number; readonly events: readonly Event[] }
  | { readonly deed: "amend"; readonly later: number; readonly which: number; readonly event: Event }
  | { readonly deed: "void"; readonly later: number; readonly which: number }
  | { readonly deed: "move"; readonly later: number; readonly unit: string; readonly ago: number }
  | {
      readonly deed: "settle";
      readonly later: number;
      readonly unit: string;
      readonly ago: number;
      readonly settings: Told;
    }
  | { readonly deed: "discharge"; readonly later: number; readonly ago: number }
  | { readonly deed: "stay after all"; readonly later: number };

const HOURS = 60;
const DAYS = 24 * HOURS;

const ago = fc.oneof(
  { weight: 6, arbitrary: fc.nat({ max: 2 * HOURS }) },
  { weight: 3, arbitrary: fc.nat({ max: 14 * HOURS }) },
  { weight: 2, arbitrary: fc.nat({ max: 4 * DAYS }) },
);
const later = fc.oneof(fc.integer({ min: 1, max: 3 * HOURS }), fc.integer({ min: 1, max: 20 * HOURS }));

const rate = fc.integer({ min: 1, max: 3_000 }).map((tenths) => tenths / 10);
const volume = fc.integer({ min: 1, max: 500 });
const channel = fc.constantFrom("pump-1", "pump-2");
const bag = fc.nat({ max: 3 });
const limit = fc.option(fc.oneof(volume, fc.constant("none")), { nil: undefined });

const of = (weight: number, kind: string, more: Record<string, fc.Arbitrary<unknown>>) => ({
  weight,
  arbitrary: fc.record({ kind: fc.constant(kind), ...more }) as fc.Arbitrary<Told>,
});

function kinds(): fc.Arbitrary<Told> {
  return fc.oneof(
    of(5, "flow-started", {
      channel,
      rate,
      volumeToInfuse: limit,
      keepOpenRate: fc.option(rate, { nil: undefined }),
    }),
    of(6, "rate-changed", { channel, rate }),
    of(2, "rate-changed", { channel, role: fc.constant("secondary"), rate: fc.constantFrom(200, "unknown") }),
    of(2, "flow-paused", { channel }),
    of(3, "flow-resumed", { channel }),
    of(1, "flow-stopped", { channel }),
    of(3, "secondary-started", { channel, rate, volumeToInfuse: volume }),
    of(2, "bolus-started", { channel, rate, volume }),
    of(5, "bag-hung", { channel, bag, role: fc.constantFrom("primary", "secondary") }),
    of(1, "bag-taken-down", { bag }),
    of(1, "bag-adjusted", { bag, volume: volume.map((v) => -v), reason: fc.constant("withdrawn") }),
    of(2, "total-read", { channel, total: fc.constantFrom("primary", "secondary"), volume }),
    of(1, "therapy-changed", { channel }),
    of(2, "channel-connected", { channel, line: fc.constantFrom("forearm", "subclavian") }),
    of(1, "channel-disconnected", { channel }),
    of(1, "away-started", { place: fc.constant("theatre"), flows: fc.constant("unknown") }),
    of(1, "away-ended", {}),
    of(2, "intake-measured", { category: fc.constant("oral"), volume }),
    of(1, "weight-measured", {
      weight: fc.record({ value: fc.integer({ min: 40, max: 90 }), unit: fc.constant("kg") }),
    }),
    of(2, "flow-started", {
      channel,
      dose: fc.record({ value: fc.integer({ min: 1, max: 9 }), unit: fc.constantFrom("mL/kg/h", "mL/h") }),
    }),
  );
}

const event: fc.Arbitrary<Event> = fc.record({
  ago,
  told: kinds(),
  byDevice: fc.constant(false),
});
const unit = fc.constantFrom("east", "west");
const settings = fc.oneof(
  fc.record({ overfillAllowance: fc.constantFrom(0, 0.2, 1) }),
  fc.record({ endConfirmedWithin: fc.constantFrom("PT0S", "PT2H") }),
  fc.record({ precision: fc.constantFrom(0.001, 1, 10) }),
);

const deed: fc.Arbitrary<Deed> = fc.oneof(
  {
    weight: 12,
    arbitrary: fc.record({
      deed: fc.constant("chart" as const),
      later,
      events: fc.array(event, { minLength: 1, maxLength: 4 }),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      deed: fc.constant("chart" as const),
      later,
      events: fc.array(
        fc.record({
          ago: fc.integer({ min: -3 * HOURS, max: 60 }),
          told: kinds(),
          byDevice: fc.constant(true),
        }),
        { minLength: 1, maxLength: 2 },
      ),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({ deed: fc.constant("amend" as const), later, which: fc.nat({ max: 40 }), event }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ deed: fc.constant("void" as const), later, which: fc.nat({ max: 40 }) }),
  },
  { weight: 1, arbitrary: fc.record({ deed: fc.constant("move" as const), later, unit, ago }) },
  {
    weight: 2,
    arbitrary: fc.record({
      deed: fc.constant("settle" as const),
      later,
      unit,
      ago: fc.oneof(ago, fc.integer({ min: -DAYS, max: 0 })),
      settings,
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({ deed: fc.constant("discharge" as const), later, ago: fc.nat({ max: 600 }) }),
  },
  { weight: 1, arbitrary: fc.record({ deed: fc.constant("stay after all" as const), later }) },
);

/** What becomes of a few bags on two pumps: most of it hanging and taking down. */
const aboutBags = fc.oneof(
  of(6, "bag-hung", { channel, bag }),
  of(1, "bag-hung", { channel, bag, remaining: volume }),
  of(5, "bag-taken-down", { bag }),
  of(1, "bag-taken-down", { bag, remaining: volume }),
  of(2, "bag-adjusted", { bag, volume: fc.constantFrom(-40, -25), reason: fc.constant("spilled") }),
  of(4, "flow-started", { channel, rate: fc.integer({ min: 1, max: 30 }), volumeToInfuse: limit }),
  of(3, "rate-changed", { channel, rate: fc.integer({ min: 1, max: 30 }) }),
);

const bagEvent = fc.record({ ago, told: aboutBags, byDevice: fc.constant(false) });
const untilNext = fc.integer({ min: 1, max: 40 * HOURS });

/** Stories of bags that come down and are hung again hours or days later, much of it charted late. */
export const storyOfBags = (most: number): fc.Arbitrary<readonly Deed[]> =>
  fc.array(
    fc.oneof(
      {
        weight: 8,
        arbitrary: fc.record({
          deed: fc.constant("chart" as const),
          later: untilNext,
          events: fc.array(bagEvent, { minLength: 1, maxLength: 4 }),
        }),
      },
      {
        weight: 3,
        arbitrary: fc.record({
          deed: fc.constant("amend" as const),
          later: untilNext,
          which: fc.nat({ max: 40 }),
          event: bagEvent,
        }),
      },
      {
        weight: 2,
        arbitrary: fc.record({
          deed: fc.constant("void" as const),
          later: untilNext,
          which: fc.nat({ max: 40 }),
        }),
      },
    ),
    { minLength: 4, maxLength: most },
  );

export const story = (most: number): fc.Arbitrary<readonly Deed[]> =>
  fc.array(deed, { minLength: 3, maxLength: most });
