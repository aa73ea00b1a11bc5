/** The defaults of a unit, and what a partial change leaves as it was. */

import { describe, expect, it } from "vitest";
import { defaultSettings, measureVolume, stepOf, withChanged } from "../../src/conventions/settings.js";

describe("the household measures of a unit that has decided nothing", () => {
  // LibreTexts, Home Health Aide: a cup is 8 ounces is 240 mL. The others are bedside convention.
  it.each([
    ["ounce", 30],
    ["cup", 240],
    ["pint", 480],
    ["quart", 960],
    ["tablespoon", 15],
    ["teaspoon", 5],
  ])("a %s is %d mL", (measure, millilitres) => {
    expect(measureVolume(defaultSettings, measure)).toBe(millilitres * 1_000);
  });

  it("agree with each other: 8 ounces a cup, 2 cups a pint, 2 pints a quart, 3 teaspoons a tablespoon", () => {
    const { household } = defaultSettings;
    expect(household.cup).toBe(8 * (household.ounce ?? 0));
    expect(household.pint).toBe(2 * (household.cup ?? 0));
    expect(household.quart).toBe(2 * (household.pint ?? 0));
    expect(household.tablespoon).toBe(3 * (household.teaspoon ?? 0));
  });

  it("are found however they are capitalised", () => {
    expect(measureVolume(defaultSettings, "Cup")).toBe(240_000);
  });

  it("hold only what is in the table", () => {
    expect(measureVolume(defaultSettings, "jug")).toBeUndefined();
    expect(measureVolume(defaultSettings, "constructor")).toBeUndefined();
    expect(measureVolume(defaultSettings, "__proto__")).toBeUndefined();
  });
});

describe("a change of some settings", () => {
  it("leaves the others as they were", () => {
    const changed = withChanged(defaultSettings, { precision: stepOf(1_000), boundary: "starts" });
    expect(changed).toEqual({ ...defaultSettings, precision: 1_000, boundary: "starts" });
  });

  it("of a group leaves the rest of the group", () => {
    const changed = withChanged(defaultSettings, {
      readingTolerance: { syringe: 100 },
      household: { mug: 300_000 },
    });
    expect(changed.readingTolerance).toEqual({ percent: 5, pump: 2_000, syringe: 100 });
    expect(measureVolume(changed, "mug")).toBe(300_000);
    expect(measureVolume(changed, "cup")).toBe(240_000);
  });

  it("of a measure replaces what that measure holds", () => {
    expect(measureVolume(withChanged(defaultSettings, { household: { cup: 200_000 } }), "cup")).toBe(200_000);
  });

  it("with nothing given changes nothing", () => {
    const changed = withChanged(defaultSettings, {
      boundary: undefined,
      unaccountedAbove: { volume: undefined },
    });
    expect(changed).toEqual(defaultSettings);
  });

  it("is a new value: what was in force before stays what it was", () => {
    const before = structuredClone(defaultSettings);
    withChanged(defaultSettings, { household: { cup: 1 }, askAbove: 1 });
    expect(defaultSettings).toEqual(before);
  });
});

describe("a step of rounding", () => {
  it.each([0, -100, 0.5, Number.NaN])("is not %d", (microlitres) => {
    expect(() => stepOf(microlitres)).toThrow(RangeError);
  });
});
