/**
 * Flow rates, drip rates and times that others have printed, recomputed by the core: dose, drops,
 * volume over time, time to deliver. No HTTP and no ledger here; these test the arithmetic alone.
 *
 * Each row names its id, its source, and what the source gives: `published`, the source prints the
 * result; `derived`, it prints the inputs and the result is our arithmetic on them; `common practice`,
 * a fact of the trade.
 */

import { describe, expect, it } from "vitest";
import type { BodyWeight } from "../../src/infusion/body-weight.js";
import { type Concentration, concentrationOf } from "../../src/infusion/concentration.js";
import { rateForDose, volumeForDose } from "../../src/infusion/dose.js";
import { isDoseFault } from "../../src/infusion/dose-fault.js";
import { dropsForRate, rateForDrops } from "../../src/infusion/drops.js";
import { delivered, type Rate, rateOf, timeToDeliver, volumeOf } from "../../src/infusion/quantity.js";
import { rateOver } from "../../src/infusion/rate-step.js";
import { HOUR, MINUTE, SECOND } from "../../src/time/instant.js";

/** The sources print whole millilitres per hour. */
const WHOLE = 1_000;
const mL = (millilitres: number) => Math.round(millilitres * 1_000);
const mLPerHour = (millilitres: number) => rateOf(mL(millilitres));

function known<T>(answer: T): Exclude<T, { code: string }> {
  if (isDoseFault(answer)) throw new Error(answer.detail);
  return answer as Exclude<T, { code: string }>;
}
function over(millilitres: number, milliseconds: number): Rate {
  return known(rateOver(mL(millilitres), milliseconds, WHOLE));
}
function bag(amount: number, unit: string, millilitres: number): Concentration {
  return known(concentrationOf({ amount: Math.round(amount * 1_000_000), unit }, mL(millilitres)));
}
function doseRate(value: number, unit: string, concentration: Concentration, weight?: BodyWeight): Rate {
  return known(rateForDose({ value: value * 1_000_000, unit }, { concentration, weight }));
}
function push(value: number, unit: string, concentration: Concentration, weight?: BodyWeight): number {
  return known(volumeForDose({ value: Math.round(value * 1_000_000), unit }, { concentration, weight }));
}
function time(millilitres: number, rate: Rate): number {
  return timeToDeliver(rate, volumeOf(mL(millilitres)));
}

