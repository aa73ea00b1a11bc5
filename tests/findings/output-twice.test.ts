/** Output charted twice: under one kind or two, and by itself as well as in the sum of a period. */

import { describe, expect, it } from "vitest";
import { at, mL, type Told } from "../infusion/bedside.js";
import { Stay } from "../ledger/stay.js";
import { drank, at as on4th } from "../ledger/telling.js";
import { findings, inDoubt } from "./evidence.js";

const urine = (clock: string, volume: number, more: object = {}): Told =>
  ({ at: clock, kind: "output-measured", category: "urine", volume: mL(volume), ...more }) as Told;
const emptied = (clock: string, level: number): Told =>
  ({
    at: clock,
    kind: "chamber-emptied",
    chamber: "left",
    category: "chest-drain",
    level: mL(level),
  }) as Told;
const irrigant = (clock: string, volume: number, site = "bladder"): Told =>
  ({ at: clock, kind: "irrigant-instilled", site, volume: mL(volume) }) as Told;
const twice = (told: readonly Told[], more = {}) => findings("possible-duplicate", told, "20:00", more);

describe("output charted twice", () => {
  it("is one amount from one site within five minutes", () => {
    const [found] = twice([urine("08:00", 350), urine("08:01", 350)]);
    expect(found).toMatchObject({
      subject: "e2",
      entries: ["e2", "e1"],
      sentence: "The same output of 350 mL (urine) was charted twice, at 08:00 and at 08:01.",
    });
    expect(inDoubt(found!)).toBe(350);
    for (const other of [
      urine("08:06", 350),
      urine("08:01", 340),
      urine("08:01", 350, { site: "catheter" }),
      urine("08:01", 350, { category: "gastric" }),
      urine("08:01", 350, { returned: mL(10) }),
    ]) {
      expect(twice([urine("08:00", 350), other])).toEqual([]);
    }
  });

  it("is something weighed or only seen twice", () => {
    const pad = { volume: undefined, weighed: { wet: 240_000, dry: 40_000 } };
    expect(twice([urine("08:00", 0, pad), urine("08:02", 0, pad)])).toHaveLength(1);
    const drier = { volume: undefined, weighed: { wet: 240_000, dry: 50_000 } };
    expect(twice([urine("08:00", 0, pad), urine("08:02", 0, drier)])).toEqual([]);
    const seen = { volume: undefined, occurrences: 1 };
    expect(twice([urine("08:00", 0, seen), urine("08:02", 0, seen)])).toHaveLength(1);
  });

  it("is a chamber's level at its emptying and the same amount from it, in either order", () => {
    const poured = (clock: string, volume: number, site = "left") =>
      urine(clock, volume, { category: "chest-drain", site });
    expect(twice([emptied("08:00", 180), poured("08:02", 180)]).map(({ sentence }) => sentence)).toEqual([
      "The same output of 180 mL from left was charted twice, at 08:00 and at 08:02.",
    ]);
    expect(twice([poured("08:00", 180), emptied("08:02", 180)]).map(({ subject }) => subject)).toEqual([
      "e2",
    ]);
    expect(twice([emptied("08:00", 180), emptied("08:02", 180)])).toHaveLength(1);
    expect(twice([emptied("08:00", 180), poured("08:02", 170)])).toEqual([]);
    expect(twice([emptied("08:00", 180), poured("08:02", 180, "right")])).toEqual([]);
  });

  it("is irrigant of one volume into one site", () => {
    expect(twice([irrigant("08:00", 500), irrigant("08:03", 500)]).map(({ sentence }) => sentence)).toEqual([
      "The same irrigant of 500 mL into bladder was charted twice, at 08:00 and at 08:03.",
    ]);
    expect(twice([irrigant("08:00", 500), irrigant("08:03", 500, "wound")])).toEqual([]);
    expect(twice([irrigant("08:00", 500), irrigant("08:03", 400)])).toEqual([]);
  });
});

