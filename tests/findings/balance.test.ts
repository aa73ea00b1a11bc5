/** What the balance leaves to look at: gaps in the output, weights, and irrigant that did not come back. */

import { describe, expect, it } from "vitest";
import { at, mL, type Told } from "../infusion/bedside.js";
import { codes, findings, inDoubt } from "./evidence.js";

const admitted = (clock: string, kg?: number): Told =>
  ({
    at: clock,
    kind: "admitted",
    ...(kg !== undefined && { weight: { value: kg * 1_000, unit: "kg" } }),
  }) as Told;
const weight = (clock: string, value: number, unit: "kg" | "lb" = "kg"): Told =>
  ({ at: clock, kind: "weight-measured", weight: { value: value * 1_000, unit } }) as Told;
const urine = (clock: string, more: object = { volume: mL(200) }): Told =>
  ({ at: clock, kind: "output-measured", category: "urine", ...more }) as Told;
const away = (clock: string, doing: "started" | "ended"): Told =>
  ({
    at: clock,
    kind: `away-${doing}`,
    ...(doing === "started" && { place: "Theatre", flows: "go-on" }),
  }) as Told;

const sentences = (found: readonly { sentence: string }[]) => found.map(({ sentence }) => sentence);

describe("a gap in the output", () => {
  it("is told after more than eight hours, since the admission or the last that was charted", () => {
    expect(findings("output-gap", [admitted("06:00")], "14:00")).toEqual([]);
    const [since] = findings("output-gap", [admitted("06:00")], "14:01");
    expect(since).toMatchObject({ severity: "attention", subject: "e1", start: at("06:00") });
    expect(since!.sentence).toBe("No output has been charted since 06:00, for 8 h 1 min.");
    const told = [admitted("06:00"), urine("07:00")];
    expect(findings("output-gap", told, "15:30").map(({ subject }) => subject)).toEqual(["e2"]);
  });

  it("is settled by the next output, or by one that is charted late", () => {
    const told = [admitted("06:00"), urine("07:00")];
    expect(findings("output-gap", told, "17:30")).toHaveLength(1);
    expect(findings("output-gap", [...told, urine("17:00")], "17:30")).toEqual([]);
    expect(findings("output-gap", [...told, urine("12:00")], "17:30")).toEqual([]);
  });

  it("is none where something came that nobody measured, or a chamber was looked at", () => {
    const chamber = [
      { at: "06:00", kind: "chamber-placed", chamber: "left", category: "chest-drain" },
      { at: "12:00", kind: "chamber-read", chamber: "left", level: 0 },
    ] as Told[];
    expect(findings("output-gap", [admitted("06:00"), ...chamber], "20:00")).toEqual([]);
    expect(findings("output-gap", [admitted("06:00"), urine("12:00", { occurrences: 1 })], "20:00")).toEqual(
      [],
    );
  });

  it("does not run while the patient is away, and begins anew with the return", () => {
    const told = [admitted("06:00"), urine("07:00"), away("08:00", "started"), away("18:00", "ended")];
    expect(findings("output-gap", told, "23:00")).toEqual([]);
    expect(findings("output-gap", told, "26:30").map(({ subject }) => subject)).toEqual(["e4"]);
  });
});

describe("a weight", () => {
  const day = { shifts: { day: ["07:00", "19:00"] } } as const;

  it("is missing once a shift is over and none is known", () => {
    expect(findings("weight-missing", [admitted("06:00")], "18:00")).toEqual([]);
    expect(findings("weight-missing", [admitted("06:00")], "19:00", day)).toMatchObject([{ subject: "e1" }]);
    expect(findings("weight-missing", [admitted("06:00", 70)], "19:00", day)).toEqual([]);
    expect(findings("weight-missing", [admitted("06:00"), weight("12:00", 70)], "19:00", day)).toEqual([]);
  });

  it("more than a fifth from the one before is implausible, and tells where pounds would explain it", () => {
    expect(findings("weight-implausible", [admitted("06:00", 70), weight("08:00", 56)], "09:00")).toEqual([]);
    const less = findings("weight-implausible", [admitted("06:00", 70), weight("08:00", 55.9)], "09:00");
    expect(sentences(less)).toEqual(["A weight of 55.9 kg was charted at 08:00, after 70 kg at 06:00."]);
    const pounds = findings("weight-implausible", [admitted("06:00", 70), weight("08:00", 154.3)], "09:00");
    expect(sentences(pounds)).toEqual([
      "A weight of 154.3 kg was charted at 08:00, after 70 kg at 06:00: pounds and kilograms may have been mixed up.",
    ]);
    expect(
      findings("weight-implausible", [admitted("06:00", 70), weight("08:00", 154.3, "lb")], "09:00"),
    ).toEqual([]);
  });

  it("that strays once is the only one to look at; a second like it bears it out", () => {
    const stray = [admitted("06:00", 70), weight("08:00", 7), weight("10:00", 71)];
    expect(findings("weight-implausible", stray, "11:00").map(({ subject }) => subject)).toEqual(["e2"]);
    const borneOut = [admitted("06:00", 70), weight("08:00", 50), weight("10:00", 51), weight("12:00", 50.5)];
    expect(findings("weight-implausible", borneOut, "13:00").map(({ subject }) => subject)).toEqual(["e2"]);
  });

  it("no person has is implausible by itself", () => {
    const found = findings("weight-implausible", [admitted("06:00", 700)], "09:00");
    expect(sentences(found)).toEqual([
      "A weight of 700 kg was charted at 06:00, which is not what a person weighs.",
    ]);
  });
});

