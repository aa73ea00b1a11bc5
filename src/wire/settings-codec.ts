/**
 * Settings between the wire and the calculation: mL and whole microlitres, shares and whole
 * thousandths, durations and milliseconds. One table says how each is written, both ways.
 */

import { defaultSettings, type Settings, type SomeSettings } from "../conventions/settings.js";
import { durationText, readDuration } from "./instant.js";
import { scaled } from "./quantity.js";
import type { SettingsText, SomeSettingsText } from "./settings.js";

/** How one value is written and read; a group has one for each member. */
interface Notation {
  readonly read: (value: never) => unknown;
  readonly write: (value: never) => unknown;
}

const AS_IT_IS: Notation = { read: (value: unknown) => value, write: (value: unknown) => value };
/** mL, mL/h and shares, all of at most three decimals, are whole thousandths inside. */
const THOUSANDTHS: Notation = {
  read: (value: number) => scaled(value, 3),
  write: (value: number) => value / 1_000,
};
const DURATION: Notation = { read: readDuration, write: durationText };

/** A group of settings; a member that is not in `members` is written as `others` says. */
function group(members: Readonly<Record<string, Notation>>, others: Notation = AS_IT_IS): Notation {
  const each = (way: keyof Notation) => (values: object) =>
    Object.fromEntries(
      Object.entries(values)
        .filter(([, value]) => value !== undefined)
        .map(([name, value]) => [name, (members[name] ?? others)[way](value as never)]),
    );
  return { read: each("read"), write: each("write") };
}

const NOTATION: Readonly<Record<keyof Settings, Notation>> = {
  precision: THOUSANDTHS,
  boundary: AS_IT_IS,
  readingTolerance: group({ pump: THOUSANDTHS, syringe: THOUSANDTHS }),
  levelTolerance: AS_IT_IS,
  chartTolerance: group({ note: THOUSANDTHS, attention: THOUSANDTHS }),
  chartingGrain: DURATION,
  overfillAllowance: THOUSANDTHS,
  household: group({}, THOUSANDTHS),
  iceFraction: THOUSANDTHS,
  softFoods: group({}, THOUSANDTHS),
  counts: AS_IT_IS,
  askAbove: THOUSANDTHS,
  askClampedAbove: THOUSANDTHS,
  lateAfter: DURATION,
  unattendedAfter: DURATION,
  unattendedFrom: THOUSANDTHS,
  outputGapAfter: DURATION,
  unsignedAfter: DURATION,
  keepOpenAfter: DURATION,
  pausedAfter: DURATION,
  dryAfter: DURATION,
  endConfirmedWithin: DURATION,
  unaccountedAbove: group({ volume: THOUSANDTHS }),
};
const ALL = group(NOTATION);

/**
 * All settings as the calculation has them; one that a chain from before it was there does not name is by
 * default. Throws a RangeError for a text that no schema accepted.
 */
export function decodeSettings(text: SettingsText): Settings {
  return { ...defaultSettings, ...(ALL.read(text as never) as Settings) };
}

/** Some settings, without those that are left out; throws a RangeError as `decodeSettings` does. */
export function decodeSomeSettings(text: SomeSettingsText): SomeSettings {
  return ALL.read(text as never) as SomeSettings;
}

/** All settings in the units of the wire; throws a RangeError for a duration that is not of whole seconds. */
export function encodeSettings(settings: Settings): SettingsText {
  return ALL.write(settings as never) as SettingsText;
}
