/**
 * A level of a gravity set of a time that was signed when it was recorded. What was signed stays, and with it when
 * the bag ran empty; from the end of that on the bag holds what the level says it does.
 */

import { describe, expect, it } from "vitest";
import { done, type Json, NURSE, PUMPS, Stay } from "./stay.js";
import { amend, at, change, hang, line, on, pump, start, type Told, void_, when } from "./telling.js";

const DAY = "2026-03-04/day";

/** A bag on a gravity set that runs at 50 mL/h from 07:00. */
async function dripping(volume: number, more: Told = {}): Promise<Stay> {
  const stay = await Stay.begun({ now: "07:05" });
  await stay.post([
    line("07:00"),
    pump("07:00", { type: "gravity", totals: "none", rateStep: undefined, dropFactor: 20, ...more }),
    hang("07:00", "drip", volume),
    start("07:00", 50, { volumeToInfuse: "none" }),
  ]);
  return stay;
}

const holds = (clock: string, remaining: number, more: Told = {}): Told => ({
  ...{ kind: "bag-level-read", at: at(clock), bag: "drip", remaining, method: "scale" },
  ...more,
});

/** Signs the day up to a time. */
async function signedAt(stay: Stay, clock: string): Promise<void> {
  await stay.itIs(clock).signs(DAY);
}

const stateOf = async (stay: Stay) => (await stay.shift(DAY)).state;
const frozenOf = async (stay: Stay, id: string) => (await stay.entry(id)).recorded.frozen;
const rounded = (hours: (number | null)[]) => hours.map((one) => one && Math.round(one));

/** The hours of the day by a bag of 700 mL, read on time at 13:30. */
async function readAgainAt1330(...late: Told[]): Promise<number[]> {
  const stay = await dripping(700);
  await signedAt(stay, "13:00");
  if (late.length > 0) await stay.itIs("13:20").post(late);
  await stay.itIs("15:00").post([holds("13:30", 300)]);
  return stay.hours(DAY);
}

