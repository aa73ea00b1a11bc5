/** What readings, segments and levels make of the figures: scaled, held, spread evenly, or unattributed. */

import { describe, expect, it } from "vitest";
import { asked, chart, found, read, reset } from "./asking.js";
import { done, type Json, PUMPS, Stay } from "./stay.js";
import { amend, at, hang, line, on, pump, running, start, type Told, void_, when } from "./telling.js";

const DAY = "2026-03-04/day";

/** It is 11:00, four hours into the day. */
async function at11(...told: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(told);
  return stay;
}

async function hours(stay: Stay): Promise<Json[]> {
  const { rows } = await stay.volumes(DAY);
  return rows[0].volumes.slice(0, 4);
}

/** What each bag gave since 07:00. */
async function perBag(stay: Stay): Promise<Record<string, number>> {
  const { rows } = await stay.volumes(DAY, { per: "bag" });
  return Object.fromEntries(rows.map(({ key, total }: Json) => [key ?? "no bag", total]));
}

const dose = (rate: number): Told[] => [
  hang("08:00", "dose", 100, { role: "secondary" }),
  on("08:00", "secondary-started", { rate, whenDone: "resume-primary" }),
];

describe("an agreeing reading", () => {
  it("is what was delivered since the one before: the flow of the span is scaled, the rest stays", async () => {
    const stay = await at11(...running());
    // 154.8 for the computed 150: 77.4 an hour.
    await chart(stay, [read("09:00", 154.8)]);
    expect(await hours(stay)).toEqual([77.4, 77.4, 75, 75]);
    const [row] = (await stay.volumes(DAY)).rows;
    expect(row.computed.slice(0, 4)).toEqual([75, 75, 75, 75]);
  });

  it("rests on what was known at both ends of an hour, and inside a longer span on its share", async () => {
    const stay = await at11(...running());
    await chart(stay, [read("08:00", 75), read("09:00", 150), read("11:00", 300)]);
    const [row] = (await stay.volumes(DAY)).rows;
    expect(row.basis.slice(0, 4)).toEqual(["measured", "measured", "apportioned", "apportioned"]);
  });

  it("amended and voided takes its figures with it", async () => {
    const stay = await at11(...running());
    await chart(stay, [read("09:00", 154.8, { id: "r" })]);
    await chart(stay, [amend("r", read("09:00", 153))]);
    expect(await hours(stay)).toEqual([76.5, 76.5, 75, 75]);
    await chart(stay, [void_("r")]);
    expect(await hours(stay)).toEqual([75, 75, 75, 75]);
  });

  it("holds a bolus that came to its volume, and scales what flowed around it", async () => {
    const bolus = on("08:00", "bolus-started", { volume: 100, over: "PT15M" });
    const stay = await at11(...running(), bolus);
    // 3 h 45 min of 75 are 281.25; 292.5 of it are 78 an hour, and 19.5 in the quarters around the bolus.
    await chart(stay, [read("11:00", 392.5)]);
    expect(await hours(stay)).toEqual([78, 158.5, 78, 78]);
    const { flows } = await stay.flows({ shift: DAY });
    const given = flows.find(({ role }: Json) => role === "bolus");
    expect([given.volume, given.delivered]).toEqual([100, 100]);
  });

  it("of a combined total scales the flows of both roles", async () => {
    const [placed, , ...rest] = running();
    const ended = on("08:30", "secondary-ended");
    const stay = await at11(placed!, pump("07:00", { totals: "combined" }), ...rest, ...dose(120), ended);
    // 262.5 of the primary and 60 of the secondary, ended before its volume: 4 % more of each.
    await chart(stay, [read("11:00", 335.4, { total: "combined" })]);
    expect(await perBag(stay)).toEqual({ "saline-1": 273, dose: 62.4 });
  });

  it("of one total leaves what the other counts alone", async () => {
    const stay = await at11(...running(), ...dose(120), on("08:30", "secondary-ended"));
    await chart(stay, [read("11:00", 273)]);
    expect(await perBag(stay)).toEqual({ "saline-1": 273, dose: 60 });
  });
});

