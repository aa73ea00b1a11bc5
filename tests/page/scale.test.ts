/** From hours and rates to pixels: one axis for picture and table, equal areas for equal volumes. */

import { describe, expect, it } from "vitest";
import { axisOf, scaleSquare, thickness } from "../../src/page/picture/scale.js";

const HOUR = 3_600_000;

/** Intervals between clock hours. */
function between(...cuts: number[]) {
  return cuts.slice(1).map((end, index) => ({ start: cuts[index]! * HOUR, end: end * HOUR }));
}

const DAY_SHIFT = between(7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19);

describe("the axis of a shift", () => {
  it("fills the page: names, hours, totals", () => {
    const axis = axisOf(DAY_SHIFT, 1376);
    expect(axis.left + axis.plot + axis.right).toBe(1376);
    expect(axis.columns).toHaveLength(12);
    expect(axis.columns.reduce((sum, width) => sum + width, 0)).toBeCloseTo(axis.plot, 6);
  });

  it("puts a moment at its share of the hours", () => {
    const axis = axisOf(DAY_SHIFT, 1376);
    expect(axis.x(7 * HOUR)).toBe(0);
    expect(axis.x(13 * HOUR)).toBeCloseTo(axis.plot / 2, 6);
    expect(axis.x(19 * HOUR)).toBe(axis.plot);
    expect(axis.perHour).toBeCloseTo(axis.plot / 12, 6);
  });

  it("makes half an hour half as wide as an hour, and scrolls rather than squeeze it", () => {
    const axis = axisOf(between(7.5, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 19.5), 736);
    expect(axis.columns[1]! / axis.columns[0]!).toBeCloseTo(2, 6);
    expect(axis.columns[0]).toBeGreaterThanOrEqual(44);
    expect(axis.left + axis.plot + axis.right).toBeGreaterThan(736);
  });
});

describe("the scale square", () => {
  it("covers as many pixels as its volume does in a band", () => {
    // 60 px per hour and 0.6 px per mL/h: 36 px² per mL; 36² px² hold at most 36 mL, so 20 mL: 720 px².
    const square = scaleSquare(60, 0.6);
    expect(square.volume).toBe(20);
    expect(square.side ** 2).toBeCloseTo(720, 6);
  });

  it("is a round volume of any size", () => {
    // 1296 px² at 64 800 px² per mL are 0.02 mL; at 0.5 px² per mL 2592 mL; at 200 px² per mL 6.48 mL.
    expect(scaleSquare(80, 810).volume).toBeCloseTo(0.02, 9);
    expect(scaleSquare(50, 0.01).volume).toBe(2000);
    expect(scaleSquare(100, 2).volume).toBe(5);
  });
});

describe("the thickness of a rate", () => {
  it("is shared by all lines: their crests together take the height there is", () => {
    // Two lines flow: 60 + 2 × 70 = 200 px for 100 + 25 mL/h.
    expect(thickness([100, 25, 0])).toBeCloseTo(1.6, 9);
  });

  it("leaves room for the table however many lines flow", () => {
    // 340 px for 520 mL/h.
    expect(thickness([100, 100, 100, 100, 120])).toBeCloseTo(340 / 520, 9);
  });

  it("is something even when nothing flows", () => {
    expect(thickness([])).toBe(1);
    expect(thickness([0, 0])).toBe(1);
  });
});
