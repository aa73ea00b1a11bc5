/**
 * What is lost comes off what was given, once, whatever gave it and whatever was read of it: however many
 * losses there are, and however they overlap, they never make less of it than nothing.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { givenIn, type Losses, lossesOf } from "../../src/balance/lost.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { finestRows } from "../../src/infusion/cumulative.js";
import type { Delivery } from "../../src/infusion/delivery.js";
import type { DeliveryLost, Placed } from "../../src/infusion/entry.js";
import { instant } from "../../src/time/instant.js";
import { BEGINS } from "./arbitrary.js";
import { courseOf, doubtful, followed, segments, withLooks } from "./readings.js";
import { PATIENCE, runs } from "./runs.js";
import { ODD_NUMBERS, REALISTIC, type Scale } from "./scales.js";

/** When in millionths of the stay, how long, on which channel, and how much. */
const loss = fc.record({
  when: fc.nat({ max: 900_000 }),
  lasts: fc.integer({ min: 1, max: 400_000 }),
  channel: fc.nat({ max: 3 }),
  volume: fc.oneof(
    { weight: 1, arbitrary: fc.constant("unknown" as const) },
    { weight: 5, arbitrary: fc.nat({ max: 400_000 }) },
  ),
});

const stayOf = (scale: Scale) =>
  fc.record({
    stay: courseOf(scale),
    looks: fc.array(doubtful, { maxLength: 6 }),
    told: segments,
    lost: fc.array(loss, { minLength: 1, maxLength: 8 }),
    cuts: fc.array(fc.nat({ max: 1_000_000 }), { maxLength: 6 }),
  });

type Lost = ReturnType<typeof stayOf> extends fc.Arbitrary<infer One> ? One : never;

/** What was given on the ward, and what of it was lost. */
function lossesIn({ stay, looks, told, lost }: Lost) {
  const { entries } = withLooks(stay, looks, told);
  const { deliveries, unattributed } = apportioned(followed(entries, stay.until));
  const length = stay.until - BEGINS;
  const at = (when: number) => instant(BEGINS + Math.floor((when * length) / 1_000_000));
  const losses = lost.flatMap(({ when, lasts, channel, volume }, i): Placed<DeliveryLost>[] => {
    const [from, to] = [at(when), at(when + lasts)];
    if (from >= to) return [];
    const entry: DeliveryLost = {
      kind: "delivery-lost",
      at: to,
      from,
      to,
      channel: `pump-${channel + 1}`,
      volume,
      reason: "leaked",
    };
    return [{ id: `loss-${i}`, sequence: 1_000 + i, source: "person", entry }];
  });
  const rows = finestRows(deliveries);
  return { rows, unattributed, entries: losses, losses: lossesOf(losses, rows, unattributed), at };
}

const sum = (volumes: readonly bigint[]) => volumes.reduce((all, one) => all + one, 0n);
const whole = (row: readonly Delivery[], losses: Losses) =>
  losses.takenOff(row, instant(0), instant(BEGINS * 2));

describe.each([
  ["as a ward gives it", REALISTIC],
  ["by odd numbers", ODD_NUMBERS],
])("what is lost of what is given, %s", (_, scale) => {
  it("never makes a row fall, and adds up however time is cut", { timeout: PATIENCE }, () => {
    const property = fc.property(stayOf(scale), (one) => {
      const { rows, losses, at } = lossesIn(one);
      const bounds = [instant(0), ...one.cuts.sort((a, b) => a - b).map(at), instant(BEGINS * 2)];
      for (const row of rows) {
        const parts = bounds.slice(1).map((to, i) => {
          const [from, taken] = [bounds[i]!, losses.takenOff(row, bounds[i]!, to)];
          expect(taken >= 0n && taken <= givenIn(row, from, to)).toBe(true);
          return taken;
        });
        expect(sum(parts)).toBe(whole(row, losses));
      }
    });
    fc.assert(property, runs(200));
  });

  it("is taken off once, and no more of it than there was on its channel", { timeout: PATIENCE }, () => {
    const property = fc.property(stayOf(scale), (one) => {
      // Segments that contradict each other come to less than nothing by themselves: here is one at most.
      const { rows, unattributed, entries, losses } = lossesIn({ ...one, told: one.told.slice(0, 1) });
      losses.told.forEach(({ takenOff, volume }, i) => {
        const { entry } = entries[i]!;
        expect(volume).toBe(entry.volume === "unknown" ? null : BigInt(entry.volume) * 3_600_000n);
        expect(takenOff >= 0n && takenOff <= (volume ?? 0n)).toBe(true);
      });
      for (const channel of new Set(entries.map(({ entry }) => entry.channel))) {
        const own = rows.filter((row) => row[0]!.channel === channel);
        const amounts = unattributed.filter((amount) => amount.channel === channel);
        const lost = sum([
          ...own.map((row) => whole(row, losses)),
          ...amounts.map((amount) => losses.takenOffAmount(amount)),
        ]);
        expect(lost).toBe(sum(losses.told.map((told) => (told.channel === channel ? told.takenOff : 0n))));
        const given = sum([
          ...own.flatMap((row) => row.map(({ volume }) => volume)),
          ...amounts.map(({ volume }) => volume),
        ]);
        expect(given - lost >= (given < 0n ? given : 0n)).toBe(true);
      }
    });
    fc.assert(property, runs(200));
  });
});