describe("what came to its limit is held", () => {
  const litre = (clock: string, bag: string): Told => hang(clock, bag, 1_000);
  const hundred = [line("07:00"), pump("07:00"), hang("07:00", "first", 100)];

  it("a bag that was empty in the very minute in which the next one was hung", async () => {
    const stay = await at11(...hundred, start("07:00", 100), litre("08:00", "second"));
    // 100 of the first; 309 less those are 209 for the computed 200, and an hour of 100 after the reading.
    await chart(stay, [read("10:00", 309)]);
    expect(await perBag(stay)).toEqual({ first: 100, second: 309 });
    expect(await hours(stay)).toEqual([100, 104.5, 104.5, 100]);
  });

  it("a bag taken down empty in that minute", async () => {
    const down: Told = { kind: "bag-taken-down", at: at("08:00"), bag: "first", remaining: 0 };
    const next = [litre("08:00", "second"), start("08:00", 100)];
    const stay = await at11(...hundred, start("07:00", 100), down, ...next);
    await chart(stay, [read("10:00", 309)]);
    expect(await perBag(stay)).toEqual({ first: 100, second: 309 });
  });

  it("a volume to infuse that was reached as the next one was started", async () => {
    const first = start("07:00", 100, { volumeToInfuse: 100 });
    const stay = await at11(...hundred.slice(0, 2), litre("07:00", "bag"), first, start("08:00", 100));
    await chart(stay, [read("10:00", 309)]);
    expect(await hours(stay)).toEqual([100, 104.5, 104.5, 100]);
  });
});

describe("what no flow can hold stands at the reading, unattributed", () => {
  it("where nothing flowed", async () => {
    const [placed, connected, bag] = running();
    const stay = await at11(placed!, connected!, bag!);
    await chart(stay, [read("10:00", 20, { id: "r", confirmed: true })]);
    expect(await hours(stay)).toEqual([0, 0, 20, 0]);
    const { unattributed } = await stay.flows({ shift: DAY });
    expect(unattributed).toMatchObject([{ reading: "r", volume: 20, basis: "disputed" }]);
  });

  // Of the computed 300, 0.8 are 240 and 1.25 are 375.
  it.each([
    [240, [60, 60, 60, 60]],
    [239, [75, 75, 75, 14]],
    [375, [93.8, 93.7, 93.8, 93.7]],
    [376, [75, 75, 75, 151]],
  ])("where the flow would be scaled beyond 0.8 or 1.25: %d of 300", async (volume, expected) => {
    const stay = await at11(...running());
    await chart(stay, [read("11:00", volume, { confirmed: true })]);
    expect(await hours(stay)).toEqual(expected);
  });
});

describe("less than was computed comes off what flowed last, and never leaves less than nothing", () => {
  const confirmed = (clock: string, volume: number) => read(clock, volume, { confirmed: true });

  it("where no factor is near: as computed until so much was given, and then nothing", async () => {
    // 100 of 300 in four hours.
    const stay = await at11(...running(), confirmed("11:00", 100));
    expect(await hours(stay)).toEqual([75, 25, 0, 0]);
    expect((await stay.flows({ shift: DAY })).unattributed).toEqual([]);
  });

  it("where what had finished is more than was read: that gives way last", async () => {
    // 75 and a bolus of 50 by 08:15, 206.25 more by 11:00; the device shows 30.
    const bolus = on("08:00", "bolus-started", { volume: 50, over: "PT15M" });
    const stay = await at11(...running(), bolus, confirmed("11:00", 30));
    expect(await hours(stay)).toEqual([0, 30, 0, 0]);
    const { flows, unattributed } = await stay.flows({ shift: DAY });
    expect(unattributed).toEqual([]);
    expect(flows.map(({ role, volume, delivered, basis }: Json) => [role, volume, delivered, basis])).toEqual(
      [
        ["primary", 75, 0, "disputed"],
        ["bolus", 50, 30, "disputed"],
        ["primary", 206.25, 0, "disputed"],
      ],
    );
  });

  it("where all of it had finished an hour before: in that hour, and no later one is below nothing", async () => {
    // 100 mL from 08:00 to 08:30, of which the device counted 97, read at 10:00.
    const stay = await at11(...running(), ...dose(200), read("10:00", 97, { total: "secondary" }));
    expect(
      (await stay.volumes(DAY, { per: "bag" })).rows.map(({ volumes }: Json) => volumes.slice(0, 4)),
    ).toEqual([
      [0, 97, 0, 0],
      [75, 37.5, 75, 75],
    ]);
  });

  it("where what a segment counted is more than was read: that stays, and it is said", async () => {
    const segment = on("09:00", "segment-read", { start: at("08:00"), volume: 76 });
    const stay = await at11(...running(), segment, confirmed("11:00", 30));
    expect(await hours(stay)).toEqual([0, 76, 0, 0]);
    const told = done(
      await stay.ledger.explanation("stay-1", {
        period: { from: when("07:00"), to: when("11:00") },
        per: "line",
        row: "forearm",
      }),
    ) as Json;
    expect(told.readings).toMatchObject([
      { delivered: 76 },
      { delivered: 30, unplaced: 46, basis: "disputed" },
    ]);
    expect(told.sentence).toContain(
      "which is in dispute; 46 mL more are signed, or counted by segments, and stay",
    );
    const period = { from: when("07:00"), to: when("11:00") };
    const { channels } = done(await stay.ledger.threeWays("stay-1", { period })) as Json;
    expect(channels[0].readings[1].why).toBe(
      "It disagrees and was confirmed: the device comes first, until an entry explains it. " +
        "46 mL more are signed, or counted by segments, and stay in the figures.",
    );
  });

  it("where the hours before are signed: those stay, and no later hour makes up for them", async () => {
    const stay = await Stay.begun({ now: "10:00" });
    await stay.post(running());
    await stay.signs(DAY);
    stay.itIs("11:00");
    await stay.post([confirmed("11:00", 100)]);
    expect(await hours(stay)).toEqual([75, 75, 75, 0]);
  });
});

