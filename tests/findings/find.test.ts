/** Findings as a whole: one per cause, the same one when everything is computed again, and when they are run. */

import { describe, expect, it } from "vitest";
import { findingsIn, readingInQuestion } from "../../src/findings/find.js";
import { idOfFinding } from "../../src/findings/finding.js";
import { ONE_CAUSE } from "../../src/findings/one-cause.js";
import { RULES } from "../../src/findings/rules.js";
import { hang, on, pump, rate, start, type Told } from "../infusion/bedside.js";
import { evidence, findings, read } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];
const ids = (told: readonly Told[], until: string, which: "recording" | "asking" | "all" = "all") =>
  findingsIn(evidence(told, until), which).map(idOfFinding);

describe("identity", () => {
  it("names the code, the channel and what it hangs on, and neither times nor volumes", () => {
    expect(ids([...saline, read("09:00", 230)], "09:00")).toEqual(["reading-disagrees~pump-1~e4"]);
  });

  it.each([
    ["a reading in question", [...saline, read("09:00", 230)], "09:00", "10:00"],
    ["a lost total", [...saline, on("09:00", "therapy-changed")], "09:00", "09:40"],
    ["a total at risk", [...saline, on("09:00", "flow-stopped")], "10:30", "12:30"],
    [
      "a dry bag",
      [pump("07:00"), hang("07:00", "b", 50), start("07:00", 100), read("07:20", 33.3)],
      "08:00",
      "08:20",
    ],
    ["a pause", [...saline, on("08:00", "flow-paused")], "09:30", "11:30"],
    ["flows unattended", saline, "12:00", "14:00"],
  ])("of %s stays as time passes", (_, told, first, second) => {
    const before = ids(told, first);
    expect(before).toHaveLength(1);
    expect(ids(told, second)).toEqual(expect.arrayContaining(before));
  });

  it("stays when more is recorded: its volume grows instead", () => {
    const first = [...saline, read("09:00", 230)];
    const more = [...first, read("11:00", 470), rate("11:30", 50)];
    expect(ids(more, "12:00")).toEqual(ids(first, "09:00"));
  });

  it("stays when an earlier entry changes the numbers", () => {
    const first = [...saline, on("10:00", "therapy-changed")];
    const [before] = findings("totals-lost", first, "10:30");
    const [after] = findings("totals-lost", [...first, rate("08:00", 150)], "10:30");
    expect(idOfFinding(after!)).toBe(idOfFinding(before!));
    expect(after!.volume).not.toBe(before!.volume);
  });
});

describe("rules", () => {
  it("that find one code run at the same time, but for losses, which need the flows of the whole stay", () => {
    const runs = [...new Set(RULES.map((rule) => `${rule.code} ${rule.runs}`))];
    const codes = runs.map((one) => one.slice(0, one.indexOf(" ")));
    const twice = codes.filter((code, place) => codes.indexOf(code) !== place);
    expect(twice).toEqual(["entry-without-effect"]);
  });

  it("told by another at recording are told by one that is run then", () => {
    const recording = new Set(RULES.flatMap(({ code, runs }) => (runs === "recording" ? [code] : [])));
    const wrong = ONE_CAUSE.filter(({ code, toldBy }) => recording.has(code) && !recording.has(toldBy));
    expect(wrong).toEqual([]);
  });

  it("run in two parts find together what they find at once", () => {
    const told = [...saline, read("09:00", 230), on("09:30", "flow-paused"), rate("11:00", 1000)];
    const recording = ids(told, "12:00", "recording");
    const asking = ids(told, "12:00", "asking");
    expect(recording).toEqual(["reading-disagrees~pump-1~e4", "rate-implausible~pump-1~e6"]);
    expect(asking).toEqual(["pause-not-ended~pump-1~e5"]);
    expect(new Set(ids(told, "12:00"))).toEqual(new Set([...recording, ...asking]));
  });
});

describe("the reading in question", () => {
  it("is the one that a question hangs on", () => {
    const known = evidence([...saline, read("09:00", 230)], "09:00");
    const [question] = findingsIn(known, "recording");
    expect(readingInQuestion(question!, known)?.entry).toBe("e4");
  });

  it("is none for any other finding", () => {
    const known = evidence([...saline, on("09:00", "therapy-changed")], "09:00");
    const found = findingsIn(known, "all");
    expect(found.map(({ code }) => code)).toContain("totals-lost");
    expect(found.map((one) => readingInQuestion(one, known))).toEqual(found.map(() => undefined));
  });
});
