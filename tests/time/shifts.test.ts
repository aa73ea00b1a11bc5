/** Shifts and days of wards whose clocks change, whose shifts change, and of patients who move. */

import { describe, expect, it } from "vitest";
import { HOUR, type Period } from "../../src/time/instant.js";
import { checkShifts, type ShiftPattern } from "../../src/time/shift-pattern.js";
import {
  dayNamed,
  type ShiftSpan,
  type Stretch,
  shiftAt,
  shiftNamed,
  shiftsIn,
} from "../../src/time/shifts.js";
import { formatInstant } from "../../src/time/zone.js";
import { at, eightHours, period, twelveHours, ward } from "./wards.js";

const chicago = ward("America/Chicago", twelveHours);

/** `2026-03-04/day 07:00 to 19:00` on the clocks of the ward, with `*` where a day starts. */
function spoken({ date, name, start, end, startsDay, zone }: ShiftSpan): string {
  const clock = (instant: Period["start"]) => formatInstant(instant, zone).slice(5, 16);
  return `${startsDay ? "*" : ""}${date}/${name} ${clock(start)} to ${clock(end)}`;
}

const hours = (span: Period | undefined) => span && (span.end - span.start) / HOUR;

describe("the shifts of an ordinary day", () => {
  it("of twelve hours tile the day from the first listed", () => {
    const spans = shiftsIn(chicago, period("2026-03-04T07:00:00-06:00", "2026-03-05T07:00:00-06:00"));
    expect(spans.map(spoken)).toEqual([
      "*2026-03-04/day 03-04T07:00 to 03-04T19:00",
      "2026-03-04/night 03-04T19:00 to 03-05T07:00",
    ]);
  });

  it("of eight hours are three", () => {
    const spans = shiftsIn(
      ward("Europe/London", eightHours),
      period("2026-03-04T06:00:00Z", "2026-03-05T06:00:00.001Z"),
    );
    expect(spans.map(spoken)).toEqual([
      "*2026-03-04/early 03-04T06:00 to 03-04T14:00",
      "2026-03-04/late 03-04T14:00 to 03-04T22:00",
      "2026-03-04/night 03-04T22:00 to 03-05T06:00",
      "*2026-03-05/early 03-05T06:00 to 03-05T14:00",
    ]);
  });

  it("are whole, though the period touches them by a millisecond", () => {
    const spans = shiftsIn(chicago, period("2026-03-04T18:59:59.999-06:00", "2026-03-04T19:00:00.001-06:00"));
    expect(spans.map(hours)).toEqual([12, 12]);
  });

  it("are none in a period without length", () => {
    expect(shiftsIn(chicago, period("2026-03-04T12:00:00Z", "2026-03-04T12:00:00Z"))).toEqual([]);
  });

  it("hold an instant on a boundary in the shift that starts there", () => {
    expect(shiftAt(chicago, at("2026-03-04T19:00:00-06:00")).name).toBe("night");
    expect(shiftAt(chicago, at("2026-03-04T18:59:59.999-06:00")).name).toBe("day");
    expect(shiftAt(chicago, at("2026-03-05T06:59:00-06:00"))).toMatchObject({
      name: "night",
      date: "2026-03-04",
    });
  });

  it("carry the date on which they start, where the day starts in the evening too", () => {
    const evening = ward("America/Chicago", [...twelveHours].reverse());
    const spans = shiftsIn(evening, period("2026-03-04T19:00:00-06:00", "2026-03-05T19:00:00-06:00"));
    expect(spans.map(spoken)).toEqual([
      "*2026-03-04/night 03-04T19:00 to 03-05T07:00",
      "2026-03-05/day 03-05T07:00 to 03-05T19:00",
    ]);
    expect(spans.map((span) => span.day)).toEqual(["2026-03-04", "2026-03-04"]);
    expect(dayNamed(evening, "2026-03-04")).toEqual(
      period("2026-03-04T19:00:00-06:00", "2026-03-05T19:00:00-06:00"),
    );
  });
});

describe("a shift by its date and name", () => {
  it("of the night in which the clocks go forward has 11 hours", () => {
    const night = shiftNamed(chicago, "2026-03-07", "night");
    expect(night).toEqual(period("2026-03-07T19:00:00-06:00", "2026-03-08T07:00:00-05:00"));
    expect(hours(night)).toBe(11);
  });

  it("of the night in which the clocks go back has 13 hours", () => {
    expect(hours(shiftNamed(chicago, "2026-10-31", "night"))).toBe(13);
    expect(hours(dayNamed(chicago, "2026-10-31"))).toBe(25);
  });

  it("is found where it is over before that date begins in Greenwich", () => {
    const shifts = [
      { name: "small-hours", starts: "00:00" },
      { name: "rest", starts: "06:00" },
    ];
    // Kiritimati is 14 hours ahead of UTC, the furthest of all.
    expect(shiftNamed(ward("Pacific/Kiritimati", shifts), "2026-03-04", "small-hours")).toEqual(
      period("2026-03-03T10:00:00Z", "2026-03-03T16:00:00Z"),
    );
  });

  it("is not there under a name or date that does not exist", () => {
    expect(shiftNamed(chicago, "2026-03-04", "evening")).toBeUndefined();
    expect(shiftNamed(chicago, "2026-02-30", "day")).toBeUndefined();
    expect(dayNamed(chicago, "yesterday")).toBeUndefined();
  });
});