describe("a device's own segment", () => {
  it("is what its span delivered, and no other", async () => {
    const stay = await at11(...running());
    const segment = on("09:00", "segment-read", { start: "2026-03-04T08:00:00-06:00", volume: 80 });
    await stay.post([segment], { as: PUMPS });
    expect(await hours(stay)).toEqual([75, 80, 75, 75]);
  });

  it("is held when a reading of a longer span is met", async () => {
    const stay = await at11(...running());
    const segment = on("09:00", "segment-read", { start: "2026-03-04T08:00:00-06:00", volume: 80 });
    await stay.post([segment], { as: PUMPS });
    // 311 less 80 are 231 in three hours.
    await chart(stay, [read("11:00", 311)]);
    expect(await hours(stay)).toEqual([77, 80, 77, 77]);
  });
});

describe("a device's segment over what came to its limit", () => {
  const segment = (volume: number) =>
    on("09:00", "segment-read", { start: "2026-03-04T08:00:00-06:00", volume });

  it("holds a secondary, and scales the primary around it", async () => {
    const stay = await at11(...running(), ...dose(200));
    // 100 in half an hour and 37.5 after it; the device counted 140.
    await stay.post([segment(140)], { as: PUMPS });
    expect((await perBag(stay)).dose).toBe(100);
    expect(await hours(stay)).toEqual([75, 140, 75, 75]);
    await chart(stay, [read("09:30", 101, { total: "secondary" })]);
    // The millilitre more that the secondary total counted stands at its reading.
    expect((await perBag(stay)).dose).toBe(101);
    expect(await hours(stay)).toEqual([75, 140, 76, 75]);
  });

  it("holds a bolus", async () => {
    const bolus = on("08:00", "bolus-started", { volume: 50, over: "PT15M" });
    const stay = await at11(...running(), bolus);
    await stay.post([segment(108)], { as: PUMPS });
    const { flows } = await stay.flows({ shift: DAY });
    const given = flows.find(({ role }: Json) => role === "bolus");
    expect([given.volume, given.delivered]).toEqual([50, 50]);
    expect(await hours(stay)).toEqual([75, 108, 75, 75]);
  });
});

describe("a clear that was found, at some time before", () => {
  const foundCleared = on("09:00", "totals-reset", {
    between: [at("08:00"), at("09:00")],
    leaveUncaptured: { reason: "already-cleared" },
  });

  // By 09:30 the total has counted 37.5 since nine, or up to 112.5 since eight; 5 % and a minute on either side.
  it.each([
    [34.5, false],
    [36, true],
    [80, true],
    [115, true],
    [120, false],
  ])("lets the next reading show what was counted since any time between: %d, %s", async (volume, agrees) => {
    const stay = await at11(...running(), foundCleared);
    const request = [read("09:30", volume)];
    if (!agrees) {
      expect((await asked(stay, request)).problem).toBe("reading-disagrees");
      return;
    }
    await chart(stay, request);
    // Nobody knows since when: the reading agrees, and no figure is made of it.
    expect(await hours(stay)).toEqual([75, 75, 75, 75]);
    // The next one is over this, and is what was delivered.
    await chart(stay, [read("10:30", volume + 77)]);
    expect((await stay.volumes(DAY)).rows[0].volumes[2]).toBeCloseTo(76, 0);
  });
});