describe("core arithmetic against printed flow values", () => {
  it("IV-1, published (Open RN Nursing Skills, 5.16, example 1, CC BY 4.0): 500 mL at 75 mL/h, 6 h 40 min", () => {
    expect(time(500, mLPerHour(75))).toBe(6 * HOUR + 40 * MINUTE);
  });

  it("IV-2, published (learnmath.org, IV infusion time): 1,000 mL from 14:00 at 125 mL/h, done 22:00", () => {
    expect(14 * HOUR + time(1_000, mLPerHour(125))).toBe(22 * HOUR);
  });

  it("IV-4, published (questionai worked solution): 1,000 mL over 8 h from 08:00, 500 in at 12:00", () => {
    expect(delivered(over(1_000, 8 * HOUR), 4 * HOUR)).toBe(volumeOf(mL(500)));
  });

  it("IV-5, published (nursing.convergentmath.com module 5, example 8): 375 in, 625 left, 5 h to go", () => {
    const rate = mLPerHour(125);
    expect(delivered(rate, 3 * HOUR)).toBe(volumeOf(mL(375)));
    expect(volumeOf(mL(1_000)) - delivered(rate, 3 * HOUR)).toBe(volumeOf(mL(625)));
    expect(time(625, rate)).toBe(5 * HOUR);
  });

  it("IV-6, published (sample calculations, adjusting flow rate, scribd 427634727): 600 left at 4 h of 8", () => {
    const rate = over(600, 4 * HOUR);
    expect(rate).toBe(mLPerHour(150));
    expect(dropsForRate(rate, 10)).toBe(25);
  });

  it("IV-8, published (slideplayer 1399705): 45 mL/h × 7 h is 315 mL; 750 mL at 60 mL/h take 12.5 h", () => {
    expect(delivered(mLPerHour(45), 7 * HOUR)).toBe(volumeOf(mL(315)));
    expect(time(750, mLPerHour(60))).toBe(12 * HOUR + 30 * MINUTE);
  });

  it.each([
    [100, 30, 200],
    [250, 90, 167],
    [250, 180, 83],
  ])("IV-10, published (convergentmath examples 3–5): %d mL in %d min, %d mL/h", (volume, minutes, rate) => {
    expect(over(volume, minutes * MINUTE)).toBe(mLPerHour(rate));
  });

  it.each([
    [100, 45, 133],
    [50, 10, 300],
    [75, 45, 100],
    [50, 30, 100],
    [30, 15, 120],
  ])("IV-12, published (scribd 8717995, items 6–10): %d mL in %d min, %d mL/h", (volume, minutes, rate) => {
    expect(over(volume, minutes * MINUTE)).toBe(mLPerHour(rate));
  });

  it.each([
    [3_000, 24 * HOUR, 15, 125, 31],
    [50, 30 * MINUTE, 60, 100, 100],
    [2_000, 12 * HOUR, 20, 167, 56],
  ])(
    "IV-13, published (scribd 8717995, examples; the first two rates derived): %d mL in %d ms at %d gtt/mL, %d mL/h, %d gtt/min",
    (volume, duration, factor, rate, drops) => {
      expect(over(volume, duration)).toBe(mLPerHour(rate));
      expect(dropsForRate(over(volume, duration), factor)).toBe(drops);
    },
  );

  it.each([
    [750, 5, 20, 50, "slideplayer 1399705"],
    [1_200, 6, 15, 50, "studylib 25912294"],
    [125, 1, 10, 21, "slideplayer 3845174"],
  ])("IV-15, published: %d mL in %d h at %d gtt/mL, %d gtt/min (%s)", (volume, hours, factor, drops) => {
    expect(dropsForRate(over(volume, hours * HOUR), factor)).toBe(drops);
  });

  it("IV-18, published (slideplayer 3845140): heparin 25,000 units/500 mL at 850 units/h, 17 mL/h", () => {
    expect(doseRate(850, "units/h", bag(25_000, "units", 500))).toBe(mLPerHour(17));
  });

  it("IV-19, published (studylib 8466170 Q1): 12,000 units/250 mL at 600 units/h, 12.5 mL/h", () => {
    expect(doseRate(600, "[iU]/h", bag(12_000, "[iU]", 250))).toBe(mLPerHour(12.5));
  });

  it("IV-19, published (Calculate with Confidence 6e, ch. 23, 15): 100 units/mL at 1,800 units/h, 18 mL/h", () => {
    expect(doseRate(1_800, "[iU]/h", bag(100, "[iU]", 1))).toBe(mLPerHour(18));
  });

  it("IV-21, published (OpenStax Pharmacology for Nurses, 2.5, dimensional analysis example 3, CC BY 4.0): 5 mcg/kg/min, 176 lb, 800 mg/500 mL, 15 mL/h", () => {
    const dose = { value: 5_000_000, unit: "mcg/kg/min" };
    const basis = { concentration: bag(800, "mg", 500), weight: { value: 176_000, unit: "lb" } as const };
    expect(rateForDose(dose, basis, WHOLE)).toBe(mLPerHour(15));
    // Derived: 176 lb are 79.83225712 kg, which at 1.6 mg/mL comes to 14.96854821 mL/h.
    expect(rateForDose(dose, basis, 1)).toBe(14_969);
  });

  it("IV-24, published (osmosis.org, 4 March 2024): 5 mcg/min, 50 mg/250 mL, 1.5 mL/h", () => {
    expect(doseRate(5, "mcg/min", bag(50, "mg", 250))).toBe(mLPerHour(1.5));
  });

  it("IV-27, published (OpenStax, 2.5): 0.5 mg at 0.25 mg/mL, 2 mL; 60 mg at 20 mg/2 mL, 6 mL", () => {
    expect(push(0.5, "mg", bag(0.25, "mg", 1))).toBe(mL(2));
    expect(push(60, "mg", bag(20, "mg", 2))).toBe(mL(6));
  });

  it("CP-1, common practice: 1,000 mL at 80 mL/h take 12 h 30 min", () => {
    expect(time(1_000, mLPerHour(80))).toBe(12 * HOUR + 30 * MINUTE);
  });

  const heparin = bag(25_000, "units", 250);
  const seventy: BodyWeight = { value: 70_000, unit: "kg" };

  it("CP-2, common practice: 25,000 units in 250 mL, 70 kg, bolus 20 units/kg over 2 min: 14 mL at 420 mL/h", () => {
    const volume = push(20, "units/kg", heparin, seventy);
    expect(volume).toBe(mL(14));
    expect(rateOver(volume, 2 * MINUTE)).toBe(mLPerHour(420));
  });

  it("CP-3, common practice: the same bolus at 1,200 mL/h takes 42 s", () => {
    expect(time(14, mLPerHour(1_200))).toBe(42 * SECOND);
  });

  it("CP-4, common practice: 7 units/kg/h, same bag and weight, 4.9 mL/h", () => {
    expect(doseRate(7, "units/kg/h", heparin, seventy)).toBe(mLPerHour(4.9));
  });

  it("disagrees with pharmacytutor.com (problem set): 750 mL in 6 h at 15 gtt/mL is 31.25 gtt/min (derived), not the printed 112.5", () => {
    const rate = over(750, 6 * HOUR);
    expect(rate).toBe(rateForDrops(31_250, 15));
    expect(dropsForRate(rate, 15)).toBe(31);
    expect(rateForDrops(112_500, 15)).not.toBe(rate);
  });
});
