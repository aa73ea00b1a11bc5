/** Doses to rates and volumes: the arithmetic, its one rounding, and what is refused with which words. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { BodyWeight } from "../../src/infusion/body-weight.js";
import { type Concentration, concentrationFor, concentrationOf } from "../../src/infusion/concentration.js";
import { type DoseBasis, rateForDose, volumeForDose } from "../../src/infusion/dose.js";
import { type DoseFault, isDoseFault } from "../../src/infusion/dose-fault.js";
import { DEFAULT_RATE_STEP } from "../../src/infusion/rate-step.js";

const MILLION = 1_000_000;
const kg = (value: number): BodyWeight => ({ value: value * 1_000, unit: "kg" });

function bag(amount: number, unit: string, millilitres: number): Concentration {
  const concentration = concentrationOf({ amount: amount * MILLION, unit }, millilitres * 1_000);
  if (isDoseFault(concentration)) throw new Error(concentration.detail);
  return concentration;
}

/** A rate in microlitres per hour of a whole number of units. */
function rate(dose: number, unit: string, basis: DoseBasis, step?: number): number | DoseFault {
  return rateForDose({ value: dose * MILLION, unit }, basis, step);
}

function code(answer: unknown): string {
  if (!isDoseFault(answer)) throw new Error(`not refused: ${String(answer)}`);
  expect(answer.detail).toMatch(/^.{20,200}\.$/);
  return answer.code;
}

describe("a dose as a rate", () => {
  const dopamine = bag(400, "mg", 250);

  it("is dose × weight ÷ concentration", () => {
    // 5 × 70 × 60 = 21,000 ug/h of 1,600 ug/mL: 13.125 mL/h.
    expect(rate(5, "ug/kg/min", { weight: kg(70), concentration: dopamine }, 1)).toBe(13_125);
  });

  it("goes to 0.1 mL/h where the channel names no step", () => {
    expect(DEFAULT_RATE_STEP).toBe(100);
    expect(rate(5, "ug/kg/min", { weight: kg(70), concentration: dopamine })).toBe(13_100);
  });

  it("is the same however the same dose is written", () => {
    const basis = { weight: kg(70), concentration: dopamine };
    expect(rate(5, "mcg/kg/min", basis, 1)).toBe(13_125);
    expect(rate(300, "ug/kg/h", basis, 1)).toBe(13_125);
    expect(rate(350, "ug/min", basis, 1)).toBe(13_125);
    expect(rate(21, "mg/h", basis, 1)).toBe(13_125);
    expect(rate(504, "mg/d", basis, 1)).toBe(13_125);
    expect(rate(5_000, "ng/kg/min", basis, 1)).toBe(13_125);
  });

  it("rounds a half up, once", () => {
    const concentration = bag(10, "mg", 100);
    // 0.1 mg/mL: 1.235 mg/h is 12.35 mL/h exactly.
    expect(rateForDose({ value: 1_235_000, unit: "mg/h" }, { concentration })).toBe(12_400);
    expect(rateForDose({ value: 1_234_999, unit: "mg/h" }, { concentration })).toBe(12_300);
  });

  it("rounds to whole steps of the channel, whatever they are", () => {
    const concentration = bag(1, "mg", 1);
    expect(rate(3, "mg/h", { concentration }, 2_000)).toBe(4_000);
    expect(rateForDose({ value: 123_456, unit: "mg/h" }, { concentration }, 10)).toBe(120);
  });

  it("takes weights in grams and in pounds, a pound being 0.45359237 kg", () => {
    const concentration = bag(1, "g", 1_000);
    expect(rate(2, "mg/kg/h", { weight: { value: 3_450_000, unit: "g" }, concentration }, 1)).toBe(6_900);
    // 100 lb are 45.359237 kg; at 1 mg/mL 1 mg/kg/h is 45.359237 mL/h.
    expect(rate(1, "mg/kg/h", { weight: { value: 100_000, unit: "lb" }, concentration }, 1)).toBe(45_359);
    expect(rate(1, "mg/[lb_av]/h", { weight: { value: 100_000, unit: "lb" }, concentration }, 1)).toBe(
      100_000,
    );
  });

  it("needs no concentration where the dose is a volume", () => {
    expect(rate(75, "mL/h", {})).toBe(75_000);
    expect(rate(2, "mL/kg/h", { weight: kg(70) })).toBe(140_000);
    expect(rate(1, "L/d", {}, 1)).toBe(41_667);
  });

  it("stays exact where a double would not: 2^53 millionths", () => {
    // 9,007,199,254.740991 mg/h of 1 g/mL: 9,007,199.254740991 mL/h.
    const concentration = bag(1_000, "g", 1_000);
    expect(rateForDose({ value: Number.MAX_SAFE_INTEGER, unit: "mg/h" }, { concentration }, 1)).toBe(
      9_007_199_255,
    );
  });
});

