/** Volumes over durations, drops, and the step a channel is set in. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isDoseFault } from "../../src/infusion/dose-fault.js";
import { dropsForRate, rateForDrops } from "../../src/infusion/drops.js";
import { type Rate, rateOf } from "../../src/infusion/quantity.js";
import { doseRateDisagrees, rateOver } from "../../src/infusion/rate-step.js";
import { nearestMultiple, ratio } from "../../src/infusion/ratio.js";
import { HOUR, MINUTE } from "../../src/time/instant.js";

function flowing(answer: ReturnType<typeof rateOver>): Rate {
  if (isDoseFault(answer)) throw new Error(answer.detail);
  return answer;
}

describe("a volume over a duration", () => {
  it("goes to 0.1 mL/h unless the channel has another step", () => {
    // 100 mL in 45 min: 133.333… mL/h.
    expect(rateOver(100_000, 45 * MINUTE)).toBe(133_300);
    expect(rateOver(100_000, 45 * MINUTE, 1)).toBe(133_333);
    expect(rateOver(100_000, 45 * MINUTE, 1_000)).toBe(133_000);
    // 50 mL in 24 h: 2.0833… mL/h.
    expect(rateOver(50_000, 24 * HOUR, 10)).toBe(2_080);
  });

  it("over no time, of no volume, or of more than can be counted, is refused", () => {
    expect(rateOver(50_000, 0)).toMatchObject({ code: "rate-out-of-range" });
    expect(rateOver(0, HOUR)).toMatchObject({ code: "rate-rounds-to-zero" });
    expect(rateOver(49, HOUR)).toMatchObject({ code: "rate-rounds-to-zero" });
    expect(rateOver(50, HOUR)).toBe(100);
    expect(rateOver(Number.MAX_SAFE_INTEGER, 1)).toMatchObject({ code: "rate-out-of-range" });
  });

  it("brings the volume in within half a step of the whole duration", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1_000, max: 5_000_000 }),
        fc.integer({ min: 60_000, max: 24 * HOUR }),
        fc.constantFrom(1, 10, 100, 1_000),
        (volume, milliseconds, step) => {
          const answer = rateOver(volume, milliseconds, step);
          const rate = isDoseFault(answer) ? 0 : answer;
          // Products stay below 2^53 here only in BigInt.
          const off = BigInt(rate) * BigInt(milliseconds) - BigInt(volume) * BigInt(HOUR);
          expect(2n * (off < 0n ? -off : off) <= BigInt(step) * BigInt(milliseconds)).toBe(true);
        },
      ),
    );
  });
});

describe("a rate beside a dose", () => {
  it("disagrees beyond one step, not at it", () => {
    expect(doseRateDisagrees(rateOf(13_200), rateOf(13_100))).toBe(false);
    expect(doseRateDisagrees(rateOf(13_000), rateOf(13_100))).toBe(false);
    expect(doseRateDisagrees(rateOf(13_201), rateOf(13_100))).toBe(true);
    expect(doseRateDisagrees(rateOf(12_999), rateOf(13_100))).toBe(true);
    expect(doseRateDisagrees(rateOf(13_110), rateOf(13_125), 10)).toBe(true);
  });
});

describe("drops", () => {
  it("are a rate by the set's drop factor, to the microlitre", () => {
    expect(rateForDrops(20_000, 20)).toBe(60_000);
    // 7 gtt/min at 15 gtt/mL: 28 mL/h; 12.5 at 60: 12.5 mL/h; 1 at 7: 8.571428… mL/h.
    expect(rateForDrops(7_000, 15)).toBe(28_000);
    expect(rateForDrops(12_500, 60)).toBe(12_500);
    expect(rateForDrops(1_000, 7)).toBe(8_571);
  });

  it("rounds half a microlitre up, and refuses no drops at all", () => {
    expect(rateForDrops(1, 120)).toBe(1);
    expect(rateForDrops(1, 121)).toMatchObject({ code: "rate-rounds-to-zero" });
    expect(rateForDrops(0, 20)).toMatchObject({ code: "rate-rounds-to-zero" });
  });

  it("are counted whole, a half going up", () => {
    // 31.25 and 31.5 gtt/min.
    expect(dropsForRate(rateOf(125_000), 15)).toBe(31);
    expect(dropsForRate(rateOf(126_000), 15)).toBe(32);
    expect(dropsForRate(rateOf(1_499), 20)).toBe(0);
    expect(dropsForRate(rateOf(1_500), 20)).toBe(1);
  });

  it("come back as they were counted", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400 }), fc.constantFrom(10, 12, 15, 20, 60), (drops, factor) => {
        expect(dropsForRate(flowing(rateForDrops(drops * 1_000, factor)), factor)).toBe(drops);
      }),
    );
  });
});

describe("the nearest step", () => {
  it("is none for a value below zero, a step of nothing, or a denominator of 0", () => {
    expect(nearestMultiple(ratio(5, 2), 1)).toBe(3n);
    expect(() => nearestMultiple(ratio(-5, 2), 1)).toThrow(RangeError);
    expect(() => nearestMultiple(ratio(5, 2), 0)).toThrow(RangeError);
    expect(() => nearestMultiple(ratio(5, 2), 0.5)).toThrow(RangeError);
    expect(() => ratio(1, 0)).toThrow(RangeError);
  });
});
