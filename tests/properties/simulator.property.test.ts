/** The calculation against the naive simulator: exactly, wherever the simulator itself is exact. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Simulated, simulate } from "../naive/simulator.js";
import { BEGINS, type Encounter, encounterOf } from "./arbitrary.js";
import { deliveredBetween, fold, OVERFILL, plain, totalsShown } from "./folding.js";
import { REMEMBERED } from "./remembered.js";
import { PATIENCE, runs } from "./runs.js";
import { CLOSE_UP, REALISTIC, WHOLE_SECONDS } from "./scales.js";

const simulated = ({ entries, until }: Encounter, step: number): Simulated =>
  simulate(entries, { from: BEGINS, until, step, overfill: OVERFILL });

/** Instants on whole steps, the end of the stay among them. */
function cuts({ until }: Encounter, step: number, shares: readonly number[]): number[] {
  const at = (share: number) => BEGINS + Math.floor((share * (until - BEGINS)) / 1_000 / step) * step;
  return [BEGINS, ...shares.map(at), until].sort((a, b) => a - b);
}

const shares = fc.array(fc.nat({ max: 1_000 }), { maxLength: 4 });

/** Every row of every part of the stay, and every running total at its end. */
function agreesExactly(encounter: Encounter, simulator: Simulated, instants: readonly number[]): void {
  const { flows, state } = fold(encounter.entries, encounter.until);
  for (let i = 1; i < instants.length; i++) {
    const [start, end] = [instants[i - 1]!, instants[i]!];
    const judged = new Map([...simulator.between(start, end)].map(([row, ticks]) => [row, BigInt(ticks)]));
    expect(plain(deliveredBetween(flows, start, end))).toEqual(plain(judged));
  }
  for (const [name, { expected, atRisk }] of totalsShown(state)) {
    const judged = simulator.totals.get(name);
    expect({ name, expected, atRisk }).toEqual({
      name,
      expected: BigInt(judged?.expected ?? -1),
      atRisk: BigInt(judged?.atRisk ?? -1),
    });
  }
}

describe("delivered volumes and running totals are the simulator's", () => {
  it.each(REMEMBERED)("$sentence", ({ encounter }) => {
    const simulator = simulated(encounter, 1_000);
    expect(simulator.cut).toBe(0);
    agreesExactly(encounter, simulator, cuts(encounter, 1_000, [250, 500, 750]));
  });

  it("where every limit is reached on a whole second", { timeout: PATIENCE }, () => {
    const encounter = fc.oneof(encounterOf(WHOLE_SECONDS), encounterOf(REALISTIC, 12));
    const property = fc.property(encounter, shares, (encounter, shares) => {
      const simulator = simulated(encounter, 1_000);
      fc.pre(simulator.cut === 0);
      agreesExactly(encounter, simulator, cuts(encounter, 1_000, shares));
    });
    fc.assert(property, runs(60));
  });

  it("by the millisecond, whatever the rates and volumes", { timeout: PATIENCE }, () => {
    const property = fc.property(encounterOf(CLOSE_UP), shares, (encounter, shares) => {
      agreesExactly(encounter, simulated(encounter, 1), cuts(encounter, 1, shares));
    });
    fc.assert(property, runs(200));
  });
});

describe("where limits fall inside a second", () => {
  // One rate for everything, so that a flow that ends late by part of a second stays late by just that.
  const oneRate = fc.integer({ min: 20_000, max: 400_000 }).chain((rate) =>
    fc.record({
      rate: fc.constant(rate),
      encounter: encounterOf({ ...REALISTIC, rate: fc.constant(rate) }, 12),
    }),
  );

  /** Whether an entry could meet a flow that is over in one of the two and not yet in the other. */
  const meetsAnEnd = ({ entries }: Encounter, { ends, cut }: Simulated) =>
    ends.some((end) => entries.some(({ entry: { at } }) => at <= end && at > end - (cut + 1) * 1_000));

  it("they differ by at most a second of flow for each", { timeout: PATIENCE }, () => {
    const property = fc.property(oneRate, shares, ({ rate, encounter }, shares) => {
      const simulator = simulated(encounter, 1_000);
      fc.pre(simulator.cut > 0 && !meetsAnEnd(encounter, simulator));
      const { flows } = fold(encounter.entries, encounter.until);
      for (const instant of cuts(encounter, 1_000, shares)) {
        const [ours, theirs] = [deliveredBetween(flows, BEGINS, instant), simulator.between(BEGINS, instant)];
        for (const row of new Set([...ours.keys(), ...theirs.keys()])) {
          const apart = Math.abs(Number(ours.get(row) ?? 0n) - (theirs.get(row) ?? 0));
          expect(apart, row).toBeLessThanOrEqual(simulator.cut * rate * 1_000);
        }
      }
    });
    fc.assert(property, runs(35));
  });
});
