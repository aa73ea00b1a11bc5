/** Facts whose sense comes later, or not in this stay any more: found until then, set aside, without effect. */

import { describe, expect, it } from "vitest";
import { PUMPS, Stay } from "./stay.js";
import { change, drank, hang, line, pump, running, start } from "./telling.js";

describe("what a later entry gives sense to", () => {
  it("is settled by it, and counts", async () => {
    const stay = await Stay.begun();
    const odd = await stay.post([change("09:00", 80, { id: "odd" })]);
    expect(odd.body.findings).toMatchObject([
      { code: "entry-without-effect", state: "open", concerns: { entries: ["odd"] } },
    ]);
    const { body } = await stay.post(running());
    expect(body.findings).toMatchObject([{ id: odd.body.findings[0].id, state: "settled" }]);
    // 07:00 to 09:00 at 75, then 80.
    expect(await stay.hours("2026-03-04/day")).toEqual([
      75,
      75,
      80,
      80,
      80,
      80,
      80,
      null,
      null,
      null,
      null,
      null,
    ]);
  });

  it.each([
    ["remembered", false],
    ["forgotten", true],
  ])("is settled across the start of a shift, with the shifts before %s", async (_how, cold) => {
    const stay = await Stay.begun({ now: "5 14:00" });
    await stay.post([line("07:00"), pump("07:00"), hang("07:00", "saline-1", 1_000), drank("10:00", 100)]);
    await stay.post([drank("20:00", 100)]);
    await stay.post([change("5 08:00", 80, { id: "odd" })]);
    if (cold) await stay.reopened();
    const { body } = await stay.post([start("5 05:00", 50)]);
    expect(body.findings).toMatchObject([{ id: "entry-without-effect~pump-1~odd", state: "settled" }]);
  });
});

describe("an entry of a device for later", () => {
  it("is set aside: nothing is computed from it before its time, and people go on charting", async () => {
    const stay = await Stay.begun();
    await stay.post(running());
    await stay.post([start("14:30", 600, { id: "ahead" })], { as: PUMPS });
    expect((await stay.totals()).channels[0].flow).toMatchObject({ rate: 75 });
    await stay.post([change("13:00", 80)]);
    expect((await stay.totals()).channels[0].flow).toMatchObject({ rate: 80 });
    await stay.reopened();
    await stay.post([change("13:30", 82)]);
    expect((await stay.totals()).channels[0].flow).toMatchObject({ rate: 82 });
  });
});

describe("an entry after the discharge", () => {
  it("is recorded, and nothing flows from it", async () => {
    const stay = await Stay.begun();
    await stay.post(running());
    await stay.discharge("12:00");
    await stay.post([change("12:30", 80), start("13:00", 100), drank("13:00", 50)]);
    // 07:00 to 12:00 at 75, and nothing after.
    expect(await stay.hours("2026-03-04/day")).toEqual([
      75,
      75,
      75,
      75,
      75,
      0,
      0,
      null,
      null,
      null,
      null,
      null,
    ]);
  });
});
