/** What the demo's nurses read off their devices, judged by a pump that shares no code with the ledger. */

import { describe, expect, it } from "vitest";
import { scenario } from "../../src/demo/scenario.js";
import { type Instant, parseInstant } from "../../src/time/instant.js";
import { shownBy, type Wire } from "./naive-pump.js";

const shownUntil = (now: string) => {
  const { encounters } = scenario(parseInstant(now) as Instant);
  return encounters.map(({ body, posts }) => {
    const entries = posts.flatMap(({ entries }) => entries) as unknown as Wire[];
    return { encounter: body.id, readings: shownBy(entries) };
  });
};

const shown = (id: string, encounter: string): number | undefined =>
  shownUntil("2026-03-04T18:59:00-06:00")
    .find((each) => each.encounter === encounter)
    ?.readings.find((reading) => reading.id === id)?.shown;

describe("the naive pump", () => {
  it("shows a bolus and what flowed around it", () => {
    // 20 min of 125, a bolus of 500 over 30 min, 5 min of 125: 41.67 + 500 + 10.42.
    expect(shown("1-0135-read-pump-2-primary", "demo-a")).toBeCloseTo(552.08, 1);
  });

  it("shows a flow that went on at its keep-open rate", () => {
    // 400 from 00:40 until 05:40 at 80 mL/h, then 10 min of 10: 400 + 1.67.
    expect(shown("1-0550-read-pump-1-primary", "demo-f")).toBeCloseTo(401.67, 1);
  });

  it("shows a dose by weight with its changes", () => {
    // 40 min of 7.5, 40 of 15, 75 of 22.5, 45 of 18: 5 + 10 + 28.125 + 13.5.
    expect(shown("1-0400-read-pump-1-primary", "demo-a")).toBeCloseTo(56.625, 1);
  });

  it("shows all that a bag gave that was left to run dry", () => {
    expect(shown("2-0250-read-pump-1-primary", "demo-b")).toBeCloseTo(1100, 1);
  });
});

describe("what the nurses write down", () => {
  it.each([
    ["on an ordinary day", "2026-03-04T18:59:00-06:00"],
    ["over the night the clocks go forward", "2026-03-08T18:59:00-05:00"],
    ["over the night the clocks go back", "2026-11-01T18:59:00-06:00"],
  ])("is within 1 %% of what the devices would show, %s", (_, now) => {
    const readings = shownUntil(now).flatMap((each) => each.readings);
    expect(readings.length).toBeGreaterThan(50);
    for (const { id, written, shown } of readings) {
      expect(Math.abs(written - shown), `${id}: ${written}, shown ${shown}`).toBeLessThanOrEqual(shown / 100);
    }
  });
});
