import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Simulated, simulate } from "../naive/simulator.js";
import type { Report } from "../naive/ward.js";
import { BEGINS, CLOSE_UP, type Encounter, encounterOf, REALISTIC, WHOLE_SECONDS } from "./arbitrary.js";
import { deliveredBetween, fold, OVERFILL, totalsShown } from "./folding.js";

const simulated = ({ entries, until }: Encounter, step: number): Simulated =>
  simulate(entries as unknown as readonly Report[], { from: BEGINS, until, step, overfill: OVERFILL });

const plain = (rows: ReadonlyMap<string, bigint | number>) =>
  Object.fromEntries(
    [...rows].map(([row, v]) => [row, Number(v)] as const).sort(([a], [b]) => (a < b ? -1 : 1)),
  );

function agree(encounter: Encounter, step: number) {
  const sim = simulated(encounter, step);
  const core = fold(encounter.entries, encounter.until);
  const end = encounter.until;
  expect(plain(deliveredBetween(core.flows, BEGINS, end))).toEqual(plain(sim.between(BEGINS, end)));
}
const N = Number(process.env.LONG_PROPERTIES ?? 1);
describe("x", () => {
  it("ms", () => {
    fc.assert(
      fc.property(encounterOf(CLOSE_UP), (e) => agree(e, 1)),
      { numRuns: 100 * N },
    );
  });
  it("stats", () => {
    let cuts = 0,
      n = 0,
      ends = 0;
    const t = Date.now();
    for (const [name, scale, step] of [
      ["w", WHOLE_SECONDS, 1000],
      ["r", REALISTIC, 1000],
      ["c", CLOSE_UP, 1],
    ] as const) {
      [cuts, n, ends] = [0, 0, 0];
      const t = Date.now();
      let active = 0;
      for (const e of fc.sample(encounterOf(scale), 100)) {
        const s = simulated(e, step);
        if (s.cut === 0) {
          cuts++;
          if (s.ends.length > 1) active++;
        }
        n++;
        ends += s.ends.length;
      }
      console.log(name, "exact", cuts, active, "of", n, "ends", ends, Date.now() - t, "ms");
    }
  });
});
