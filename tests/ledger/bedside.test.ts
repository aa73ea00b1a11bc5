/** What each thing at the bedside was last known to hold or show, and what of it nobody has written down. */

import { describe, expect, it } from "vitest";
import { read } from "./asking.js";
import { type Json, PUMPS, Stay } from "./stay.js";
import { at, on, pump, running, start, type Told } from "./telling.js";

/** 75 mL/h from 07:00; it is 11:00. */
async function begun(...more: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post([...running(), ...more]);
  return stay;
}

const chamber = (clock: string, kind: string, more: Told = {}): Told => ({
  kind,
  at: at(clock),
  chamber: "chest-left",
  ...more,
});

const segment = (from: string, to: string, volume: number, more: Told = {}): Told =>
  on(to, "segment-read", { start: at(from), volume, ...more });

async function chambers(stay: Stay, clock?: string): Promise<Json> {
  return (await stay.totals(clock === undefined ? {} : { at: clock })).chambers;
}

async function captured(stay: Stay): Promise<Json> {
  return (await stay.totals()).channels[0].segments;
}

describe("a chamber", () => {
  const collecting = [
    chamber("07:00", "chamber-placed", { category: "chest-drain", level: 40, id: "placed" }),
    chamber("09:00", "chamber-read", { level: 120, id: "looked" }),
    chamber("10:00", "chamber-emptied", { level: 150, id: "emptied" }),
  ];

  it("shows what it held when somebody last looked; what it holds now nobody knows", async () => {
    const stay = await begun(...collecting);
    const shown = (lastReading: number | null, since: string, by: string) => [
      {
        chamber: "chest-left",
        category: "chest-drain",
        expected: null,
        lastReading,
        atRisk: null,
        since: at(since),
        by,
      },
    ];
    expect(await chambers(stay, "08:00")).toEqual(shown(40, "07:00", "placed"));
    expect(await chambers(stay, "09:30")).toEqual(shown(120, "09:00", "looked"));
    expect(await chambers(stay)).toEqual(shown(null, "10:00", "emptied"));
  });

  it("stands in the answer of the whole shift, and is gone with the patient", async () => {
    const stay = await begun(...collecting);
    const shift: Json = await stay.shift("2026-03-04/day");
    expect(shift.totals.chambers).toEqual(await chambers(stay));
    await stay.discharge("10:30");
    expect(await chambers(stay)).toEqual([]);
  });
});

describe("a channel whose device tells segments", () => {
  it("shows what they captured, what they left open, and the last one", async () => {
    const stay = await begun();
    // 38 and 76 of the 37.5 and 75 computed; an hour and a half before, and an hour after, nobody told.
    await stay.post([segment("07:30", "08:00", 38), segment("08:00", "09:00", 76, { id: "last" })], {
      as: PUMPS,
    });
    expect(await captured(stay)).toEqual({
      since: at("07:00"),
      count: 2,
      captured: 114,
      untold: 187.5,
      last: {
        reading: "last",
        start: at("08:00"),
        end: at("09:00"),
        shows: 76,
        rateTime: 75,
        outcome: "agrees",
      },
      waiting: [],
    });
  });

  it("counts what lies after the last reading alone, of a segment across it as much as fell there", async () => {
    const stay = await begun();
    await stay.post([read("10:00", 225), segment("09:00", "11:00", 152)], { as: PUMPS });
    expect(await captured(stay)).toMatchObject({ since: at("10:00"), count: 1, captured: 76, untold: 0 });
  });

  it("shows one that waits, and counts nothing of it", async () => {
    const stay = await begun();
    await stay.post([segment("08:00", "09:00", 90, { id: "s" })], { as: PUMPS });
    expect(await captured(stay)).toMatchObject({
      captured: 0,
      untold: 300,
      waiting: [{ reading: "s", shows: 90, rateTime: 75, outcome: "waits" }],
    });
  });

  it("shows them where it keeps no totals, as far back as a day", async () => {
    const other = { channel: "pump-2" };
    const stay = await begun(pump("07:00", { ...other, totals: "none" }), start("07:00", 100, other));
    await stay.post([segment("08:00", "09:00", 101, other)], { as: PUMPS });
    const { channels } = await stay.totals();
    expect(channels[0].segments).toBeNull();
    expect(channels[1]).toMatchObject({
      totals: [],
      segments: { since: at("3 11:00"), captured: 101, untold: 300 },
    });
  });

  it("shows none once its totals were read", async () => {
    const stay = await begun();
    await stay.post([segment("08:00", "09:00", 76), read("11:00", 301)], { as: PUMPS });
    expect(await captured(stay)).toBeNull();
  });
});
