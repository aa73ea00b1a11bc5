/** Shifts that nobody signed, and signed figures that are others now. */

import { describe, expect, test } from "vitest";
import type { SignedSpan } from "../../src/findings/finding.js";
import { volumeOf } from "../../src/infusion/quantity.js";
import { at } from "../infusion/bedside.js";
import { findings } from "./evidence.js";

const DAY = { day: ["07:00", "19:00"] } as const;

const span = (from: string, to: string, moved: SignedSpan["moved"] = null): SignedSpan => ({
  entry: `signed-${from}`,
  shift: "2026-03-04/day",
  start: at(from),
  end: at(to),
  signedAt: at(to),
  by: "A. Nurse",
  moved,
  lost: null,
});

describe("a shift that nobody signed", () => {
  const unsigned = (until: string, signed: readonly SignedSpan[] = []) =>
    findings("shift-unsigned", [], until, { shifts: DAY, signed });

  test("is found two hours after its end, and hangs on the shift", () => {
    expect(unsigned("20:59")).toEqual([]);
    expect(unsigned("21:00")).toMatchObject([
      {
        subject: "2026-03-04/day",
        severity: "attention",
        sentence: "Nobody has signed the figures of the shift from 07:00 to 19:00.",
      },
    ]);
  });

  test("is found from where its signatures end, and not at all where they reach its end", () => {
    expect(unsigned("21:00", [span("07:00", "15:00")])).toMatchObject([
      { start: at("15:00"), end: at("19:00"), subject: "2026-03-04/day" },
    ]);
    expect(unsigned("21:00", [span("07:00", "15:00"), span("15:00", "19:00")])).toEqual([]);
  });

  test("is found of the shift in which the patient left, up to when they did", () => {
    const left = ["day", "07:00", "13:00"] as const;
    const found = (until: string, signed: readonly SignedSpan[] = []) =>
      findings("shift-unsigned", [], until, { left, signed });
    expect(found("14:59")).toEqual([]);
    expect(found("15:00")).toMatchObject([{ subject: "2026-03-04/day", end: at("13:00") }]);
    expect(found("15:00", [span("07:00", "13:00")])).toEqual([]);
  });

  test("is found when the unit says", () => {
    const settings = { unsignedAfter: 4 * 3_600_000 };
    expect(findings("shift-unsigned", [], "22:59", { shifts: DAY, settings })).toEqual([]);
    expect(findings("shift-unsigned", [], "23:00", { shifts: DAY, settings })).toHaveLength(1);
  });
});

describe("signed figures that are others now", () => {
  test("are found with how many and how much, and hang on the signature", () => {
    const moved = { figures: 3, most: volumeOf(25_000) };
    expect(
      findings("signed-shift-changed", [], "21:00", { signed: [span("07:00", "19:00", moved)] }),
    ).toMatchObject([
      {
        subject: "signed-07:00",
        entries: ["signed-07:00"],
        severity: "attention",
        volume: volumeOf(25_000),
        sentence:
          "A. Nurse signed 07:00 to 19:00 at 19:00; since then 3 figures are others, by 25 mL at most.",
      },
    ]);
  });

  test("are not found where they are as signed", () => {
    expect(findings("signed-shift-changed", [], "21:00", { signed: [span("07:00", "19:00")] })).toEqual([]);
  });
});
