/** Changes that a unit may not make at the instant it asks for. */

import { describe, expect, it } from "vitest";
import { changeFaults } from "../../src/conventions/change-faults.js";
import { conventionsOf, type SettingsChange } from "../../src/conventions/dated.js";
import { defaultSettings } from "../../src/conventions/settings.js";
import { at, eightHours, twelveHours } from "../time/wards.js";

const opened = { from: at("2026-01-01T00:00:00-06:00"), unit: "ward-4", zone: "America/Chicago" };
const unit = conventionsOf([{ ...opened, shifts: twelveHours, settings: defaultSettings, changes: [] }]);

function faults(effectiveFrom: string, change: Omit<SettingsChange, "effectiveFrom">) {
  return changeFaults({ effectiveFrom: at(effectiveFrom), ...change }, unit);
}

describe("a change of the rule of the boundary", () => {
  it("may start where a shift does", () => {
    expect(faults("2026-03-04T07:00:00-06:00", { settings: { boundary: "starts" } })).toEqual([]);
    expect(faults("2026-03-04T19:00:00-06:00", { settings: { boundary: "starts" } })).toEqual([]);
  });

  it("may not start within a shift, and says between which two starts", () => {
    expect(faults("2026-03-04T07:00:01-06:00", { settings: { boundary: "starts" } })).toEqual([
      {
        concerns: "boundary",
        code: "not-a-shift-start",
        detail: expect.stringContaining("2026-03-04T07:00:00-06:00 or 2026-03-04T19:00:00-06:00"),
        nearest: [at("2026-03-04T07:00:00-06:00"), at("2026-03-04T19:00:00-06:00")],
      },
    ]);
  });

  it("to the rule in force is no change", () => {
    expect(faults("2026-03-04T12:00:00-06:00", { settings: { boundary: "ends" } })).toEqual([]);
  });
});

describe("a change of the shifts", () => {
  it("may start where one of the shifts until then does, whenever the new ones start", () => {
    expect(faults("2026-03-04T19:00:00-06:00", { settings: {}, shifts: eightHours })).toEqual([]);
  });

  it("may not start within a shift, though a new one would start there", () => {
    const [fault, ...others] = faults("2026-03-04T14:00:00-06:00", { settings: {}, shifts: eightHours });
    expect(others).toEqual([]);
    expect(fault).toMatchObject({ concerns: "shifts", code: "not-a-shift-start" });
  });

  it("must make a list that tiles the day", () => {
    const shifts = [...twelveHours, { name: "day", starts: "13:00" }];
    expect(faults("2026-03-04T19:00:00-06:00", { settings: {}, shifts })).toMatchObject([
      { concerns: "shifts", code: "shift-name-repeated", shift: 2 },
      { concerns: "shifts", code: "shift-out-of-order", shift: 2 },
    ]);
  });

  it("to the shifts in force is no change", () => {
    expect(faults("2026-03-04T12:00:00-06:00", { settings: {}, shifts: [...twelveHours] })).toEqual([]);
  });
});

describe("a change of any other setting", () => {
  it("may start at any instant", () => {
    expect(
      faults("2026-03-04T12:34:56-06:00", { settings: { iceFraction: 1_000, askAbove: 5_000 } }),
    ).toEqual([]);
  });
});