describe("irrigant", () => {
  const irrigant: Told = { at: "08:00", kind: "irrigant-instilled", site: "bladder", volume: mL(1_000) };

  it("that exceeds what came out is told at the emptying, with by how much", () => {
    const told = [irrigant, urine("10:00", { site: "bladder", volume: mL(850) })];
    const [found] = findings("irrigant-exceeds-output", told, "11:00");
    expect(found).toMatchObject({ subject: "e2", severity: "attention", start: at("10:00") });
    expect(inDoubt(found!)).toBe(150);
    expect(found!.sentence).toBe(
      "By 10:00 150 mL more irrigant had gone into bladder than came out of it: the output is negative by that much.",
    );
  });

  it("that is still retained, or came back in full, is nothing to look at", () => {
    expect(codes([irrigant], "11:00")).toEqual([]);
    const told = [irrigant, urine("10:00", { site: "bladder", volume: mL(1_000) })];
    expect(findings("irrigant-exceeds-output", told, "11:00")).toEqual([]);
  });

  it("that exceeds what came since the emptying or the reading before says since when", () => {
    const chamber = (clock: string, doing: string, level: number): Told =>
      ({ at: clock, kind: `chamber-${doing}`, chamber: "bag", category: "urine", level: mL(level) }) as Told;
    const into = { ...irrigant, at: "08:30", site: "bag", volume: mL(100) } as Told;
    const told = [
      chamber("07:00", "placed", 0),
      chamber("08:00", "read", 50),
      into,
      chamber("09:00", "emptied", 130),
    ];
    // 130 came, 100 of it irrigant; 50 were counted at 08:00.
    const [found] = findings("irrigant-exceeds-output", told, "11:00");
    expect(inDoubt(found!)).toBe(20);
    expect(found!.sentence).toBe(
      "By 09:00 20 mL more irrigant had gone into bag than came out of it since 08:00: the output is negative by that much.",
    );
  });

  describe("at a site that nobody emptied", () => {
    const unnamed = (clock: string, volume: number, more: object = {}): Told =>
      urine(clock, { volume: mL(volume), ...more });

    it("may be in what came by no named site, and naming it settles that", () => {
      const told = [irrigant, unnamed("10:00", 700), unnamed("10:30", 500)];
      const [found, ...others] = findings("irrigant-exceeds-output", told, "11:00");
      expect(others).toEqual([]);
      expect(found).toMatchObject({ subject: "e2", severity: "attention", entries: ["e2", "e3"] });
      expect(inDoubt(found!)).toBe(1_000);
      expect(found!.sentence).toBe(
        "Since 10:00 1200 mL came out by no named site while 1000 mL of irrigant stood in bladder: if it came from there, irrigant counts as output.",
      );
      expect(found!.settledBy[0]!.proposals).toMatchObject([
        { do: "amend", target: "e2", replacement: { site: "bladder", volume: mL(700) } },
        { do: "amend", target: "e3", replacement: { site: "bladder", volume: mL(500) } },
      ]);
      const named = [irrigant, unnamed("10:00", 700), unnamed("10:30", 500, { site: "bladder" })];
      expect(sentences(findings("irrigant-exceeds-output", named, "11:00"))).toEqual([
        "By 10:30 500 mL more irrigant had gone into bladder than came out of it: the output is negative by that much.",
      ]);
    });

    it("is in nothing that came before it, nor in what is never irrigated", () => {
      const told = [unnamed("07:30", 700), irrigant, unnamed("10:00", 100, { category: "emesis" })];
      expect(findings("irrigant-exceeds-output", told, "11:00")).toEqual([]);
    });

    it("is in no other kind of output than is known to come by that site, and says no more once it is emptied", () => {
      const before = [
        { ...irrigant, at: "06:00" } as Told,
        unnamed("07:00", 1_100, { site: "Bladder" }),
        irrigant,
      ];
      const stool = unnamed("10:00", 300, { category: "stool" });
      expect(findings("irrigant-exceeds-output", [...before, stool], "11:00")).toEqual([]);
      const seen = [...before, unnamed("10:00", 300)];
      expect(findings("irrigant-exceeds-output", seen, "11:00").map(({ subject }) => subject)).toEqual([
        "e4",
      ]);
      const emptied = [...seen, unnamed("10:30", 1_000, { site: "bladder" })];
      expect(findings("irrigant-exceeds-output", emptied, "11:00")).toEqual([]);
    });
  });
});
