/**
 * Whatever is done to a bag: its drug by the hour adds up to the shift, as shown and exactly, and no more is known to
 * have left it than went into it. What goes beyond comes out of the overfill, or a level found it, and says so.
 */

import fc from "fast-check";
import { expect, it } from "vitest";
import { type DrugAmounts, drugAmounts } from "../../src/balance/drug-amounts.js";
import { defaultSettings } from "../../src/conventions/settings.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { carriedBy } from "../../src/infusion/contents.js";
import type { Entry, Placed } from "../../src/infusion/entry.js";
import { type Ratio, ratio, sum } from "../../src/infusion/ratio.js";
import { HOUR, type Instant, instant, MINUTE } from "../../src/time/instant.js";
import { fold } from "./folding.js";
import { PATIENCE, runs } from "./runs.js";

const BEGINS = Date.parse("2026-03-04T07:00:00Z");
const [HOURS, HALF] = [24, 12];
const ENDS = instant(BEGINS + HOURS * HOUR);
const SHIFTS = [instant(BEGINS), instant(BEGINS + HALF * HOUR)];
const AMOUNT = 25_000_000_000;
const LABEL = 500_000;
const onPump = { channel: "pump-1" };

const hung = (key: string, remaining?: number, additives = true) =>
  ({
    ...onPump,
    kind: "bag-hung",
    bag: key,
    role: "primary",
    volume: LABEL,
    fluid: { name: "Drug", category: "iv-medication" },
    ...(remaining !== undefined && { remaining }),
    ...(additives && { additives: [{ name: "Drug", amount: AMOUNT, unit: "[iU]" }] }),
  }) as const;

const bag = fc.constantFrom("a", "b");
const volume = fc.integer({ min: 0, max: LABEL });
const rate = fc.integer({ min: 1_000, max: 300_000 });
const deed = fc.oneof(
  fc
    .record({ bag, remaining: fc.option(volume, { nil: undefined }), additives: fc.boolean() })
    .map((one) => hung(one.bag, one.remaining, one.additives)),
  fc.record({ kind: fc.constant("bag-taken-down"), bag, remaining: fc.option(volume, { nil: undefined }) }),
  fc.record({
    kind: fc.constant("bag-adjusted"),
    bag,
    volume: fc.integer({ min: -100_000, max: 200_000 }),
  }),
  rate.map((value) => ({ ...onPump, kind: "flow-started", rate: value, volumeToInfuse: "none" })),
  rate.map((value) => ({ ...onPump, kind: "rate-changed", role: "primary", rate: value })),
  fc.constantFrom({ ...onPump, kind: "flow-paused" }, { ...onPump, kind: "flow-resumed" }),
);
const stay = fc
  .array(fc.record({ minute: fc.integer({ min: 1, max: HOURS * 60 }), deed }), { maxLength: 12 })
  .map((deeds): Placed[] => {
    const first = [
      { kind: "line-placed", line: "forearm", route: "intravenous" },
      { ...onPump, kind: "channel-connected", line: "forearm", type: "pump", totals: "none", clearsOn: [] },
      hung("a"),
      { ...onPump, kind: "flow-started", rate: 100_000, volumeToInfuse: "none" },
    ].map((one) => ({ ...one, at: instant(BEGINS) }));
    const later = deeds.map(({ minute, deed: one }) => ({ ...one, at: instant(BEGINS + minute * MINUTE) }));
    return [...first, ...later].map((entry, i) => ({
      id: `e${i + 1}`,
      sequence: i + 1,
      source: "person",
      entry: entry as unknown as Entry,
    }));
  });

function amounts(entries: readonly Placed[], hours: number): DrugAmounts | undefined {
  const intervals = Array.from({ length: HOURS / hours }, (_, i) => ({
    start: instant(BEGINS + i * hours * HOUR),
    end: instant(BEGINS + (i + 1) * hours * HOUR),
  }));
  const told = apportioned(fold(entries, ENDS));
  const asked = {
    intervals,
    anchors: SHIFTS,
    until: ENDS,
    admittedAt: SHIFTS[0] as Instant,
    stepOf: () => defaultSettings.precision,
  };
  return drugAmounts({ ...told, lost: [] }, asked)[0];
}

const value = ({ n, d }: Ratio) => Number(n) / Number(d);

it(
  "by the hour adds up to the shift, as shown and exactly",
  () => {
    fc.assert(
      fc.property(stay, (entries) => {
        const [byHour, byShift] = [amounts(entries, 1), amounts(entries, HALF)];
        for (const shift of [0, 1]) {
          const hours = <T>(all: readonly T[] = []) => all.slice(shift * HALF, (shift + 1) * HALF);
          const shown = (all: readonly number[]) => all.reduce((one, other) => one + other, 0);
          expect(shown(hours(byHour?.shown))).toBe(byShift?.shown[shift] ?? 0);
          expect(shown(hours(byHour?.volumes))).toBe(byShift?.volumes[shift] ?? 0);
          const exact = hours(byHour?.exact).reduce(sum, ratio(0));
          expect(sum(exact, ratio(0))).toEqual(sum(byShift?.exact[shift] ?? ratio(0), ratio(0)));
        }
      }),
      runs(200),
    );
  },
  PATIENCE,
);

it(
  "that left a bag for sure is no more than went into it, and beyond is no more than the bag gave",
  () => {
    fc.assert(
      fc.property(stay, (entries) => {
        const { flows } = fold(entries, ENDS);
        for (const key of ["a", "b"]) {
          const known = flows.filter(({ bag: its, contents }) => its === key && contents?.spent === false);
          const carried = known.flatMap((flow) =>
            carriedBy(flow.volume, flow.contents!).map(([, amount]) => amount),
          );
          const whole = carried.reduce(sum, ratio(0));
          expect(whole.n <= BigInt(AMOUNT) * whole.d).toBe(true);
        }
        const row = amounts(entries, HALF);
        const given = flows
          .filter(({ contents }) => contents !== null)
          .map((flow) => Number(flow.volume) / 3_600_000);
        const most = (given.reduce((one, other) => one + other, 0) / LABEL) * AMOUNT;
        expect(value(row?.exact.reduce(sum) ?? ratio(0))).toBeLessThanOrEqual(most * (1 + 1e-9));
      }),
      runs(200),
    );
  },
  PATIENCE,
);
