/**
 * What a bag holds that is hung again, however long it was down and whatever is charted of it late: from
 * checkpoints, which soon forget a bag that came down, it is what the entries alone come to.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { instant } from "../../src/time/instant.js";
import { BEGINS, beginning, doDeed } from "./deeds.js";
import type { Json, Stay } from "./stay.js";
import { storyOfBags } from "./story.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
/** How long a property may take, in ms. */
const PATIENCE = 120_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_260_306 });

const HALF_A_DAY = 12 * 3_600_000;

/** Each half day from a checkpoint of its own: what every bag gave, and what every channel does at its end. */
async function everyShift(stay: Stay): Promise<Json> {
  const shifts: Json[] = [];
  for (let from = BEGINS; from < stay.now; from += HALF_A_DAY) {
    const to = Math.min(from + HALF_A_DAY, stay.now);
    const period = { from: instant(from), to: instant(from + HALF_A_DAY) };
    const volumes = await stay.volumes(period, { by: "whole", per: "bag" });
    shifts.push([volumes, await stay.totals({ at: new Date(to).toISOString() })]);
  }
  return shifts;
}

describe("a bag that is hung again", () => {
  it(
    "gives from checkpoints what it gives from the entries alone, after every request",
    async () => {
      await fc.assert(
        fc.asyncProperty(storyOfBags(9), fc.boolean(), async (deeds, forgetful) => {
          const [stay, bare] = [await beginning(), await beginning()];
          for (const [i, deed] of deeds.entries()) {
            if (forgetful) await stay.reopened();
            await doDeed(stay, deed, i);
            await doDeed(await bare.withoutCheckpoints(), deed, i);
            const answers = await everyShift(stay);
            expect(answers).toEqual(await everyShift(await bare.withoutCheckpoints()));
          }
        }),
        runs(15),
      );
    },
    PATIENCE,
  );
});