describe("a level of signed time", () => {
  it("moves no signed figure, though the bag ran empty within the span", async () => {
    const stay = await dripping(100);
    await signedAt(stay, "13:00");
    const before = await stay.hours(DAY);
    expect(rounded(before.slice(0, 4))).toEqual([50, 50, 10, 0]);
    await stay.post([holds("07:30", 95, { id: "late" })]);
    expect(await stay.hours(DAY)).toEqual(before);
    expect(await frozenOf(stay, "late")).toEqual({ countsFrom: "2026-03-04T19:00:00+00:00" });
    await stay.withoutCheckpoints();
    expect(await stay.hours(DAY)).toEqual(before);
    expect(stay.ledger.verify()).toMatchObject({ sound: true });
  });

  it("moves no figure of a later span that was signed as well", async () => {
    const stay = await dripping(150);
    await signedAt(stay, "09:30");
    await signedAt(stay, "13:00");
    const before = await stay.hours(DAY);
    expect(rounded(before.slice(0, 4))).toEqual([50, 50, 50, 15]);
    await stay.post([holds("09:00", 110)]);
    expect(await stay.hours(DAY)).toEqual(before);
    expect(await stateOf(stay)).toBe("preliminary");
  });

  it("says from the end of what was signed on what the bag holds, and when it will be empty", async () => {
    const stay = await dripping(700);
    await signedAt(stay, "13:00");
    const emptyAt = async () => (await stay.totals()).channels[0].flow.emptyAt;
    expect(await emptyAt()).toBe("2026-03-04T21:00:00-06:00");
    await stay.itIs("13:10").post([holds("12:00", 100)]);
    // 100 mL at 12:00 less 50 mL until 13:00: 50 mL are left when what was signed is over, and 70 mL of overfill.
    expect(await emptyAt()).toBe("2026-03-04T14:00:00-06:00");
    expect(rounded(await stay.itIs("19:00").hours(DAY))).toEqual([
      50, 50, 50, 50, 50, 50, 50, 50, 20, 0, 0, 0,
    ]);
  });

  it("is judged and found, and the next one is measured from it", async () => {
    const stay = await dripping(700);
    await signedAt(stay, "13:00");
    await stay.itIs("13:30").post([holds("12:00", 300, { id: "late" }), holds("13:30", 225, { id: "next" })]);
    const found = await stay.findings();
    expect(
      found.filter(({ code }) => code === "bag-unaccounted").map(({ concerns }) => concerns.entries[0]),
    ).toEqual(["late"]);
    const { bags } = done(await stay.ledger.threeWays("stay-1", { period: { shift: DAY } })) as Json;
    expect(bags[0].levels).toMatchObject([
      {
        entry: "late",
        byLevel: 400,
        rateTime: 250,
        restsOn: "rate-time",
        why: expect.stringContaining("what was signed stays"),
      },
      { entry: "next", byLevel: 75, rateTime: 75, restsOn: "level" },
    ]);
  });

  it("leaves what came out of the bag to the span after, as a reading's difference is", async () => {
    // 700 mL less 300 mL at 13:30 are 400 mL, of which 300 mL were signed by 13:00.
    expect((await readAgainAt1330())[6]).toBe(100 + 25);
    expect(await readAgainAt1330(holds("12:00", 380))).toEqual(await readAgainAt1330());
  });

  it("of a device is no other", async () => {
    const stay = await dripping(100);
    await signedAt(stay, "13:00");
    const before = await stay.hours(DAY);
    await stay.post([holds("07:30", 95, { id: "late" })], { as: PUMPS });
    expect(await stay.hours(DAY)).toEqual(before);
    expect(await frozenOf(stay, "late")).toHaveProperty("countsFrom");
  });

  it("that says nothing of the course is kept as it was sent", async () => {
    const stay = await dripping(100, { type: "pump", totals: "separate", dropFactor: undefined });
    await signedAt(stay, "13:00");
    await stay.post([holds("07:30", 95, { id: "check" })]);
    expect(await frozenOf(stay, "check")).toBeUndefined();
  });

  it("is one of any other time where nothing was signed when it was recorded", async () => {
    const stay = await dripping(100);
    await stay.itIs("13:00").post([holds("07:30", 95, { id: "first" })]);
    await signedAt(stay, "13:00");
    expect(await frozenOf(stay, "first")).toBeUndefined();
    expect(rounded((await stay.hours(DAY)).slice(0, 4))).toEqual([30, 50, 30, 0]);
  });

  it("also between the end of what was signed and a level that signed figures rest on", async () => {
    const stay = await dripping(700);
    await stay.itIs("15:00").post([holds("15:00", 280)]);
    const { toSign } = await stay.itIs("15:01").shift(DAY);
    const body = { digest: toSign.digest, to: at("13:00"), remark: "Looked at." };
    const early = await stay.ledger.sign(NURSE, "stay-1", DAY, body, null);
    // Another digest, since another span was looked at: what is to be signed up to 13:00 is asked for.
    const { digest } = (early.refused as { members?: { digest: string } }).members!;
    await stay.ledger.sign(NURSE, "stay-1", DAY, { ...body, digest }, null);
    const before = (await stay.hours(DAY)).slice(0, 6);
    await stay.post([holds("14:00", 20, { id: "late" })]);
    expect(await frozenOf(stay, "late")).toEqual({ countsFrom: "2026-03-04T21:00:00+00:00" });
    expect((await stay.hours(DAY)).slice(0, 6)).toEqual(before);
  });
});

