/** Ice counts in part, by whatever words it is charted with, and the row of it says so. */

import { afterEach, describe, expect, it } from "vitest";
import { isIce } from "../../src/infusion/ice.js";
import { type Ward, ward } from "../check-values/ward.js";

let here: Ward | undefined;
afterEach(async () => {
  await here?.close();
  here = undefined;
});

describe("ice", () => {
  it.each([
    "ice",
    "Ice chips",
    "Ice  chips",
    "ice-chips",
    "Ice chips (cup)",
    "crushed ice",
    "Shaved ice",
    "1 cup of ice",
    "cup of crushed ice, 240 mL",
    "lemon ice chips",
    "ICE CUBES",
    "ice pieces",
  ])("is %s", (item) => {
    expect(isIce(item)).toBe(true);
  });

  it.each([
    "Ice cream",
    "chocolate chip ice cream",
    "ice water",
    "water with ice cubes",
    "juice over crushed ice",
    "ice pop",
    "iced tea",
    "rice",
    "potato chips",
    "lemon ice",
    "",
  ])("is not %s", (item) => {
    expect(isIce(item)).toBe(false);
  });
});

describe("the row of what counts in part", () => {
  it("says the share, and keeps shares apart", async () => {
    const changes = [{ effectiveFrom: "2026-03-04T09:00:00Z", settings: { iceFraction: 0.4 } }];
    here = await ward("2026-03-06T07:00:00Z", { softFoods: { "shaved ice": 0.8 } }, changes);
    const stay = await here.admit("stay", "2026-03-04T06:00:00Z");
    const taken = (clock: string, item: string) => ({
      kind: "intake-measured",
      at: `2026-03-04T${clock}:00Z`,
      category: "oral",
      volume: 100,
      item,
    });
    await stay.chart(
      taken("07:30", "Crushed ice"),
      taken("08:30", "Crushed ice"),
      taken("09:30", "Crushed ice"),
      taken("09:40", "Shaved  ice"),
      taken("09:50", "Tea"),
    );
    // biome-ignore lint/suspicious/noExplicitAny: the answer is read by the field a test is about
    const { intake } = await stay.ask<any>(
      "balance?from=2026-03-04T07:00:00Z&to=2026-03-04T10:00:00Z&by=whole",
    );
    const parts = intake.rows[0].parts as { label: string; counts: number; total: number }[];
    expect(parts.map(({ label, counts, total }) => [label, counts, total])).toEqual([
      ["Crushed ice, 40 % of it counts", 0.4, 40],
      ["Crushed ice, 50 % of it counts", 0.5, 100],
      ["Shaved  ice, 80 % of it counts", 0.8, 80],
      ["Tea", 1, 100],
    ]);
  });
});
