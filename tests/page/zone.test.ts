/** A time on the ward's clock as an instant, at the changes of the clock too (America/Chicago in 2026: tzdata). */

import { describe, expect, it } from "vitest";
import { instantsAt, wallAt } from "../../src/page/words/zone.js";

const CHICAGO = "America/Chicago";

describe("a time on the ward's clock", () => {
  it("is one instant on most days", () => {
    expect(instantsAt("2026-03-04T18:46", CHICAGO)).toEqual(["2026-03-04T18:46:00-06:00"]);
    expect(instantsAt("2026-07-04T18:46", CHICAGO)).toEqual(["2026-07-04T18:46:00-05:00"]);
    expect(instantsAt("2026-07-04T18:46", "UTC")).toEqual(["2026-07-04T18:46:00+00:00"]);
  });

  it("is two instants in the hour that the clock shows twice, the earlier first", () => {
    expect(instantsAt("2026-11-01T01:30", CHICAGO)).toEqual([
      "2026-11-01T01:30:00-05:00",
      "2026-11-01T01:30:00-06:00",
    ]);
  });

  it("is none in the hour that the clock leaves out, nor where it is no time", () => {
    expect(instantsAt("2026-03-08T02:30", CHICAGO)).toEqual([]);
    expect(instantsAt("", CHICAGO)).toEqual([]);
    expect(instantsAt("2026-02-31T25:00", CHICAGO)).toEqual([]);
  });

  it("is what the clock shows then", () => {
    for (const wall of ["2026-03-04T18:46", "2026-03-08T03:00", "2026-11-01T02:00"]) {
      expect(instantsAt(wall, CHICAGO).map((at) => wallAt(Date.parse(at), CHICAGO))).toEqual([wall]);
    }
    // Half hours count too (Asia/Kolkata is 5 h 30 min ahead).
    expect(wallAt(Date.parse("2026-03-04T00:00:00Z"), "Asia/Kolkata")).toBe("2026-03-04T05:30");
  });
});
