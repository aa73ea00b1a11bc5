/** A patient who moves is charted, at every instant, by the unit they are in then. */

import { describe, expect, it } from "vitest";
import { type Json, Stay } from "./stay.js";
import { at, cup, when } from "./telling.js";

const begun = () => Stay.besideWest({ household: { cup: 180 }, precision: 1 });

describe("a patient who moves", () => {
  it("is charted by each unit for its own time: its shifts, its clock, its measures", async () => {
    const stay = await begun();
    await stay.post([cup("09:30"), cup("12:30")]);
    await stay.move("west", "11:30");
    const east = await stay.volumes("2026-03-04/day");
    expect(east).toMatchObject({ zone: "America/Chicago", from: at("07:00"), to: at("11:30") });
    expect(await stay.oral("2026-03-04/day")).toEqual([0, 0, 240, 0, 0]);
    // 11:30 in Chicago is 12:30 in New York: the rest of its early shift, until 14:00.
    const west = await stay.volumes("2026-03-04/early");
    expect(west).toMatchObject({
      zone: "America/New_York",
      from: "2026-03-04T12:30:00-05:00",
      to: "2026-03-04T14:00:00-05:00",
    });
    expect(await stay.oral("2026-03-04/early")).toEqual([0, 180]);
    // Half an hour and an hour of 75 mL/h, to a whole mL: 37.5 is 38, and 112.5 is 113.
    expect(await stay.hours("2026-03-04/early")).toEqual([38, 75]);
  });

  it("who moved earlier than it was recorded is charted there from then, and was not before that was known", async () => {
    const stay = await begun();
    await stay.post([cup("12:30")]);
    const known = await stay.sequence();
    expect(await stay.oral("2026-03-04/day")).toEqual([0, 0, 0, 0, 0, 240, 0, null, null, null, null, null]);
    await stay.move("west", "11:30");
    expect(await stay.oral("2026-03-04/early")).toEqual([0, 180]);
    const { rows } = await stay.volumes("2026-03-04/day", { per: "category", asOf: { sequence: known } });
    expect(rows.find(({ key }: Json) => key === "oral").total).toBe(240);
  });

  it("brings along what the new unit had decided, also for later", async () => {
    const stay = await begun();
    await stay.settle("west", { effectiveFrom: at("13:00"), settings: { household: { cup: 100 } } });
    await stay.move("west", "11:30");
    await stay.post([cup("12:30"), cup("13:30")]);
    expect((await stay.oral("2026-03-04/early"))[1]).toBe(180);
    expect((await stay.oral("2026-03-04/late"))[0]).toBe(100);
  });

  it("is no longer reached by what the old unit changes for later, and still by what it changes for then", async () => {
    const stay = await begun();
    await stay.post([cup("09:30"), cup("12:30")]);
    await stay.move("west", "11:30");
    await stay.settle("east", { effectiveFrom: at("08:00"), settings: { household: { cup: 200 } } });
    await stay.settle("east", { effectiveFrom: at("12:00"), settings: { household: { cup: 1 } } });
    expect(await stay.oral("2026-03-04/day")).toEqual([0, 0, 200, 0, 0]);
    expect(await stay.oral("2026-03-04/early")).toEqual([0, 180]);
  });

  it("a few minutes ahead is still reached by the unit they are in", async () => {
    const stay = await begun();
    await stay.move("west", "14:04");
    await stay.settle("east", { effectiveFrom: at("14:01"), settings: { household: { cup: 100 } } });
    await stay.itIs("14:03").post([cup("14:02")]);
    const { rows } = await stay.volumes("2026-03-04/day", { per: "category" });
    expect(rows.find(({ key }: Json) => key === "oral").total).toBe(100);
  });

  it("goes on flowing across the move, and back", async () => {
    const stay = await begun();
    await stay.move("west", "10:30");
    await stay.move("east", "12:30");
    const period = { from: when("07:00"), to: when("14:00") };
    const { intervals, rows } = await stay.volumes(period, { by: "shift" });
    expect(intervals.map(({ label }: Json) => label)).toEqual([
      "2026-03-04 Day",
      "2026-03-04 early",
      "2026-03-04 Day",
    ]);
    // 3.5 h, 2 h and 1.5 h of 75 mL/h.
    expect(rows.map(({ key, volumes }: Json) => [key, volumes])).toEqual([["forearm", [262.5, 150, 112.5]]]);
  });
});
