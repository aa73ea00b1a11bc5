/** The ward's clock from its zone: what it shows twice, what it leaves out, and what is chosen from it. */

import { describe, expect, it } from "vitest";
import { ago, type Clock, chosenTime, minuteOf } from "../../src/page/record/time.js";
import {
  datesBetween,
  instantsAt,
  instantsOf,
  isShownTwice,
  wallAt,
  writtenIn,
} from "../../src/page/words/zone.js";

const CHICAGO = "America/Chicago";

describe("a clock time of a day", () => {
  it("is one instant, with the offset of that day", () => {
    expect(instantsOf(CHICAGO, "2026-03-04", "05:10")).toEqual(["2026-03-04T05:10:00-06:00"]);
    expect(instantsOf(CHICAGO, "2026-07-04", "05:10")).toEqual(["2026-07-04T05:10:00-05:00"]);
    expect(instantsOf("Asia/Kathmandu", "2026-03-04", "05:10")).toEqual(["2026-03-04T05:10:00+05:45"]);
    expect(instantsOf("UTC", "2026-03-04", "00:00")).toEqual(["2026-03-04T00:00:00+00:00"]);
  });

  // The United States set their clocks back on 1 November 2026 and forward on 8 March, at two in the morning:
  // 15 U.S.C. 260a.
  it("is two instants in the hour that the clock shows twice", () => {
    expect(instantsOf(CHICAGO, "2026-11-01", "01:30")).toEqual([
      "2026-11-01T01:30:00-05:00",
      "2026-11-01T01:30:00-06:00",
    ]);
    expect(instantsOf(CHICAGO, "2026-11-01", "02:00")).toEqual(["2026-11-01T02:00:00-06:00"]);
    expect(isShownTwice(CHICAGO, "2026-11-01T01:30:00-06:00")).toBe(true);
    expect(isShownTwice(CHICAGO, "2026-11-01T02:30:00-06:00")).toBe(false);
  });

  it("is none in the hour that the clock leaves out", () => {
    expect(instantsOf(CHICAGO, "2026-03-08", "02:30")).toEqual([]);
    expect(instantsOf(CHICAGO, "2026-03-08", "03:00")).toEqual(["2026-03-08T03:00:00-05:00"]);
  });

  it("is written as the ward's clock shows it", () => {
    expect(writtenIn(CHICAGO, Date.parse("2026-03-05T00:46:00Z"))).toBe("2026-03-04T18:46:00-06:00");
    expect(minuteOf(CHICAGO, Date.parse("2026-03-05T00:46:59.999Z"))).toBe("2026-03-04T18:46:00-06:00");
  });

  it("is read from an input of a date and time, and written into one", () => {
    expect(instantsAt(CHICAGO, "2026-03-04T18:46")).toEqual(["2026-03-04T18:46:00-06:00"]);
    expect(instantsAt(CHICAGO, "2026-11-01T01:30")).toHaveLength(2);
    for (const none of ["2026-03-08T02:30", "", "2026-02-31T25:00"]) {
      expect(instantsAt(CHICAGO, none)).toEqual([]);
    }
    expect(wallAt("Asia/Kolkata", Date.parse("2026-03-04T00:00:00Z"))).toBe("2026-03-04T05:30");
  });

  it("has the days of a stay to be of, the latest first", () => {
    expect(datesBetween(CHICAGO, "2026-02-28T23:00:00-06:00", "2026-03-02T00:10:00-06:00")).toEqual([
      "2026-03-02",
      "2026-03-01",
      "2026-02-28",
    ]);
  });
});

describe("when something happened", () => {
  const clock: Clock = {
    zone: CHICAGO,
    now: "2026-03-04T18:46:00-06:00",
    latest: "2026-03-04T18:46:00-06:00",
    earliest: "2026-03-03T07:00:00-06:00",
  };
  const exact = (typed: string, which: number | null = null, date = "2026-03-04") =>
    chosenTime({ date, typed, which }, clock);

  it("is now, or some minutes ago", () => {
    expect(chosenTime({ ago: 0, held: null }, clock).at).toBe("2026-03-04T18:46:00-06:00");
    expect(chosenTime({ ago: 10, held: null }, clock).at).toBe("2026-03-04T18:36:00-06:00");
    // In the hour after the clocks went back, ten minutes ago may have been before they did.
    expect(ago(10, { zone: CHICAGO, now: "2026-11-01T01:05:00-06:00" })).toBe("2026-11-01T01:55:00-05:00");
  });

  it("stays what it was sent as, though time goes on", () => {
    const sent = { ago: 5, held: "2026-03-04T18:41:00-06:00" };
    expect(chosenTime(sent, { ...clock, now: "2026-03-04T18:50:00-06:00" }).at).toBe(sent.held);
  });

  it("is a clock time once all of it is typed, and never still to come", () => {
    expect(exact("05:10")).toEqual({ at: "2026-03-04T05:10:00-06:00", lacks: null });
    expect(exact("05:1")).toMatchObject({ at: null, lacks: "time" });
    expect(exact("18:47")).toMatchObject({ at: null, lacks: "to-come" });
    expect(exact("18:46").lacks).toBeNull();
  });

  it("is asked about where the clock shows it twice, and offers both", () => {
    const night = {
      ...clock,
      now: "2026-11-01T06:46:00-06:00",
      latest: "2026-11-01T06:46:00-06:00",
    };
    const choice = { date: "2026-11-01", typed: "01:30" };
    const both = ["2026-11-01T01:30:00-05:00", "2026-11-01T01:30:00-06:00"];
    expect(chosenTime({ ...choice, which: null }, night)).toEqual({ at: null, lacks: "which", both });
    expect(chosenTime({ ...choice, which: 0 }, night).at).toBe(both[0]);
    expect(chosenTime({ ...choice, which: 1 }, night).at).toBe(both[1]);
    const between = { ...night, latest: "2026-11-01T01:20:00-06:00" };
    expect(chosenTime({ ...choice, which: null }, between).lacks).toBe("which");
    expect(chosenTime({ ...choice, which: 1 }, between)).toEqual({ at: null, lacks: "to-come", both });
  });

  it("is no time that the clock leaves out", () => {
    const spring = { ...clock, now: "2026-03-08T07:00:00-05:00", latest: "2026-03-08T07:00:00-05:00" };
    expect(chosenTime({ date: "2026-03-08", typed: "02:30", which: null }, spring).lacks).toBe("no-such");
  });
});