describe("a bolus dose as a volume", () => {
  it("is to the microlitre, a half going up", () => {
    const concentration = bag(1_000, "mg", 1);
    expect(volumeForDose({ value: 1_500_000, unit: "mg" }, { concentration })).toBe(2);
    expect(volumeForDose({ value: 1_499_999, unit: "mg" }, { concentration })).toBe(1);
    expect(volumeForDose({ value: 10 * MILLION, unit: "mL/kg" }, { weight: kg(3.5) })).toBe(35_000);
  });
});

describe("what a dose is refused for", () => {
  const heparin = bag(25_000, "units", 250);

  it("a dose per weight without a weight, or with a weight of 0", () => {
    expect(code(rate(7, "[iU]/kg/h", { concentration: heparin }))).toBe("dose-without-weight");
    expect(code(rate(7, "[iU]/kg/h", { concentration: heparin, weight: kg(0) }))).toBe("dose-without-weight");
    expect(code(rate(2, "mL/kg/h", {}))).toBe("dose-without-weight");
  });

  it("a dose of a drug without a concentration", () => {
    expect(code(rate(5, "mg/h", {}))).toBe("dose-without-concentration");
    expect(code(volumeForDose({ value: MILLION, unit: "mg" }, {}))).toBe("dose-without-concentration");
  });

  it("a dose in one kind of unit from a bag in another, moles and equivalents too", () => {
    const potassium = bag(20, "mmol", 1_000);
    expect(code(rate(5, "mg/h", { concentration: heparin }))).toBe("dose-unit-mismatch");
    expect(code(rate(500, "[iU]/h", { concentration: bag(50, "mg", 50) }))).toBe("dose-unit-mismatch");
    expect(code(rate(10, "mEq/h", { concentration: potassium }))).toBe("dose-unit-mismatch");
    expect(code(rate(1, "g/h", { concentration: potassium }))).toBe("dose-unit-mismatch");
    expect(code(rate(1, "g/h", { concentration: bag(50, "mL", 1_000) }))).toBe("dose-unit-mismatch");
  });

  it("a flow without a time, a bolus with one", () => {
    expect(code(rate(5, "mg", { concentration: heparin }))).toBe("dose-not-a-rate");
    expect(code(volumeForDose({ value: MILLION, unit: "mg/h" }, { concentration: heparin }))).toBe(
      "dose-not-an-amount",
    );
  });

  it("a unit that is none, before anything else", () => {
    expect(code(rate(5, "U/kg/h", {}))).toBe("dose-unit-unknown");
    expect(code(volumeForDose({ value: MILLION, unit: "gtt" }, {}))).toBe("dose-unit-unknown");
  });

  it("a dose too small to flow or too large to count", () => {
    const concentration = bag(1, "mg", 1);
    expect(code(rateForDose({ value: 49_999, unit: "mg/h" }, { concentration }))).toBe("rate-rounds-to-zero");
    expect(rateForDose({ value: 50_000, unit: "mg/h" }, { concentration })).toBe(100);
    expect(code(rate(0, "mg/h", { concentration }))).toBe("rate-rounds-to-zero");
    expect(code(rate(9_000_000_000, "g/min", { concentration }))).toBe("rate-out-of-range");
    expect(code(volumeForDose({ value: 499, unit: "mg" }, { concentration }))).toBe("volume-rounds-to-zero");
    expect(volumeForDose({ value: 500, unit: "mg" }, { concentration })).toBe(1);
    // 9,000,000,000 g at 1 mg/mL are 9 × 10^15 µL, just below 2^53; at 0.5 mg/mL twice that.
    const vast = { value: 9e15, unit: "g" };
    expect(volumeForDose(vast, { concentration })).toBe(9e15);
    expect(code(volumeForDose(vast, { concentration: bag(1, "mg", 2) }))).toBe("volume-out-of-range");
  });

  it("says which step a rate was too small for", () => {
    const refused = rate(0, "mL/h", {});
    expect(isDoseFault(refused) && refused.detail).toContain("0.1 mL/h");
    const fine = rate(0, "mL/h", {}, 1_000);
    expect(isDoseFault(fine) && fine.detail).toContain(" 1 mL/h");
  });

  it("is never below zero: the wire refuses that, and so does the core", () => {
    expect(() => rate(-1, "mL/h", {})).toThrow(RangeError);
  });
});