describe("a gravity set, which counts nothing", () => {
  const gravity = (...flow: Told[]) => [
    line("07:00"),
    pump("07:00", { type: "gravity", totals: "none", rateStep: undefined, dropFactor: 20 }),
    hang("07:00", "saline-1", 1_000),
    ...flow,
  ];
  const level = (clock: string, remaining: number): Told => {
    const read = { bag: "saline-1", remaining, method: "scale" };
    const { channel: _, ...entry } = on(clock, "bag-level-read", read);
    return entry;
  };

  it("delivered what is gone from its bag, however far from the rate, with a note", async () => {
    const stay = await at11(...gravity(start("07:00", 60)));
    // 240 gone for 120 computed in two hours.
    await chart(stay, [level("09:00", 760)]);
    expect(await hours(stay)).toEqual([120, 120, 60, 60]);
    expect(await found(stay)).toEqual(["bag-unaccounted note open"]);
  });

  it("at a rate nobody knows gave it evenly between two levels, and is unknown after the last", async () => {
    const stay = await at11(...gravity({ ...start("07:00", 1), rate: "unknown" }));
    await chart(stay, [level("09:00", 800), level("10:00", 750)]);
    expect(await hours(stay)).toEqual([100, 100, 50, 0]);
    const [row] = (await stay.volumes(DAY)).rows;
    expect([row.unknown.slice(0, 4), row.basis[3]]).toEqual([[0, 0, 0, 60], "unknown"]);
  });
});

describe("a metered channel, which counts at no rate that is known", () => {
  const pca = [line("07:00"), pump("07:00", { type: "metered", totals: "combined" })];
  const counted = (clock: string, volume: number) => read(clock, volume, { total: "combined" });

  it("gave the increment in the hour of its reading, and says since when", async () => {
    const stay = await at11(...pca);
    await chart(stay, [counted("08:30", 2.4), counted("11:00", 6)]);
    expect(await hours(stay)).toEqual([0, 2.4, 0, 3.6]);
    const { rows } = await stay.volumes(DAY);
    const [first, second] = ["2026-03-04T07:00:00-06:00", "2026-03-04T08:30:00-06:00"];
    expect(rows[0].since.slice(0, 4)).toEqual([null, first, null, second]);
    const { unattributed } = await stay.flows({ shift: DAY });
    expect(unattributed.map(({ start, at, volume }: Json) => [start, at, volume])).toEqual([
      ["2026-03-04T07:00:00-06:00", "2026-03-04T08:30:00-06:00", 2.4],
      ["2026-03-04T08:30:00-06:00", "2026-03-04T11:00:00-06:00", 3.6],
    ]);
  });

  it("is asked about before it is cleared, whatever it counted", async () => {
    const stay = await at11(...pca);
    await chart(stay, [counted("08:30", 2.4)]);
    const { detail, atRisk } = await asked(stay, [reset("11:00")]);
    expect(detail).toBe(
      "pump-1 would forget what the combined total counted that nobody has written down since 08:30.",
    );
    expect(atRisk).toMatchObject([{ total: "combined", expected: null, lastReading: 2.4, atRisk: null }]);
    await chart(stay, [counted("11:00", 6), reset("11:00"), counted("11:00", 0)]);
    expect(await hours(stay)).toEqual([0, 2.4, 0, 3.6]);
  });

  it("that was cleared unread is found, since nobody knows what it counted", async () => {
    const stay = await at11(...pca);
    await chart(stay, [counted("08:30", 2.4)]);
    const { body } = await stay.post([reset("11:00")], { as: PUMPS });
    expect(body.findings.map(({ sentence }: Json) => sentence)).toEqual([
      "The combined total of pump-1 was cleared at 11:00 unread since 08:30: what it counted is not known.",
    ]);
    expect(await found(stay)).toEqual(["totals-lost attention open"]);
    await chart(stay, [counted("11:00", 6)]);
    expect(await found(stay)).toEqual([]);
  });
});
