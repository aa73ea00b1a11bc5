/** Rate × time, what was read and what the bags hold, beside each other: what each says, and what counts. */

import { describe, expect, it } from "vitest";
import type { PeriodAsked } from "../../src/ledger/ledger.js";
import { found, read } from "./asking.js";
import { done, type Json, PUMPS, Stay } from "./stay.js";
import { hang, line, on, pump, running, type Told, when } from "./telling.js";

async function compared(stay: Stay, period: PeriodAsked = { shift: "2026-03-04/day" }): Promise<Json> {
  return done(await stay.ledger.threeWays("stay-1", { period }));
}

const level = (clock: string, remaining: number, method: string): Told => {
  const { channel: _, ...entry } = on(clock, "bag-level-read", { bag: "saline-1", remaining, method });
  return entry;
};

/** It is 11:00, four hours of 75 mL/h into the day. */
async function at11(...told: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post([...running(), ...told]);
  return stay;
}

describe("what no flow can hold", () => {
  it("is charted on its channel and on the bag that alone can have given it", async () => {
    const stay = await at11(read("11:00", 376, { confirmed: true }));
    const { channels, bags } = await compared(stay);
    expect([channels[0].rateTime, channels[0].charted]).toEqual([300, 376]);
    expect([bags[0].bag, bags[0].rateTime, bags[0].charted]).toEqual(["saline-1", 300, 376]);
    const { rows } = await stay.volumes("2026-03-04/day", { per: "bag" });
    expect(rows[0].total).toBe(376);
  });

  it("is charted in the period that ends at its reading, and in no other", async () => {
    const stay = await at11(read("10:00", 300, { confirmed: true }));
    const charted = async (from: string, to: string) => {
      const { channels, bags } = await compared(stay, { from: when(from), to: when(to) });
      return [channels[0].charted, bags[0].charted];
    };
    // 300 for the computed 225: 75 stand at 10:00.
    expect(await charted("09:00", "10:00")).toEqual([150, 150]);
    expect(await charted("10:00", "11:00")).toEqual([75, 75]);
  });

  it("makes a channel and bag appear of which nothing else is known", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    await stay.post([line("07:00"), pump("07:00"), hang("07:00", "saline-1", 1_000)]);
    const counted = { start: "2026-03-04T08:00:00-06:00", volume: 80 };
    await stay.post([on("09:00", "segment-read", { ...counted, confirmed: true })]);
    const { channels } = await compared(stay);
    expect(channels).toMatchObject([{ channel: "pump-1", rateTime: 0, charted: 80 }]);
  });
});

describe("a span between readings says why it counts", () => {
  const whys = ({ channels }: Json) => channels[0].readings.map(({ why }: Json) => why);

  it("because it agrees", async () => {
    expect(whys(await compared(await at11(read("09:00", 150))))).toEqual(["It agrees within the tolerance."]);
  });

  it("because somebody decided so, also of a reading after the period", async () => {
    const stay = await at11();
    await stay.post([read("10:00", 330, { id: "r" })], { as: PUMPS });
    const { channel: _, ...settled } = on("11:00", "variance-settled", {
      reading: "r",
      use: "reading",
      reason: "So it was.",
    });
    await stay.post([settled]);
    const decided = ["Somebody decided that it counts."];
    expect(whys(await compared(stay))).toEqual(decided);
    expect(whys(await compared(stay, { from: when("08:00"), to: when("09:00") }))).toEqual(decided);
  });

  it("because a metered channel has nothing else", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    const counted = read("08:30", 2.4, { total: "combined" });
    await stay.post([line("07:00"), pump("07:00", { type: "metered", totals: "combined" }), counted]);
    const { channels } = await compared(stay);
    expect([channels[0].charted, channels[0].readings[0].shows]).toEqual([2.4, 2.4]);
    expect(whys({ channels })).toEqual(["A metered channel is told by its readings alone."]);
  });

  it("or what it shows where it is lower than before, and nobody knows", async () => {
    const stay = await at11(read("08:00", 75), read("09:00", 20, { confirmed: true }));
    const [, lower] = (await compared(stay)).channels[0].readings;
    expect(lower).toMatchObject({ shows: 20, read: null, difference: null, restsOn: "rate-time" });
    expect(lower.why).toMatch(/^It is lower than before/);
  });

  it("or what it shows where it still waits", async () => {
    const stay = await at11();
    await stay.post([read("10:00", 330, { id: "r" })], { as: PUMPS });
    const [waits] = (await compared(stay)).channels[0].readings;
    expect(waits).toMatchObject({
      shows: 330,
      rateTime: 225,
      read: 330,
      difference: 105,
      restsOn: "rate-time",
    });
  });
});

