/** Which conventions are in force, when units change theirs and patients move. */

import { describe, expect, it } from "vitest";
import { conventionsOf, type SettingsChange, type Station } from "../../src/conventions/dated.js";
import { defaultSettings, type SomeSettings } from "../../src/conventions/settings.js";
import { HOUR, later } from "../../src/time/instant.js";
import { shiftAt, shiftsIn } from "../../src/time/shifts.js";
import { at, eightHours, period, twelveHours } from "../time/wards.js";

const admission = at("2026-03-04T10:00:00-06:00");
const changing = (from: string, settings: SomeSettings): SettingsChange => ({
  effectiveFrom: at(from),
  settings,
});

function station(more: Partial<Station> = {}): Station {
  const ward = { from: admission, unit: "ward-4", zone: "America/Chicago", shifts: twelveHours };
  return { ...ward, settings: defaultSettings, changes: [], ...more };
}

/** What is asked about in the volume at risk, in mL, at an instant. */
const asksAbove = (stations: readonly Station[], instant: string) =>
  conventionsOf(stations).settingsAt(at(instant)).askAbove / 1_000;

describe("a unit's settings", () => {
  it("hold from the start of a stay, and for what was charted before it", () => {
    const stay = [station({ settings: { ...defaultSettings, askAbove: 7_000 } })];
    expect(asksAbove(stay, "2026-03-04T10:00:00-06:00")).toBe(7);
    expect(asksAbove(stay, "2026-03-03T12:00:00-06:00")).toBe(7);
    expect(asksAbove(stay, "2036-03-04T10:00:00-06:00")).toBe(7);
  });

  it("change at the instant the unit gives, whenever that was recorded", () => {
    const stay = [
      station({
        changes: [
          changing("2026-03-05T07:00:00-06:00", { askAbove: 5_000 }),
          changing("2026-03-04T19:00:00-06:00", { askAbove: 3_000 }),
        ],
      }),
    ];
    expect(asksAbove(stay, "2026-03-04T18:59:59.999-06:00")).toBe(2);
    expect(asksAbove(stay, "2026-03-04T19:00:00-06:00")).toBe(3);
    expect(asksAbove(stay, "2026-03-05T06:59:59.999-06:00")).toBe(3);
    expect(asksAbove(stay, "2026-03-05T07:00:00-06:00")).toBe(5);
  });

  it("changed twice from one instant on are as recorded last", () => {
    const changes = [3_000, 4_000].map((askAbove) => changing("2026-03-04T19:00:00-06:00", { askAbove }));
    expect(asksAbove([station({ changes })], "2026-03-04T19:00:00-06:00")).toBe(4);
  });

  it("keep what an earlier change made of other settings", () => {
    const changes = [
      changing("2026-03-04T19:00:00-06:00", { household: { mug: 300_000 } }),
      changing("2026-03-05T19:00:00-06:00", { household: { cup: 200_000 }, iceFraction: 400 }),
    ];
    const settings = conventionsOf([station({ changes })]).settingsAt(at("2026-03-06T00:00:00-06:00"));
    expect(settings.household).toEqual({ ...defaultSettings.household, mug: 300_000, cup: 200_000 });
    expect(settings.iceFraction).toBe(400);
  });

  it("made for before the stay hold where it begins", () => {
    const changes = [
      changing("2026-01-01T00:00:00-06:00", { askAbove: 3_000 }),
      changing("2026-02-01T00:00:00-06:00", { askAbove: 4_000 }),
    ];
    expect(asksAbove([station({ changes })], "2026-03-04T10:00:00-06:00")).toBe(4);
    expect(conventionsOf([station({ changes })]).stretches).toHaveLength(1);
  });

  it("over a period follow one another without a gap", () => {
    const changes = [
      changing("2026-03-04T19:00:00-06:00", { askAbove: 3_000 }),
      changing("2026-03-05T07:00:00-06:00", { askAbove: 4_000 }),
      changing("2026-03-06T07:00:00-06:00", { askAbove: 5_000 }),
    ];
    const asked = period("2026-03-04T07:00:00-06:00", "2026-03-05T12:00:00-06:00");
    const found = conventionsOf([station({ changes })]).settingsIn(asked);
    expect(
      found.map(({ start, end, settings }) => [(end - start) / HOUR, settings.askAbove / 1_000]),
    ).toEqual([
      [12, 2],
      [12, 3],
      [5, 4],
    ]);
    expect(found.map(({ start }) => start)).toEqual([asked.start, found[0]?.end, found[1]?.end]);
  });

  it("are found among hundreds of changes", () => {
    const changes = Array.from({ length: 500 }, (_, hour) => ({
      effectiveFrom: later(admission, (hour + 1) * HOUR),
      settings: { askAbove: hour + 1 },
    }));
    const { settingsAt } = conventionsOf([station({ changes })]);
    for (let hour = 1; hour <= 500; hour++) {
      expect(settingsAt(later(admission, hour * HOUR)).askAbove).toBe(hour);
      expect(settingsAt(later(admission, hour * HOUR - 1)).askAbove).toBe(hour === 1 ? 2_000 : hour - 1);
    }
  });
});

