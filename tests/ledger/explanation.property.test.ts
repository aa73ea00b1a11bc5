/** Whatever was charted, a figure explained is the one that is shown, and its parts add up to it. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { instant } from "../../src/time/instant.js";
import { BEGINS, bedside, HOUR, pay, visits } from "./readings.js";
import type { Json, Stay } from "./stay.js";

const RUNS = Math.max(4, Number(process.env.LONG_PROPERTIES ?? 0));

/** Every figure shown of a row that has a key, by the bag and hour, with why it is what it is. */
async function explained(stay: Stay): Promise<{ shown: Json; told: Json }[]> {
  const to = instant(Math.ceil((stay.now + 1) / HOUR) * HOUR);
  const microlitre = { per: "bag" as const, precision: 1 };
  const { rows, intervals } = await stay.volumes({ from: instant(BEGINS), to }, microlitre);
  const figures = [];
  for (const row of rows.filter(({ key }: Json) => key !== null)) {
    for (const [i, { start, end }] of intervals.entries()) {
      const period = { from: instant(Date.parse(start)), to: instant(Date.parse(end)) };
      const asked = { period, row: row.key, ...microlitre };
      const outcome = await stay.ledger.explanation("stay-1", asked);
      const shown = { volume: row.volumes[i], computed: row.computed[i], basis: row.basis[i] };
      // A shift that has nothing of a bag knows no such row.
      if (outcome.refused === undefined) figures.push({ shown, told: outcome.done as Json });
      else expect(shown.volume ?? 0).toBe(0);
    }
  }
  return figures;
}

describe("explanations of any stay", () => {
  it("tell the figures shown, of parts that add up to them, at rates that entries of the stay set", async () => {
    await fc.assert(
      fc.asyncProperty(visits(20), async (story) => {
        const stay = await bedside();
        for (const [i, visit] of story.entries()) await pay(stay, visit, i);
        const ids = (await stay.entries()).map(({ id }) => id);
        for (const { shown, told } of await explained(stay)) {
          expect(told).toMatchObject(shown);
          const parts: Json[] = [...told.deliveries, ...told.amounts, ...told.unattributed];
          const sum = parts.reduce((whole, { volume }) => whole + volume, 0);
          // Each part is rounded to the microlitre, and so are the rows of the four roles.
          expect(Math.abs(sum - (told.volume ?? 0))).toBeLessThan(0.001 * (parts.length + 4) + 1e-9);
          for (const { setBy } of told.deliveries) expect(ids).toContain(setBy);
        }
      }),
      { numRuns: RUNS },
    );
  });
});