describe("an amount and the sum of a period it lies in", () => {
  const afterwards = (index: number) => ({ recorded: { [index]: { at: "12:10" } } });
  const sum = (volume: number, more: object = {}) => urine("12:00", volume, { from: at("06:00"), ...more });

  it("may be the same, up to what the sum holds, whichever was recorded first", () => {
    const [found] = twice([urine("08:00", 200), urine("12:00", 150), sum(600)], afterwards(2));
    expect(found).toMatchObject({
      subject: "e3",
      entries: ["e3", "e1", "e2"],
      start: at("06:00"),
      end: at("12:00"),
      sentence:
        "The output of 600 mL (urine) from 06:00 to 12:00 may hold what was charted by itself as well: 350 mL at 08:00, 12:00.",
    });
    expect(inDoubt(found!)).toBe(350);
    expect(twice([sum(600), urine("08:00", 200)]).map(({ subject }) => subject)).toEqual(["e1"]);
    expect(inDoubt(twice([urine("08:00", 200), urine("09:00", 150), sum(300)])[0]!)).toBe(300);
  });

  it("are two things outside of it, from another site, or more than it", () => {
    for (const other of [
      urine("06:00", 200),
      urine("12:01", 200),
      urine("08:00", 200, { site: "catheter" }),
      urine("08:00", 200, { category: "gastric" }),
      urine("08:00", 700),
      urine("08:00", 200, { from: at("05:00") }),
      irrigant("08:00", 200),
    ]) {
      expect(twice([other, sum(600)])).toEqual([]);
    }
  });

  it("may be the same sent together as well: a sheet copied at once, with its sum", () => {
    const sheet = [urine("08:00", 200), urine("08:01", 200), sum(600)];
    const together = { recorded: { 0: { at: "12:10" }, 1: { at: "12:10" }, 2: { at: "12:10" } } };
    const found = twice(sheet, together);
    expect(found.map(({ entries }) => entries)).toEqual([["e3", "e1", "e2"]]);
    expect(inDoubt(found[0]!)).toBe(400);
  });

  it("holds a shorter period's as well; a sum charted twice is found as that alone", () => {
    const part = urine("09:00", 200, { from: at("06:00") });
    expect(twice([part, sum(600)]).map(({ entries }) => entries)).toEqual([["e2", "e1"]]);
    expect(twice([sum(600), sum(600)], afterwards(1)).map(({ entries }) => entries)).toEqual([["e2", "e1"]]);
  });

  it("of an intake is of one item where the sum says which", () => {
    const cup = (clock: string, volume: number, more: object = {}): Told =>
      ({ at: clock, kind: "intake-measured", category: "oral", volume: mL(volume), ...more }) as Told;
    const whole = { from: at("06:00") };
    expect(twice([cup("08:00", 200, { item: "tea" }), cup("12:00", 600, whole)])).toHaveLength(1);
    const water = { ...whole, item: "water" };
    expect(twice([cup("08:00", 200, { item: "tea" }), cup("12:00", 600, water)])).toEqual([]);
    expect(twice([cup("08:00", 200, { line: "tube" }), cup("12:00", 600, whole)])).toEqual([]);
  });
});

describe("what a request doubles is named in its answer", () => {
  const output = (clock: string, volume: number, more: object = {}) => ({
    kind: "output-measured",
    at: on4th(clock),
    category: "urine",
    volume,
    ...more,
  });
  const named = async (stay: Stay, ...told: object[]): Promise<string[]> => {
    const { body } = await stay.post(told as never);
    return body.findings
      .filter(({ code }: { code: string }) => code === "possible-duplicate")
      .map(({ concerns }: { concerns: { entries: string[] } }) => concerns.entries.join(" "));
  };

  it("once, however many things were charted since", async () => {
    const stay = await Stay.begun({ now: "06:30" });
    await stay.itIs("08:00").post([output("08:00", 350, { id: "a" })]);
    expect(await named(stay.itIs("08:01"), output("08:01", 350, { id: "b" }))).toEqual(["b a"]);
    expect(await named(stay.itIs("08:03"), drank("08:03", 100))).toEqual([]);
  });

  it("also by a sum over hours, and by what is charted late inside of one", async () => {
    const stay = await Stay.begun({ now: "06:30" });
    await stay.itIs("08:00").post([output("08:00", 200, { id: "a" })]);
    const sum = output("12:00", 600, { id: "sum", from: on4th("06:00") });
    expect(await named(stay.itIs("12:00"), sum)).toEqual(["sum a"]);
    expect(await named(stay.itIs("12:05"), drank("12:05", 100))).toEqual([]);
    expect(await named(stay.itIs("12:10"), output("09:00", 100, { id: "b" }))).toEqual(["sum a b"]);
  });
});
