/** What running totals show again of what a device told in segments: what was decided, and what was written down. */

import { describe, expect, it } from "vitest";
import { asked, chart, findings, read, reset, told } from "./asking.js";
import { type Json, PUMPS, Stay } from "./stay.js";
import { at, on, running, type Told, void_ } from "./telling.js";

const DAY = "2026-03-04/day";
const device = { as: PUMPS };

const segment = (from: string, to: string, volume: number, more: Told = {}): Told =>
  on(to, "segment-read", { id: `s-${from.slice(0, 2)}`, start: at(from), volume, ...more });

/** 75 mL/h from 07:00; it is 11:00. */
async function begun(): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(running());
  return stay;
}

/** The device counted 115 mL from 08:00 to 09:00, where 75 mL was computed, and somebody decided. */
async function decided(use: "reading" | "computed"): Promise<Stay> {
  const stay = await begun();
  await stay.post([segment("08:00", "09:00", 115)], device);
  const decision = { kind: "variance-settled", at: at("10:00"), reading: "s-08", use, reason: "The log." };
  await stay.post([{ ...decision, id: "decision" }]);
  return stay;
}

async function hours(stay: Stay) {
  const { rows } = await stay.volumes(DAY);
  return { volumes: rows[0].volumes.slice(0, 4), basis: [...new Set(rows[0].basis.slice(0, 4))] };
}

describe("a segment that was decided on", () => {
  it.each([
    ["reading" as const, [75, 115, 75, 75]],
    ["computed" as const, [75, 75, 75, 75]],
  ])("to use what was %s is not asked about again with the next total", async (use, volumes) => {
    const stay = await decided(use);
    await chart(stay, [read("11:00", 340)]);
    expect(await hours(stay)).toEqual({ volumes, basis: ["apportioned"] });
    expect(await findings(stay)).toEqual([]);
  });

  it("is not asked about again where the device says its total, nor with a sum", async () => {
    const stay = await decided("reading");
    await stay.post([read("11:00", 340)], device);
    await chart(stay, [read("11:00", 340, { total: "combined" })]);
    expect(await findings(stay)).toEqual([]);
    expect((await hours(stay)).volumes).toEqual([75, 115, 75, 75]);
  });

  it("explains no more than it said", async () => {
    const stay = await decided("reading");
    const { problem, disagreements } = await asked(stay, [read("11:00", 380)]);
    expect([problem, disagreements.length]).toEqual(["reading-disagrees", 1]);
  });

  it("is asked about with the total once the decision is taken back", async () => {
    const stay = await decided("reading");
    await chart(stay, [read("11:00", 340, { id: "r" })]);
    const { body } = await stay.post([void_("decision")]);
    expect(body.findings.map(told)).toEqual(["reading-disagrees question open"]);
    expect((await findings(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~r"]);
  });

  it("explains no total of another time, and none that counted only a part of it", async () => {
    const stay = await decided("reading");
    await chart(stay, [read("08:30", 113)]);
    expect((await asked(stay, [read("11:00", 345)])).problem).toBe("reading-disagrees");
  });
});

const volumeLost = ({ sentence }: Json) => Number(/with ([\d.]+) mL/.exec(sentence)?.[1]);

describe("a segment that waits", () => {
  const kinds = (reasons: Json[]) => reasons.map(({ kind }) => kind);

  it("is a reason of a total that has the same, and decided on answers both", async () => {
    const stay = await begun();
    await stay.post([segment("08:00", "09:00", 115)], device);
    const sent = [read("11:00", 340, { id: "r" })];
    const { disagreements } = await asked(stay, sent);
    const [{ reasons }] = disagreements as [Json];
    const said = reasons.find(({ kind }: Json) => kind === "segments-say");
    expect(said).toMatchObject({
      place: 1,
      sentence:
        "The device's own segments from 08:00 to 09:00 have 40 mL more than was computed, as the total has.",
      entries: [{ kind: "variance-settled", reading: "s-08", use: "reading" }],
      fill: ["/0/reason"],
    });
    await chart(stay, [{ ...said.entries[0], reason: "The log." }, ...sent]);
    expect(await findings(stay)).toEqual([]);
    expect((await hours(stay)).volumes).toEqual([75, 115, 75, 75]);
  });

  it.each(["reading", "computed"])(
    "is not asked about once the total was decided on: use what was %s",
    async (use) => {
      const stay = await begun();
      await stay.post([segment("08:00", "09:00", 115), read("11:00", 340, { id: "r" })], device);
      expect((await findings(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~r"]);
      const decision = { kind: "variance-settled", at: at("11:00"), reading: "r", use, reason: "The log." };
      const { body } = await chart(stay, [{ ...decision, id: "decision" }]);
      expect([body.findings.map(told), await findings(stay)]).toEqual([
        ["reading-disagrees question settled"],
        [],
      ]);
      await stay.post([void_("decision")]);
      expect((await findings(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~r"]);
    },
  );

  it("is none of a total that has something else", async () => {
    const stay = await begun();
    await stay.post([segment("08:00", "09:00", 115)], device);
    const [{ reasons }] = (await asked(stay, [read("11:00", 260)])).disagreements as [Json];
    expect(kinds(reasons)).not.toContain("segments-say");
  });
});

describe("a total that was cleared unread", () => {
  const lost = async (stay: Stay) =>
    (await findings(stay)).filter(({ code }) => code === "totals-lost").map(volumeLost);

  it("was not lost where segments had told all of it", async () => {
    const stay = await begun();
    await stay.post([segment("07:00", "09:00", 150), segment("09:00", "11:00", 150), reset("11:00")], device);
    expect(await lost(stay)).toEqual([]);
    const [{ values }] = (await stay.audit()).encounters;
    expect(values).toMatchObject({ "clears-unread": 0, "clears-unread-volume": 0 });
  });

  it("lost what they had not told", async () => {
    const stay = await begun();
    await stay.post([segment("07:00", "09:00", 150), reset("11:00")], device);
    expect(await lost(stay)).toEqual([150]);
    const { body } = await stay.post([segment("09:00", "10:00", 75)], device);
    expect(body.findings.filter(({ code }: Json) => code === "totals-lost").map(volumeLost)).toEqual([75]);
    expect(await lost(stay)).toEqual([75]);
  });

  it("lost all of it where they tell of other time", async () => {
    const stay = await begun();
    await stay.post([read("09:00", 150), segment("07:00", "09:00", 150), reset("11:00")], device);
    expect(await lost(stay)).toEqual([150]);
  });

  it("is found at once to be told, and not to be", async () => {
    const stay = await begun();
    await stay.post([reset("11:00")], device);
    const told = await stay.post([segment("07:00", "11:00", 300)], device);
    const codes = ({ body }: typeof told) => body.findings.map(({ code, state }: Json) => `${code} ${state}`);
    expect(codes(told)).toContain("totals-lost settled");
    expect(codes(await stay.post([void_("s-07")]))).toContain("totals-lost open");
  });
});