describe("what a bag holds per volume", () => {
  it("is the additive over the label volume", () => {
    const { substance, perMillilitre } = bag(400, "mg", 250);
    expect(substance).toBe("mass");
    // 1.6 mg/mL
    expect(perMillilitre.n * 10_000n).toBe(16n * perMillilitre.d);
  });

  it("is nothing without drug, without volume, or from an additive that is no amount", () => {
    expect(code(concentrationOf({ amount: 0, unit: "mg" }, 250_000))).toBe("dose-without-concentration");
    expect(code(concentrationOf({ amount: MILLION, unit: "mg" }, 0))).toBe("dose-without-concentration");
    expect(code(concentrationOf({ amount: MILLION, unit: "mg/h" }, 250_000))).toBe("dose-not-an-amount");
    expect(code(concentrationOf({ amount: MILLION, unit: "[CFU]" }, 250_000))).toBe("dose-unit-unknown");
  });

  const heparin = { name: "Heparin", amount: 25_000 * MILLION, unit: "units" };
  const potassium = { name: "Potassium chloride", amount: 20 * MILLION, unit: "mmol" };

  it("is that of the only additive, or of the one the dose names", () => {
    expect(concentrationFor(undefined, [heparin], 250_000)).toEqual(bag(25_000, "[iU]", 250));
    expect(concentrationFor("potassium chloride ", [heparin, potassium], 1_000_000)).toEqual(
      bag(20, "mmol", 1_000),
    );
  });

  it("is never guessed among several", () => {
    expect(code(concentrationFor(undefined, [heparin, potassium], 250_000))).toBe(
      "dose-without-concentration",
    );
    expect(code(concentrationFor("heparin", [heparin, heparin], 250_000))).toBe("dose-without-concentration");
    expect(code(concentrationFor("insulin", [heparin], 250_000))).toBe("dose-without-concentration");
    expect(code(concentrationFor(undefined, [], 250_000))).toBe("dose-without-concentration");
  });
});

