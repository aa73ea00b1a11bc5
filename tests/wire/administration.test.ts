/** Units, their settings, and encounters: what may be said of them, and what is wrong with the rest. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { defaultSettings, type Settings, stepOf } from "../../src/conventions/settings.js";
import { EncounterBody, EncounterPatch } from "../../src/wire/encounters.js";
import { parse } from "../../src/wire/parse.js";
import { SettingsText, SomeSettingsText } from "../../src/wire/settings.js";
import { decodeSettings, decodeSomeSettings, encodeSettings } from "../../src/wire/settings-codec.js";
import { UnitBody, UnitPatch } from "../../src/wire/units.js";

const faultsOf = (schema: Parameters<typeof parse>[0], body: unknown) =>
  (parse(schema, body).faults ?? []).map(({ pointer, code }) => `${pointer} ${code}`).sort();

const AT = "2026-03-04T07:00:00-06:00";
const day = { name: "day", starts: "07:00" };
const night = { name: "night", starts: "19:00" };
const unit = { name: "East 4", zone: "America/Chicago", shifts: [day, night] };

describe("a unit", () => {
  it.each<[string, object, string[]]>([
    ["as small as can be", {}, []],
    ["with an id and a setting", { id: "east-4", settings: { precision: 1 } }, []],
    ["whose first shift starts in the evening", { shifts: [night, day] }, []],
    ["without shifts", { shifts: [] }, ["#/shifts out-of-range"]],
    ["in a zone that is none", { zone: "Chicago" }, ["#/zone not-one-of"]],
    ["in an offset", { zone: "-06:00" }, ["#/zone not-one-of"]],
    [
      "with two shifts of one name",
      { shifts: [day, { ...night, name: "day" }] },
      ["#/shifts/1/name inconsistent"],
    ],
    [
      "with two shifts at once",
      { shifts: [day, { ...night, starts: "07:00" }] },
      ["#/shifts/1/starts inconsistent"],
    ],
    [
      "with shifts out of order",
      { shifts: [day, night, { name: "evening", starts: "15:00" }] },
      ["#/shifts/2/starts inconsistent"],
    ],
    [
      "with a shift at 24:00",
      { shifts: [{ name: "day", starts: "24:00" }] },
      ["#/shifts/0/starts wrong-form"],
    ],
    [
      "with nothing right",
      { name: " ", zone: 5, shifts: [{}], colour: "red" },
      [
        "#/colour unknown-field",
        "#/name wrong-form",
        "#/shifts/0/name required",
        "#/shifts/0/starts required",
        "#/zone wrong-type",
      ],
    ],
  ])("%s", (_, fields, faults) => {
    expect(faultsOf(UnitBody, { ...unit, ...fields })).toEqual(faults);
  });

  it.each<[string, object, string[]]>([
    ["settings", { effectiveFrom: AT, settings: { precision: 1 } }, []],
    ["shifts", { effectiveFrom: AT, shifts: [day, night] }, []],
    ["both", { effectiveFrom: AT, settings: { boundary: "starts" }, shifts: [day, night] }, []],
    ["the name", { name: "East 5" }, []],
    ["nothing", {}, ["# exactly-one-of"]],
    ["nothing from when", { effectiveFrom: AT }, ["# exactly-one-of"]],
    ["settings from no time", { settings: { precision: 1 } }, ["# exactly-one-of"]],
    [
      "a setting nobody knows",
      { effectiveFrom: AT, settings: { mood: 1 } },
      ["#/settings/mood unknown-field"],
    ],
    ["the zone", { effectiveFrom: AT, settings: {}, zone: "Europe/Paris" }, ["#/zone unknown-field"]],
  ])("changes %s", (_, body, faults) => {
    expect(faultsOf(UnitPatch, body)).toEqual(faults);
  });
});

describe("settings", () => {
  it.each<[object, string[]]>([
    [{ precision: 0.001 }, []],
    [{ precision: 0.2 }, ["#/precision not-one-of"]],
    [{ precision: "0.1" }, ["#/precision wrong-type"]],
    [{ chartingGrain: "PT5M" }, []],
    [{ chartingGrain: "PT2M" }, ["#/chartingGrain not-one-of"]],
    [{ readingTolerance: { pump: 3 } }, []],
    [{ readingTolerance: { percent: 2.5 } }, ["#/readingTolerance/percent too-many-decimals"]],
    [{ overfillAllowance: 10.001 }, ["#/overfillAllowance out-of-range"]],
    [{ overfillAllowance: 0.0001 }, ["#/overfillAllowance too-many-decimals"]],
    [{ iceFraction: 1.5 }, ["#/iceFraction out-of-range"]],
    [{ household: { mug: 300 } }, []],
    [{ household: { mug: 0 } }, ["#/household/mug out-of-range"]],
    [{ household: { "A mug": 300 } }, ["#/household/A%20mug wrong-form"]],
    [{ lateAfter: "PT0S" }, []],
    [{ lateAfter: "2 h" }, ["#/lateAfter wrong-form"]],
    [{ lateAfter: null }, ["#/lateAfter wrong-type"]],
  ])("%j", (body, faults) => {
    expect(faultsOf(SomeSettingsText, body)).toEqual(faults);
  });

  it("by default are written as the contract has them", () => {
    expect(encodeSettings(defaultSettings)).toMatchObject({
      precision: 0.1,
      boundary: "ends",
      readingTolerance: { percent: 5, pump: 2, syringe: 0.2 },
      levelTolerance: { weighed: 5, scale: 20 },
      chartTolerance: { note: 10, attention: 50 },
      chartingGrain: "PT1M",
      overfillAllowance: 0.1,
      household: { cup: 240 },
      iceFraction: 0.5,
      askAbove: 2,
      askClampedAbove: 300,
      lateAfter: "PT2H",
      unattendedAfter: "PT4H",
      unattendedFrom: 10,
      outputGapAfter: "PT8H",
      unsignedAfter: "PT2H",
      keepOpenAfter: "PT1H",
      pausedAfter: "PT1H",
      dryAfter: "PT15M",
      endConfirmedWithin: "PT15M",
      unaccountedAbove: { volume: 50, percent: 10 },
    });
  });

  it("come back as they were, whatever they are", () => {
    const thousandths = fc.integer({ min: 0, max: 10_000 });
    fc.assert(
      fc.property(
        thousandths,
        fc.integer({ min: 0, max: 100_000_000 }),
        fc.integer({ min: 0, max: 31 * 86_400 }),
        fc.constantFrom(1, 10, 100, 500, 1_000, 5_000, 10_000),
        (share, volume, seconds, step) => {
          const settings: Settings = {
            ...defaultSettings,
            precision: stepOf(step),
            overfillAllowance: share,
            askAbove: volume,
            unaccountedAbove: { volume, percent: 10 },
            lateAfter: seconds * 1_000,
          };
          const { value, faults } = parse(SettingsText, encodeSettings(settings));
          expect(faults).toBeUndefined();
          expect(decodeSettings(value!)).toEqual(settings);
        },
      ),
    );
  });

  it("that are left out stay out, in groups too", () => {
    expect(decodeSomeSettings({ readingTolerance: { pump: 3 }, household: { mug: 300 } })).toStrictEqual({
      readingTolerance: { pump: 3_000 },
      household: { mug: 300_000 },
    });
  });
});

describe("an encounter", () => {
  const stay = { unit: "east-4", patient: { identifier: "P-20417" }, admittedAt: AT };

  it.each<[string, object, string[]]>([
    ["as small as can be", {}, []],
    ["with a weight", { admissionWeight: { value: 159.6, unit: "lb" } }, []],
    [
      "with a weight of stones",
      { admissionWeight: { value: 11, unit: "st" } },
      ["#/admissionWeight/unit not-one-of"],
    ],
    ["of nobody", { patient: {} }, ["#/patient/identifier required"]],
    ["from a local time", { admittedAt: "2026-03-04T07:00:00" }, ["#/admittedAt no-offset"]],
  ])("%s", (_, fields, faults) => {
    expect(faultsOf(EncounterBody, { ...stay, ...fields })).toEqual(faults);
  });

  it.each<[object, string[]]>([
    [{ move: { unit: "west-2", at: AT } }, []],
    [{ discharge: { at: AT } }, []],
    [{ bed: "14" }, []],
    [{}, ["# exactly-one-of"]],
    [{ move: { unit: "west-2", at: AT }, discharge: { at: AT } }, ["# exactly-one-of"]],
    [{ bed: "14", discharge: 5 }, ["# exactly-one-of"]],
    [{ move: { unit: "west-2" } }, ["#/move/at required"]],
    [{ discharge: {} }, ["#/discharge/at required"]],
    [{ unit: "west-2" }, ["# exactly-one-of", "#/unit unknown-field"]],
  ])("changes: %j", (body, faults) => {
    expect(faultsOf(EncounterPatch, body)).toEqual(faults);
  });
});
