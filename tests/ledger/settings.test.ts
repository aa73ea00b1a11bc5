/** What a unit decides, and from when: in the past, for later, and only at a shift start where intervals depend on it. */

import { describe, expect, it } from "vitest";
import { EAST, type Json, NURSE, Stay } from "./stay.js";
import { at, cup, drank, hang, on, pump, start } from "./telling.js";

const begun = () => Stay.besideWest({ household: { cup: 180 }, precision: 1 });

describe("a change of settings", () => {
  it("in the past applies from then on, and is not known before it was recorded", async () => {
    const stay = await begun();
    await stay.post([cup("08:30"), cup("10:30")]);
    const known = await stay.sequence();
    await stay.settle("east", { effectiveFrom: at("10:00"), settings: { household: { cup: 200 } } });
    expect((await stay.oral("2026-03-04/day")).slice(0, 4)).toEqual([0, 240, 0, 200]);
    const then = await stay.volumes("2026-03-04/day", { per: "category", asOf: { sequence: known } });
    expect(then.rows.find(({ key }: Json) => key === "oral").total).toBe(480);
  });

  it("for later applies when its time has come", async () => {
    const stay = await begun();
    await stay.settle("east", { effectiveFrom: at("15:00"), settings: { household: { cup: 200 } } });
    await stay.itIs("16:00").post([cup("14:30"), cup("15:30")]);
    expect((await stay.oral("2026-03-04/day")).slice(7, 9)).toEqual([240, 200]);
  });

  it("of the overfill allowance applies to bags hung from then on, whatever was computed before", async () => {
    for (const allowance of [0, 0.5]) {
      const stay = await Stay.begun();
      await stay.post([
        pump("07:00"),
        hang("07:00", "first", 100),
        start("07:00", 100, { volumeToInfuse: "none" }),
        hang("11:00", "second", 100),
        start("11:00", 100, { volumeToInfuse: "none" }),
      ]);
      await stay.itIs("5 09:00").post([drank("5 08:00", 5)]);
      await stay.settle("east", { effectiveFrom: at("10:00"), settings: { overfillAllowance: allowance } });
      const { rows } = await stay.volumes({ day: "2026-03-04" }, { by: "whole", per: "bag" });
      // The first keeps the tenth it was hung with.
      expect(rows.map(({ key, total }: Json) => [key, total])).toEqual([
        ["first", 110],
        ["second", 100 + 100 * allowance],
      ]);
    }
  });

  it("of when an end must be confirmed moves no volume, and what is unknown of it", async () => {
    const stay = await Stay.begun();
    await stay.post([
      pump("07:00"),
      start("07:00", 100, { volumeToInfuse: 100 }),
      on("08:30", "flow-stopped"),
    ]);
    const unknown = async () => (await stay.volumes("2026-03-04/day")).rows[0].unknown.slice(0, 3);
    expect(await unknown()).toEqual([0, 30, 0]);
    await stay.settle("east", { effectiveFrom: at("07:30"), settings: { endConfirmedWithin: "PT1H" } });
    expect(await unknown()).toEqual([0, 0, 0]);
  });

  it("does not reach a stay that ended before it", async () => {
    const stay = await begun();
    await stay.discharge("12:00");
    const before = await stay.sequence();
    await stay.settle("east", { effectiveFrom: at("13:00"), settings: { precision: 1 } });
    expect(await stay.sequence()).toBe(before);
  });
});

describe("the rule of a boundary", () => {
  it("changes only where a shift starts", async () => {
    const stay = await begun();
    const change = { effectiveFrom: at("09:00"), settings: { boundary: "starts" as const } };
    const { refused } = await stay.ledger.changeUnit(NURSE, "east", change);
    expect(refused).toMatchObject({ problem: "invalid-body", errors: [{ code: "not-a-shift-start" }] });
  });

  it.each([
    ["ends", "starts", "19:00 ends the day by the rule until then", [50, 0]],
    ["starts", "ends", "19:00 begins the night by the rule until then", [0, 50]],
  ] as const)(
    "from %s to %s: an amount at the change counts once (%s)",
    async (from, to, _why, [day, night]) => {
      const stay = await Stay.begun({ unit: { settings: { boundary: from } }, now: "21:00" });
      await stay.post([drank("19:00", 50)]);
      await stay.settle(EAST.id!, { effectiveFrom: at("19:00"), settings: { boundary: to } });
      const total = async (shift: string) => (await stay.volumes(shift, { per: "category" })).total;
      expect([await total("2026-03-04/day"), await total("2026-03-04/night")]).toEqual([day, night]);
    },
  );
});
