/** Instants and durations on the wire: an offset always, a millisecond at the finest, no months. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  Delay,
  Duration,
  durationText,
  InstantText,
  parseDuration,
  readInstant,
} from "../../src/wire/instant.js";
import { parse } from "../../src/wire/parse.js";

const codesOf = (schema: Parameters<typeof parse>[0], value: unknown) =>
  parse(schema, value).faults?.map(({ code }) => code) ?? [];

const SECOND = 1_000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

describe("an instant in a body", () => {
  it.each([
    ["2026-03-04T07:00:00-06:00", []],
    ["2026-03-04T13:00:00Z", []],
    ["2026-03-04T07:00:00.125-06:00", []],
    ["1900-01-01T00:00:00Z", []],
    ["2199-12-31T23:59:59Z", []],
    ["2026-03-04T07:00:00", ["no-offset"]],
    ["2026-03-04T07:00", ["no-offset"]],
    ["2026-03-04T07:00:00.0001Z", ["finer-than-a-millisecond"]],
    ["2026-02-29T07:00:00Z", ["not-an-instant"]],
    ["2026-03-04T24:00:00Z", ["not-an-instant"]],
    ["07:00", ["not-an-instant"]],
    ["", ["not-an-instant"]],
    ["1899-12-31T23:59:59Z", ["out-of-range"]],
    ["2200-01-01T00:00:00Z", ["out-of-range"]],
    [1_772_629_200_000, ["wrong-type"]],
    [null, ["wrong-type"]],
  ])("%s", (text, codes) => {
    expect(codesOf(InstantText, text)).toEqual(codes);
  });

  it("is read to the millisecond", () => {
    // 2026-03-04 is 20,516 days after 1970-01-01; 07:00 at -06:00 is 13:00 UTC.
    expect(readInstant("2026-03-04T07:00:00.250-06:00")).toBe(20_516 * DAY + 13 * HOUR + 250);
    expect(() => readInstant("2026-03-04T07:00:00")).toThrow("no-offset");
  });
});

describe("a duration in a body", () => {
  it.each([
    ["PT8H", 8 * HOUR],
    ["PT30M", 30 * MINUTE],
    ["PT1H30M", 90 * MINUTE],
    ["PT90S", 90 * SECOND],
    ["P1D", DAY],
    ["P1DT2H", 26 * HOUR],
    ["PT0S", 0],
    ["P31D", 31 * DAY],
  ])("%s", (text, milliseconds) => {
    expect(parseDuration(text)).toBe(milliseconds);
  });

  it.each([
    "",
    "P",
    "PT",
    "P1DT",
    "P1M",
    "P1Y",
    "P1W",
    "PT1.5H",
    "PT-5M",
    "-PT5M",
    "8H",
    "PT5",
    "pt5m",
    "PT30M ",
  ])("is not %j", (text) => {
    expect(codesOf(Duration, text)).toEqual(["wrong-form"]);
  });

  it.each([
    ["PT1S", []],
    ["PT0S", ["out-of-range"]],
    ["P31D", []],
    ["P31DT1S", ["out-of-range"]],
    ["PT999999999S", ["out-of-range"]],
    [30, ["wrong-type"]],
  ])("of a flow: %s", (text, codes) => {
    expect(codesOf(Duration, text)).toEqual(codes);
  });

  it("of a setting may be none at all", () => {
    expect(codesOf(Delay, "PT0S")).toEqual([]);
  });

  it.each([
    [0, "PT0S"],
    [15 * MINUTE, "PT15M"],
    [90 * MINUTE, "PT1H30M"],
    [26 * HOUR + SECOND, "PT26H1S"],
  ])("of %i ms is written in hours, minutes and seconds", (milliseconds, text) => {
    expect(durationText(milliseconds)).toBe(text);
  });

  it("comes back as it was, whatever whole second it is", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 31 * 86_400 }), (seconds) => {
        expect(parseDuration(durationText(seconds * SECOND))).toBe(seconds * SECOND);
      }),
    );
  });

  it("is not written when it is no whole second", () => {
    expect(() => durationText(1_500)).toThrow(RangeError);
  });
});