describe("always", () => {
  /** Units with the ratio to a base of picograms (or micro-units) per hour, worked out by hand. */
  const units = [
    { unit: "ug/kg/min", of: "mg", perHour: 60n * 10n ** 6n, weighed: true },
    { unit: "ng/kg/min", of: "mg", perHour: 60n * 10n ** 3n, weighed: true },
    { unit: "mg/kg/h", of: "g", perHour: 10n ** 9n, weighed: true },
    { unit: "g/h", of: "g", perHour: 10n ** 12n, weighed: false },
    { unit: "mcg/min", of: "ug", perHour: 60n * 10n ** 6n, weighed: false },
    { unit: "units/kg/h", of: "[iU]", perHour: 10n ** 6n, weighed: true },
    { unit: "m[iU]/min", of: "k[iU]", perHour: 60n * 10n ** 3n, weighed: false },
  ];
  const inBase: Record<string, bigint> = {
    ug: 10n ** 6n,
    mg: 10n ** 9n,
    g: 10n ** 12n,
    "[iU]": 10n ** 6n,
    "k[iU]": 10n ** 9n,
  };
  /** Weights in micrograms × 10^2, so that a pound is whole. */
  const grains = { kg: 100_000_000n, g: 100_000n, lb: 45_359_237n };

  const any = fc.record({
    unit: fc.constantFrom(...units),
    value: fc.integer({ min: 1, max: 10 ** 12 }),
    weight: fc.record({
      value: fc.integer({ min: 1, max: 10 ** 7 }),
      unit: fc.constantFrom("kg" as const, "g" as const, "lb" as const),
    }),
    amount: fc.integer({ min: 1, max: 10 ** 12 }),
    volume: fc.integer({ min: 1_000, max: 5_000_000 }),
    step: fc.constantFrom(1, 10, 100, 1_000),
  });

  it("is the nearest step to the exact rate: no further than half a step, a half going up", () => {
    fc.assert(
      fc.property(any, ({ unit, value, weight, amount, volume, step }) => {
        const concentration = concentrationOf({ amount, unit: unit.of }, volume);
        if (isDoseFault(concentration)) throw new Error(concentration.detail);
        const answer = rateForDose({ value, unit: unit.unit }, { weight, concentration }, step);
        // The millionths of dose and amount cancel; a weight is in thousandths of 10^-8 kg.
        const kilo = 10n ** 11n;
        const scale = unit.weighed ? BigInt(weight.value) * grains[weight.unit] : kilo;
        const above = BigInt(value) * unit.perHour * scale * BigInt(volume);
        const below = kilo * BigInt(amount) * (inBase[unit.of] as bigint);
        const steps = isDoseFault(answer) ? 0n : BigInt(answer) / BigInt(step);
        if (isDoseFault(answer)) {
          if (answer.code === "rate-out-of-range") {
            expect(above > below * (2n ** 53n - BigInt(step))).toBe(true);
            return;
          }
          expect(answer.code).toBe("rate-rounds-to-zero");
        } else expect(answer % step).toBe(0);
        const size = below * BigInt(step);
        expect((2n * steps - 1n) * size <= 2n * above && 2n * above < (2n * steps + 1n) * size).toBe(true);
      }),
      // Counter-examples are so sparse that making one smaller could take for ever.
      { numRuns: 1_000, endOnFailure: true },
    );
  });

  it("a larger dose never flows slower, and a bolus of an hour's dose is an hour's flow", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1_000, max: 10 ** 9 }),
        fc.integer({ min: 1, max: 10 ** 6 }),
        fc.integer({ min: 1_000, max: 10 ** 9 }),
        (value, more, amount) => {
          const concentration = concentrationOf({ amount: amount * 1_000, unit: "mg" }, 250_000);
          if (isDoseFault(concentration)) throw new Error(concentration.detail);
          const hourly = (dose: number) => {
            const answer = rateForDose({ value: dose, unit: "mg/h" }, { concentration }, 1);
            return isDoseFault(answer) ? 0 : answer;
          };
          const bolus = volumeForDose({ value, unit: "mg" }, { concentration });
          expect(hourly(value + more)).toBeGreaterThanOrEqual(hourly(value));
          expect(isDoseFault(bolus) ? 0 : bolus).toBe(hourly(value));
        },
      ),
    );
  });
});
