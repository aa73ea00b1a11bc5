/** Hours by the wall clock, with the hours that clocks repeat and leave out. */

import { describe, expect, it } from "vitest";
import { hoursIn } from "../../src/time/hours.js";
import { HOUR, MINUTE, type Period } from "../../src/time/instant.js";
import { shiftNamed } from "../../src/time/shifts.js";
import { at, period, twelveHours, ward } from "./wards.js";

const chicago = ward("America/Chicago", twelveHours);

function labels(zone: string, span: Period | undefined, shifts = twelveHours): string[] {
  return hoursIn(ward(zone, shifts), span as Period).map((hour) => hour.label);
}

const night = (date: string) => labels("America/Chicago", shiftNamed(chicago, date, "night"));

describe("the hours of a night", () => {
  it("are twelve", () => {
    expect(night("2026-03-04")).toEqual([
      ...["19:00–20:00", "20:00–21:00", "21:00–22:00", "22:00–23:00", "23:00–00:00", "00:00–01:00"],
      ...["01:00–02:00", "02:00–03:00", "03:00–04:00", "04:00–05:00", "05:00–06:00", "06:00–07:00"],
    ]);
  });

  it("are eleven where the clocks go forward, and the missing one is absent", () => {
    expect(night("2026-03-07")).toHaveLength(11);
    expect(night("2026-03-07").slice(6, 8)).toEqual(["01:00–02:00", "03:00–04:00"]);
  });

  it("are thirteen where the clocks go back, and the repeated one stands twice with its offset", () => {
    expect(night("2026-10-31")).toHaveLength(13);
    expect(night("2026-10-31").slice(5, 9)).toEqual([
      "00:00–01:00",
      "01:00–02:00 -05:00",
      "01:00–02:00 -06:00",
      "02:00–03:00",
    ]);
  });
});

describe("hours are cut", () => {
  it("at the ends of the period", () => {
    const span = period("2026-03-04T07:10:00-06:00", "2026-03-04T08:20:30-06:00");
    expect(hoursIn(chicago, span).map(({ start, end }) => (end - start) / MINUTE)).toEqual([50, 20.5]);
  });

  it("at a shift start within the hour", () => {
    const shifts = [
      { name: "day", starts: "07:30" },
      { name: "night", starts: "19:30" },
    ];
    const span = period("2026-03-04T07:00:00-06:00", "2026-03-04T09:00:00-06:00");
    expect(labels("America/Chicago", span, shifts)).toEqual(["07:00–07:30", "07:30–08:00", "08:00–09:00"]);
  });

  it("where Lord Howe Island goes back half an hour", () => {
    const span = period("2026-04-05T00:00:00+11:00", "2026-04-05T03:00:00+10:30");
    expect(labels("Australia/Lord_Howe", span)).toEqual([
      "00:00–01:00",
      "01:00–02:00 +11:00",
      "01:30–02:00 +10:30",
      "02:00–03:00",
    ]);
  });

  it("where Lord Howe Island goes forward half an hour", () => {
    const span = period("2026-10-04T01:00:00+10:30", "2026-10-04T04:00:00+11:00");
    expect(labels("Australia/Lord_Howe", span)).toEqual(["01:00–02:00", "02:30–03:00", "03:00–04:00"]);
  });

  it("where Monrovia went from 0:44:30 behind Greenwich to its time at midnight on 7 January 1972", () => {
    // The clocks showed 00:00:00 when it was 00:44:30 in Greenwich (tz database, file africa).
    const span = period("1972-01-06T23:44:30Z", "1972-01-07T02:00:00Z");
    const found = hoursIn(ward("Africa/Monrovia", twelveHours), span);
    expect(found.map(({ end }) => end)).toEqual([
      at("1972-01-07T00:44:30Z"),
      at("1972-01-07T01:00:00Z"),
      at("1972-01-07T02:00:00Z"),
    ]);
    expect(found.map(({ label }) => label)).toEqual(["23:00–00:00", "00:44–01:00", "01:00–02:00"]);
  });
});

describe("full hours", () => {
  it("are those of the clock where the offset is not whole hours", () => {
    const span = period("2026-03-04T07:00:00+05:45", "2026-03-04T09:00:00+05:45");
    const found = hoursIn(ward("Asia/Kathmandu", twelveHours), span);
    expect(found.map(({ start, end }) => (end - start) / HOUR)).toEqual([1, 1]);
    expect(found.map(({ label }) => label)).toEqual(["07:00–08:00", "08:00–09:00"]);
  });

  it("are not cut at midnight in Greenwich", () => {
    const span = period("2026-03-04T05:30:00+05:30", "2026-03-04T07:30:00+05:30");
    expect(labels("Asia/Kolkata", span)).toEqual(["05:30–06:00", "06:00–07:00", "07:00–07:30"]);
  });

  it("of the 31 days of March are 743 where the clocks go forward", () => {
    const march = period("2026-03-01T00:00:00-06:00", "2026-04-01T00:00:00-05:00");
    expect(hoursIn(chicago, march)).toHaveLength(31 * 24 - 1);
  });
});