describe("correcting one", () => {
  const late = async () => {
    const stay = await dripping(700);
    await signedAt(stay, "13:00");
    const signed = await stay.hours(DAY);
    await stay.itIs("13:10").post([holds("12:00", 100, { id: "late" })]);
    return { stay, signed: signed.slice(0, 6) };
  };
  const day = (stay: Stay) => stay.itIs("19:00").hours(DAY);

  it("is undone by a void, and done again by its void", async () => {
    const { stay } = await late();
    const was = await day(stay);
    await stay.post([void_("late", { id: "void" })]);
    expect(rounded(await day(stay))).toEqual(Array<number>(12).fill(50));
    await stay.post([void_("void")]);
    expect(await day(stay)).toEqual(was);
  });

  it("to another time counts from then if that is not signed, and else from its end", async () => {
    const { stay, signed } = await late();
    await stay.post([amend("late", holds("12:30", 75), { id: "within" })]);
    expect(await frozenOf(stay, "within")).toEqual({ countsFrom: "2026-03-04T19:00:00+00:00" });
    expect((await day(stay)).slice(0, 6)).toEqual(signed);
    await stay.post([amend("late", holds("13:05", 300), { id: "after" })]);
    expect(await frozenOf(stay, "after")).toBeUndefined();
    expect((await day(stay)).slice(0, 6)).toEqual(signed);
    expect((await day(stay))[6]).toBeCloseTo(100 + (50 * 55) / 60, 0);
  });

  it("of one made void in its own request counts no earlier when it comes to count", async () => {
    const stay = await dripping(100);
    await signedAt(stay, "13:00");
    const before = await stay.hours(DAY);
    await stay.post([holds("07:30", 95, { id: "late" }), void_("late", { id: "void" })]);
    await stay.post([void_("void")]);
    expect(await stay.hours(DAY)).toEqual(before);
  });

  it("that was signed is a correction of what was signed", async () => {
    const stay = await dripping(700);
    await stay.itIs("13:00").post([holds("12:00", 460, { id: "level" })]);
    await signedAt(stay, "13:00");
    await stay.post([amend("level", holds("12:00", 440), { id: "amended" })]);
    expect(await frozenOf(stay, "amended")).toBeUndefined();
    expect((await stay.hours(DAY)).slice(0, 5)).toEqual([52, 52, 52, 52, 52]);
    expect(await stateOf(stay)).toBe("corrected");
  });
});

describe("several", () => {
  it("count as they were known when each span was signed", async () => {
    const stay = await dripping(700);
    await signedAt(stay, "09:00");
    await stay.itIs("09:10").post([holds("08:00", 100)]);
    await signedAt(stay, "13:00");
    const before = await stay.hours(DAY);
    // 100 mL at 08:00 were 50 at 09:00, and with the overfill of 70 mL lasted until 11:24.
    expect(rounded(before.slice(0, 5))).toEqual([50, 50, 50, 50, 20]);
    await stay.post([holds("08:00", 400)]);
    expect(await stay.hours(DAY)).toEqual(before);
  });

  it("are each as of when they were recorded", async () => {
    const stay = await dripping(700);
    await signedAt(stay, "13:00");
    await stay.itIs("13:10").post([holds("12:00", 100)]);
    const sequence = await stay.sequence();
    const was = await stay.itIs("19:00").hours(DAY);
    await stay.post([holds("12:30", 300), change("17:00", 20)]);
    expect(await stay.hours(DAY, "forearm", { asOf: { sequence } })).toEqual(was);
  });
});

describe("a reading of signed time that another one goes on from", () => {
  it("leaves the same to the shift after, whether that is looked at alone or not", async () => {
    const stay = await Stay.running(change("07:00", 50));
    await stay.itIs("19:00").signs(DAY);
    const read = (clock: string, volume: number) => on(clock, "total-read", { total: "primary", volume });
    await stay.itIs("22:00").post([read("18:00", 540), read("21:00", 694)]);
    const night = (await stay.hours("2026-03-04/night")).slice(0, 2);
    // Of 694 mL by 21:00 twelve hours of 50 mL were signed.
    expect(night).toEqual([47, 47]);
    const { rows } = await stay.volumes({ from: when("07:00"), to: when("21:00") });
    expect(rows[0].volumes.slice(12)).toEqual(night);
  });
});