describe("a shift that starts in an hour the clocks", () => {
  const from = (starts: string): Stretch[] =>
    ward("America/Chicago", [
      { name: "long", starts: "07:00" },
      { name: "small-hours", starts },
    ]);

  it("leave out starts at the first instant after it", () => {
    expect(shiftNamed(from("02:30"), "2026-03-08", "small-hours")).toEqual(
      period("2026-03-08T03:00:00-05:00", "2026-03-08T07:00:00-05:00"),
    );
  });

  it("repeat starts in the first of the two", () => {
    expect(shiftNamed(from("01:30"), "2026-11-01", "small-hours")).toEqual(
      period("2026-11-01T01:30:00-05:00", "2026-11-01T07:00:00-06:00"),
    );
  });

  it("leave out is absent when the next one starts in that hour as well", () => {
    const restless = ward("America/Chicago", [
      { name: "a", starts: "02:15" },
      { name: "b", starts: "02:45" },
      { name: "c", starts: "12:00" },
    ]);
    const spans = shiftsIn(restless, period("2026-03-08T01:00:00-06:00", "2026-03-08T12:00:00-05:00"));
    expect(spans.map(spoken)).toEqual([
      "2026-03-07/c 03-07T12:00 to 03-08T03:00",
      "*2026-03-08/b 03-08T03:00 to 03-08T12:00",
    ]);
    expect(shiftNamed(restless, "2026-03-08", "a")).toBeUndefined();
    expect(dayNamed(restless, "2026-03-08")).toEqual(
      period("2026-03-08T03:00:00-05:00", "2026-03-09T02:15:00-05:00"),
    );
  });

  it("leave out with the whole date keeps that date: the night after a day that never came", () => {
    // Apia went from the end of 29 to the start of 31 December 2011 (tz database, file australasia).
    const apia = ward("Pacific/Apia", twelveHours);
    const spans = shiftsIn(apia, period("2011-12-30T09:00:00Z", "2011-12-30T18:00:00Z"));
    expect(spans.map(spoken)).toEqual([
      "2011-12-29/night 12-29T19:00 to 12-31T00:00",
      "*2011-12-30/night 12-31T00:00 to 12-31T07:00",
      "*2011-12-31/day 12-31T07:00 to 12-31T19:00",
    ]);
    expect(shiftNamed(apia, "2011-12-30", "day")).toBeUndefined();
  });
});

describe("when the calendar changes", () => {
  const noon = at("2026-03-04T12:00:00-06:00");
  const [first] = chicago as [Stretch];

  it("at noon to other shifts, the running shift is cut there", () => {
    const stretches = [first, { ...first, from: noon, shifts: eightHours }];
    const spans = shiftsIn(stretches, period("2026-03-04T07:00:00-06:00", "2026-03-05T06:00:00.001-06:00"));
    expect(spans.map(spoken)).toEqual([
      "*2026-03-04/day 03-04T07:00 to 03-04T12:00",
      "2026-03-04/early 03-04T12:00 to 03-04T14:00",
      "2026-03-04/late 03-04T14:00 to 03-04T22:00",
      "2026-03-04/night 03-04T22:00 to 03-05T06:00",
      "*2026-03-05/early 03-05T06:00 to 03-05T14:00",
    ]);
  });

  it("in nothing but words, the shift goes on", () => {
    const stretches = [first, { ...first, from: noon, shifts: twelveHours.map((shift) => ({ ...shift })) }];
    expect(hours(shiftAt(stretches, noon))).toBe(12);
  });

  it("to a unit with the same shifts, each unit has its piece, and the name covers both", () => {
    const stretches = [first, { ...first, from: noon, unit: "ward-5" }];
    const spans = shiftsIn(stretches, period("2026-03-04T07:00:00-06:00", "2026-03-04T19:00:00-06:00"));
    expect(spans.map((span) => [span.unit, hours(span), span.startsDay])).toEqual([
      ["ward", 5, true],
      ["ward-5", 7, false],
    ]);
    expect(hours(shiftNamed(stretches, "2026-03-04", "day"))).toBe(12);
  });

  it("twice at one instant, only the last counts", () => {
    const stretches = [first, { ...first, from: noon, unit: "passing-through" }, { ...first, from: noon }];
    expect(hours(shiftAt(stretches, noon))).toBe(12);
    const admitted = [{ ...first, unit: "passing-through" }, first];
    expect(shiftAt(admitted, at("2025-12-31T12:00:00Z")).unit).toBe("ward");
  });

  it("exactly where a shift starts, nothing is cut", () => {
    const evening = at("2026-03-04T19:00:00-06:00");
    const late: ShiftPattern[] = [
      { name: "day", starts: "07:00" },
      { name: "twilight", starts: "19:00" },
    ];
    const stretches = [first, { ...first, from: evening, shifts: late }];
    const spans = shiftsIn(stretches, period("2026-03-04T07:00:00-06:00", "2026-03-05T07:00:00-06:00"));
    expect(spans.map((span) => [span.name, hours(span)])).toEqual([
      ["day", 12],
      ["twilight", 12],
    ]);
  });

  it("exactly where a day starts, the new unit starts that day", () => {
    const stretches = [first, { ...first, from: at("2026-03-04T07:00:00-06:00"), unit: "ward-5" }];
    const spans = shiftsIn(stretches, period("2026-03-04T06:00:00-06:00", "2026-03-04T08:00:00-06:00"));
    expect(spans.map((span) => [span.unit, span.day, span.startsDay])).toEqual([
      ["ward", "2026-03-03", false],
      ["ward-5", "2026-03-04", true],
    ]);
  });

  it("to another zone, the clocks of the new place count from then on", () => {
    const stretches = [first, { ...first, from: noon, unit: "ward-5", zone: "America/Denver" }];
    expect(shiftAt(stretches, noon)).toMatchObject({
      start: noon,
      end: at("2026-03-04T19:00:00-07:00"),
      name: "day",
    });
  });

  it("stretches that are none, or out of order, are refused", () => {
    expect(() => shiftAt([], noon)).toThrow(RangeError);
    const earlier = { ...first, from: at("2026-03-01T12:00:00Z"), unit: "a" };
    expect(() => shiftAt([first, { ...first, from: noon, unit: "b" }, earlier], noon)).toThrow(/order/);
  });
});

