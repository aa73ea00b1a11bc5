/** Offsets, clock labels and dates of zones, against changes of the clock that were made public. */

import { describe, expect, it } from "vitest";
import { dayNumber } from "../../src/time/calendar.js";
import { clockLabel, firstShowing, formatInstant, isZone, localDate } from "../../src/time/zone.js";
import { at } from "./wards.js";

describe("a zone", () => {
  it("is a name of the tz database, old names too", () => {
    expect(["America/Chicago", "Asia/Kolkata", "Asia/Calcutta", "UTC"].filter(isZone)).toHaveLength(4);
  });

  it("is neither an offset, a place nobody listed, nor the zone of this machine", () => {
    expect(["+05:00", "-06:00", "America/Springfield", "local", ""].filter(isZone)).toEqual([]);
  });

  it("that nobody listed is refused where its clocks are needed", () => {
    expect(() => formatInstant(at("2026-03-04T13:00:00Z"), "America/Springfield")).toThrow(
      /America\/Springfield/,
    );
  });
});

describe("an instant on the clocks of a zone", () => {
  it.each([
    ["2026-03-04T13:00:00Z", "America/Chicago", "2026-03-04T07:00:00-06:00"],
    ["2026-07-04T12:00:00Z", "America/Chicago", "2026-07-04T07:00:00-05:00"],
    ["2026-03-04T07:00:00Z", "Europe/London", "2026-03-04T07:00:00+00:00"],
    ["2026-03-04T07:00:00Z", "UTC", "2026-03-04T07:00:00+00:00"],
    ["2026-03-04T01:15:00Z", "Asia/Kathmandu", "2026-03-04T07:00:00+05:45"],
    ["2026-03-04T10:30:00Z", "America/St_Johns", "2026-03-04T07:00:00-03:30"],
  ])("%s in %s is written %s", (utc, zone, written) => {
    expect(formatInstant(at(utc), zone)).toBe(written);
  });

  it("keeps milliseconds where there are any", () => {
    expect(formatInstant(at("2026-03-04T13:00:00.250Z"), "America/Chicago")).toBe(
      "2026-03-04T07:00:00.250-06:00",
    );
    expect(formatInstant(at("2026-03-04T13:00:01Z"), "America/Chicago")).toBe("2026-03-04T07:00:01-06:00");
  });

  // Monrovia kept 0:44:30 behind Greenwich until 7 January 1972 (tz database, file africa).
  it("is the same instant where the offset has seconds that RFC 3339 cannot write", () => {
    const noon = at("1972-01-01T12:00:00Z");
    expect(formatInstant(noon, "Africa/Monrovia")).toMatch(/^1972-01-01T11:1[56]:00-00:4[45]$/);
    expect(at(formatInstant(noon, "Africa/Monrovia"))).toBe(noon);
  });

  it("is before 1970 as well as after it", () => {
    expect(formatInstant(at("1969-12-31T23:59:59.999Z"), "UTC")).toBe("1969-12-31T23:59:59.999+00:00");
    expect(localDate(at("1969-12-31T23:59:59.999Z"), "UTC")).toBe("1969-12-31");
  });
});

describe("the date", () => {
  it("is that of the zone, not of Greenwich", () => {
    expect(localDate(at("2026-03-05T03:00:00Z"), "America/Chicago")).toBe("2026-03-04");
    expect(localDate(at("2026-03-04T19:00:00Z"), "Asia/Kathmandu")).toBe("2026-03-05");
  });

  it("30 December 2011 never came in Apia", () => {
    expect(localDate(at("2011-12-30T09:59:59.999Z"), "Pacific/Apia")).toBe("2011-12-29");
    expect(localDate(at("2011-12-30T10:00:00Z"), "Pacific/Apia")).toBe("2011-12-31");
  });

  it("is none for 30 February or a date in other words", () => {
    expect(dayNumber("2026-02-30")).toBeUndefined();
    expect(dayNumber("4 March 2026")).toBeUndefined();
    expect(dayNumber("1970-01-03")).toBe(2);
  });
});

describe("the label of a clock time", () => {
  it("is the hour and minute", () => {
    expect(clockLabel(at("2026-03-04T07:00:00-06:00"), "America/Chicago")).toBe("07:00");
    expect(clockLabel(at("2026-03-08T03:00:00-05:00"), "America/Chicago")).toBe("03:00");
  });

  it.each([
    ["2026-11-01T00:59:00-05:00", "00:59"],
    ["2026-11-01T01:00:00-05:00", "01:00 -05:00"],
    ["2026-11-01T01:59:00-05:00", "01:59 -05:00"],
    ["2026-11-01T01:00:00-06:00", "01:00 -06:00"],
    ["2026-11-01T01:59:00-06:00", "01:59 -06:00"],
    ["2026-11-01T02:00:00-06:00", "02:00"],
  ])("%s, in the night with a repeated hour, is %s", (instant, label) => {
    expect(clockLabel(at(instant), "America/Chicago")).toBe(label);
  });

  it("has the offset in the half hour that Lord Howe Island repeats, and not before it", () => {
    expect(clockLabel(at("2026-04-05T01:29:00+11:00"), "Australia/Lord_Howe")).toBe("01:29");
    expect(clockLabel(at("2026-04-05T01:30:00+11:00"), "Australia/Lord_Howe")).toBe("01:30 +11:00");
    expect(clockLabel(at("2026-04-05T01:30:00+10:30"), "Australia/Lord_Howe")).toBe("01:30 +10:30");
    expect(clockLabel(at("2026-04-05T02:00:00+10:30"), "Australia/Lord_Howe")).toBe("02:00");
  });
});

describe("the first instant that shows a clock time", () => {
  const reading = (clock: string) => at(`${clock}Z`);

  it("of a time that comes twice is the first", () => {
    expect(firstShowing(reading("2026-11-01T01:30:00"), "America/Chicago")).toBe(
      at("2026-11-01T01:30:00-05:00"),
    );
  });

  it("of a time that is left out is the jump over it", () => {
    expect(firstShowing(reading("2026-03-08T02:30:00"), "America/Chicago")).toBe(
      at("2026-03-08T03:00:00-05:00"),
    );
  });

  it("of midnight, where clocks go back at midnight, is the end of the repeated hour", () => {
    // Until 2018 summer time ended in São Paulo at 24:00, set back to 23:00 (tz database, file southamerica).
    expect(firstShowing(reading("2018-02-18T00:00:00"), "America/Sao_Paulo")).toBe(
      at("2018-02-18T00:00:00-03:00"),
    );
  });
});
