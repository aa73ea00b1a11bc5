/**
 * Units on the wire: a ward with its zone, its shifts, which tile the day, and its settings. The zone
 * is chosen once; shifts and settings change from an instant on.
 */

import { z } from "zod";
import { isZone } from "../time/zone.js";
import { refuseUnknownFields } from "./choice.js";
import { faultIssue } from "./fault.js";
import { InstantText } from "./instant.js";
import { SettingsText, SomeSettingsText } from "./settings.js";
import { Shifts } from "./shifts.js";
import { Key, words } from "./text.js";

const LONGEST_ZONE = 64;

const Zone = z
  .string()
  .check(({ value, issues }) => {
    if (value.length <= LONGEST_ZONE && isZone(value)) return;
    issues.push(
      faultIssue(value, "not-one-of", "must be a zone of the tz database, such as America/Chicago."),
    );
  })
  .meta({
    description: "The zone of the unit's clocks, by its name in the tz database. Fixed once a stay exists.",
    maxLength: LONGEST_ZONE,
    examples: ["America/Chicago"],
  });

const Name = words("What people call the unit.");

export const UnitBody = z
  .strictObject({
    id: Key.optional().describe("Absent: the ledger makes one."),
    name: Name,
    zone: Zone,
    shifts: Shifts,
    settings: SomeSettingsText.optional().describe("What differs from the defaults."),
  })
  .meta({
    id: "UnitBody",
    description: "A unit to be opened.",
    examples: [
      {
        id: "east-4",
        name: "East 4",
        zone: "America/Chicago",
        shifts: [
          { name: "day", label: "Day", starts: "07:00" },
          { name: "night", label: "Night", starts: "19:00" },
        ],
      },
    ],
  });
export type UnitBody = z.infer<typeof UnitBody>;

const EffectiveFrom = InstantText.describe(
  "From when it holds, also in the past. `boundary` and shifts change only where a shift starts.",
);

const SettingsPatch = z
  .strictObject({
    effectiveFrom: EffectiveFrom,
    settings: SomeSettingsText,
    shifts: Shifts.optional(),
    name: Name.optional(),
  })
  .check(refuseUnknownFields)
  .meta({
    id: "UnitSettingsPatch",
    description: "Settings change from an instant on, and shifts with them where they are sent.",
    examples: [{ effectiveFrom: "2026-03-04T07:00:00-06:00", settings: { precision: 1 } }],
  });

const ShiftsPatch = z
  .strictObject({ effectiveFrom: EffectiveFrom, shifts: Shifts, name: Name.optional() })
  .check(refuseUnknownFields)
  .meta({ id: "UnitShiftsPatch", description: "The shifts change from an instant on." });

const NamePatch = z
  .strictObject({ name: Name, effectiveFrom: EffectiveFrom.optional() })
  .check(refuseUnknownFields)
  .meta({ id: "UnitNamePatch", description: "The unit is called something else." });

export const UnitPatch = z
  .union([SettingsPatch, ShiftsPatch, NamePatch], {
    inclusive: false,
    error: "must say what changes: settings and shifts with effectiveFrom, or the name.",
  })
  .meta({ id: "UnitPatch", description: "What changes of a unit." });
export type UnitPatch = z.infer<typeof UnitPatch>;

/** A unit as it is answered. */
export const UnitAnswer = z
  .strictObject({
    id: Key.describe("The unit's id."),
    name: Name,
    zone: Zone,
    shifts: Shifts,
    settings: SettingsText,
  })
  .meta({ id: "Unit", description: "A unit as it is now: its zone, its shifts, and all settings in force." });
