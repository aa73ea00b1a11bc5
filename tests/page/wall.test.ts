/** Times on the page are the ward's: read from the text of the instant, wherever the page is looked at. */

import { describe, expect, it } from "vitest";
import { clock, clockAmong, dayName } from "../../src/page/words/wall.js";

describe("a time", () => {
  it("is what the clock on the ward shows", () => {
    expect(clock("2026-03-04T05:10:00-06:00")).toBe("05:10");
    expect(clock("2026-03-04T05:10:30.250+05:45")).toBe("05:10");
  });
});

it("names the day of a shift from its date alone", () => {
  expect(dayName("2026-03-04", "en-US")).toBe("Wednesday, March 4");
  expect(dayName("2026-11-01", "en-GB")).toBe("Sunday 1 November");
  expect(dayName("2026-11-01", "es-ES")).toBe("domingo, 1 de noviembre");
});

describe("in the night the clocks go back", () => {
  const hours = [
    { start: "2026-11-01T00:00:00-05:00", end: "2026-11-01T01:00:00-05:00", label: "00:00–01:00" },
    { start: "2026-11-01T01:00:00-05:00", end: "2026-11-01T01:00:00-06:00", label: "01:00–02:00 -05:00" },
    { start: "2026-11-01T01:00:00-06:00", end: "2026-11-01T02:00:00-06:00", label: "01:00–02:00 -06:00" },
  ];

  it("half past one says which of the two it is", () => {
    expect(clockAmong("2026-11-01T01:30:00-05:00", hours)).toBe("01:30 (-05:00)");
    expect(clockAmong("2026-11-01T01:30:00-06:00", hours)).toBe("01:30 (-06:00)");
  });

  it("half past midnight, and two o'clock, happen once", () => {
    expect(clockAmong("2026-11-01T00:30:00-05:00", hours)).toBe("00:30");
    expect(clockAmong("2026-11-01T02:00:00-06:00", hours)).toBe("02:00");
  });
});