describe("a level of a bag", () => {
  // 850 of the litre are computed to be left at 09:00. A scale may be 200 off, a weighed bag 50; a litre is
  // looked into beyond 100, and beyond what its method can tell.
  it.each([
    ["scale", 650, true, false],
    ["scale", 649, false, true],
    ["scale", 1_050, true, false],
    ["weighed", 800, true, false],
    ["weighed", 799, false, false],
    ["weighed", 750, false, false],
    ["weighed", 749, false, true],
  ])("on a pump (%s, %d mL) agrees: %s, and is found: %s", async (method, remaining, agrees, isFound) => {
    const stay = await at11(level("09:00", remaining, method));
    const { bags } = await compared(stay);
    expect(bags[0].levels[0]).toMatchObject({ agrees, restsOn: "rate-time", byLevel: 1_000 - remaining });
    expect(bags[0].levels[0].why).toMatch(
      agrees ? /and it agrees/ : isFound ? /disagrees, and/ : /less than is looked into/,
    );
    expect(await found(stay)).toEqual(isFound ? ["bag-unaccounted attention open"] : []);
  });

  it("on a gravity set that holds more than before is no delivered volume", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    const set = pump("07:00", { type: "gravity", totals: "none", rateStep: undefined, dropFactor: 20 });
    const flow = on("07:00", "flow-started", { rate: 60 });
    await stay.post([line("07:00"), set, hang("07:00", "saline-1", 1_000), flow]);
    await stay.post([level("08:00", 940, "scale"), level("09:00", 960, "scale")]);
    const { levels } = (await compared(stay)).bags[0];
    expect(levels.map(({ byLevel, restsOn }: Json) => [byLevel, restsOn])).toEqual([
      [60, "level"],
      [-20, "rate-time"],
    ]);
    expect(levels[1].why).toMatch(/^It holds more than before/);
  });
});

describe("a channel and its bag say what the figures rest on", () => {
  const rests = ({ channels, bags }: Json) => [channels[0].restsOn, bags[0].restsOn];

  it("where nothing was read", async () => {
    const { channels, ...all } = await compared(await at11());
    expect(channels[0]).toMatchObject({
      readings: [],
      runningTotals: null,
      restsOn: "rate-time",
      why: "Nothing that was read counts for this time: rate × time is all there is.",
    });
    expect(rests({ channels, ...all })).toEqual(["rate-time", "rate-time"]);
  });

  it.each([
    ["all of it", "07:00", "09:00", "reading"],
    ["a part of it", "08:00", "10:00", "several"],
    ["none of it", "09:00", "11:00", "rate-time"],
  ])("where %s was read", async (_what, from, to, restsOn) => {
    const stay = await at11(read("09:00", 153));
    const told = await compared(stay, { from: when(from), to: when(to) });
    expect(rests(told)).toEqual([restsOn, restsOn]);
  });

  it("where what was read says nothing", async () => {
    const stay = await at11(read("08:00", 75), read("09:00", 20, { confirmed: true }));
    const told = await compared(stay, { from: when("08:00"), to: when("09:00") });
    expect(rests(told)).toEqual(["rate-time", "rate-time"]);
  });

  it("where a level of a gravity set is all there is", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    const set = pump("07:00", { type: "gravity", totals: "none", rateStep: undefined, dropFactor: 20 });
    const flow = on("07:00", "flow-started", { rate: 60 });
    await stay.post([line("07:00"), set, hang("07:00", "saline-1", 1_000), flow]);
    await stay.post([level("08:00", 940, "scale")]);
    const told = await compared(stay, { from: when("07:00"), to: when("08:00") });
    expect(rests(told)).toEqual(["level", "level"]);
  });
});

describe("the running totals of a channel", () => {
  it("are added up beside rate × time over the same spans", async () => {
    const stay = await at11(
      hang("08:00", "dose", 100, { role: "secondary" }),
      on("08:00", "secondary-started", { rate: 200, whenDone: "resume-primary" }),
      ...[read("09:00", 110), read("10:00", 188), read("10:00", 101, { total: "secondary" })],
    );
    const { channels } = await compared(stay);
    // By rate × time the primary gives 75 mL, 37.5 after the secondary, and 75: read were 110 and 78 more.
    expect(channels[0].runningTotals).toEqual({
      start: "2026-03-04T07:00:00-06:00",
      end: "2026-03-04T10:00:00-06:00",
      rateTime: 287.5,
      read: 289,
      difference: 1.5,
    });
  });
});

describe("a segment that a device counted", () => {
  it("stands beside what rate × time comes to over it, also where the period cuts it", async () => {
    const stay = await at11();
    const segment = on("10:00", "segment-read", { start: "2026-03-04T08:00:00-06:00", volume: 153 });
    await stay.post([segment], { as: PUMPS });
    for (const from of ["07:00", "09:00"]) {
      const { channels } = await compared(stay, { from: when(from), to: when("11:00") });
      expect(channels[0].readings).toMatchObject([{ rateTime: 150, read: 153, difference: 3 }]);
    }
  });
});