describe("the day of a move to a unit whose days start in the evening", () => {
  const [morning] = chicago as [Stretch];
  const evening = { ...morning, unit: "ward-5", shifts: [...twelveHours].reverse() };
  const days = (stretches: readonly Stretch[]) =>
    ["2026-03-03", "2026-03-04", "2026-03-05"].map((date) => dayNamed(stretches, date));

  it("lasts until a day with a later date starts there", () => {
    expect(days([morning, { ...evening, from: at("2026-03-04T09:00:00-06:00") }])).toEqual([
      period("2026-03-03T07:00:00-06:00", "2026-03-04T07:00:00-06:00"),
      period("2026-03-04T07:00:00-06:00", "2026-03-05T19:00:00-06:00"),
      period("2026-03-05T19:00:00-06:00", "2026-03-06T19:00:00-06:00"),
    ]);
  });

  it("is still that day after a second move to such a unit", () => {
    const second = { ...evening, from: at("2026-03-04T10:00:00-06:00"), unit: "ward-6" };
    expect(days([morning, { ...evening, from: at("2026-03-04T09:00:00-06:00") }, second])).toEqual([
      period("2026-03-03T07:00:00-06:00", "2026-03-04T07:00:00-06:00"),
      period("2026-03-04T07:00:00-06:00", "2026-03-05T19:00:00-06:00"),
      period("2026-03-05T19:00:00-06:00", "2026-03-06T19:00:00-06:00"),
    ]);
  });

  it("and back ends with the move, when the new unit's day has begun", () => {
    expect(days([evening, { ...morning, from: at("2026-03-04T09:00:00-06:00") }])).toEqual([
      period("2026-03-03T19:00:00-06:00", "2026-03-04T09:00:00-06:00"),
      period("2026-03-04T09:00:00-06:00", "2026-03-05T07:00:00-06:00"),
      period("2026-03-05T07:00:00-06:00", "2026-03-06T07:00:00-06:00"),
    ]);
  });
});

describe("a list of shifts", () => {
  const codes = (...shifts: [string, string][]) =>
    checkShifts(shifts.map(([name, starts]) => ({ name, starts }))).map(({ shift, code }) => [shift, code]);

  it("may start the day at any of its shifts", () => {
    expect(codes(["day", "07:00"], ["night", "19:00"])).toEqual([]);
    expect(codes(["night", "19:00"], ["day", "07:00"])).toEqual([]);
    expect(codes(["late", "14:00"], ["night", "22:00"], ["early", "06:00"])).toEqual([]);
    expect(codes(["all-day", "00:00"])).toEqual([]);
  });

  it("has at least one", () => {
    expect(codes()).toEqual([[undefined, "no-shifts"]]);
  });

  it("names the shift that is wrong", () => {
    expect(codes(["day", "07:00"], ["day", "19:00"])).toEqual([[1, "shift-name-repeated"]]);
    expect(codes(["day", "07:00"], ["night", "07:00"])).toEqual([[1, "shift-start-repeated"]]);
    expect(codes(["early", "06:00"], ["night", "22:00"], ["late", "14:00"])).toEqual([
      [2, "shift-out-of-order"],
    ]);
    expect(codes(["day shift", "07:00"], ["n".repeat(65), "19:00"])).toEqual([
      [0, "shift-name-form"],
      [1, "shift-name-form"],
    ]);
  });

  it.each(["7:00", "24:00", "07:60", "07:00:00", "7 pm", ""])("does not start one at %j", (starts) => {
    expect(codes(["day", "07:00"], ["night", starts])).toEqual([[1, "shift-start-form"]]);
  });
});