describe("a patient who moves", () => {
  const moved = at("2026-03-04T16:00:00-06:00");
  const ward5 = station({
    from: moved,
    unit: "ward-5",
    zone: "America/Denver",
    shifts: eightHours,
    settings: { ...defaultSettings, askAbove: 9_000 },
  });

  it("is under the conventions of the unit they are in", () => {
    const stay = conventionsOf([station(), ward5]);
    expect(stay.settingsAt(later(moved, -1)).askAbove).toBe(2_000);
    expect(stay.settingsAt(moved).askAbove).toBe(9_000);
    expect([stay.stretchAt(later(moved, -1)).unit, stay.stretchAt(moved).unit]).toEqual(["ward-4", "ward-5"]);
    expect(shiftAt(stay.stretches, later(moved, -1))).toMatchObject({ name: "day", end: moved });
    expect(shiftAt(stay.stretches, moved)).toMatchObject({
      name: "late",
      end: at("2026-03-04T22:00:00-07:00"),
    });
  });

  it("may be entered in any order", () => {
    expect(conventionsOf([ward5, station()]).stretches).toEqual(conventionsOf([station(), ward5]).stretches);
  });

  it("is not touched by what the unit they left decides for later", () => {
    const changes = [changing("2026-03-04T19:00:00-06:00", { askAbove: 3_000 })];
    expect(asksAbove([station({ changes }), ward5], "2026-03-04T19:00:00-06:00")).toBe(9);
  });

  it("comes under what the new unit had decided before", () => {
    const changes = [changing("2026-03-01T00:00:00-06:00", { boundary: "starts" })];
    const stay = conventionsOf([station(), { ...ward5, changes }]);
    expect(stay.settingsAt(later(moved, -1)).boundary).toBe("ends");
    expect(stay.settingsAt(moved).boundary).toBe("starts");
  });

  it("at the instant of admission was only ever in the second unit", () => {
    const stay = conventionsOf([station(), { ...ward5, from: admission }]);
    expect(stay.stretches.map(({ unit }) => unit)).toEqual(["ward-5"]);
  });

  it("was somewhere first", () => {
    expect(() => conventionsOf([])).toThrow(/station/);
  });
});

describe("a unit that changes its shifts", () => {
  it("has the old ones until then, and the new ones from then on", () => {
    const from = at("2026-03-05T07:00:00-06:00");
    const early = eightHours.map((shift, place) => ({
      ...shift,
      starts: ["07:00", "15:00", "23:00"][place] ?? "",
    }));
    const stay = conventionsOf([
      station({ changes: [{ effectiveFrom: from, settings: {}, shifts: early }] }),
    ]);
    const spans = shiftsIn(stay.stretches, period("2026-03-04T19:00:00-06:00", "2026-03-05T23:00:00-06:00"));
    expect(spans.map(({ date, name, start, end }) => `${date}/${name} ${(end - start) / HOUR} h`)).toEqual([
      "2026-03-04/night 12 h",
      "2026-03-05/early 8 h",
      "2026-03-05/late 8 h",
    ]);
  });
});
