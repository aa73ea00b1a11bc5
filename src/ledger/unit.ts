/** A unit from its own chain: as it was opened, and what it has changed since. */

import { conventionsOf } from "../conventions/dated.js";
import { defaultSettings, withChanged } from "../conventions/settings.js";
import { ask, type Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { decodeSettings, decodeSomeSettings, encodeSettings } from "../wire/settings-codec.js";
import type { SettingsChangedText, StationText, UnitOpenedText } from "../wire/stored.js";
import type { UnitBody } from "../wire/units.js";
import { recordedOf } from "./families.js";
import { changeOf } from "./stay.js";

export interface UnitFacts {
  readonly id: string;
  readonly opened: UnitOpenedText;
  readonly changes: readonly SettingsChangedText[];
}

/** All settings a unit opens with: what it gave, over the defaults of this version. */
export function openedText({ name, zone, shifts, settings }: UnitBody): UnitOpenedText {
  const all = encodeSettings(withChanged(defaultSettings, decodeSomeSettings(settings ?? {})));
  return { kind: "unit-opened", name, zone, shifts, settings: all };
}

/** The facts of a unit, or those that were recorded by an instant; undefined where it was not opened by then. */
export function* unitFacts(id: string, recordedBy?: Instant): Inquiry<UnitFacts | undefined> {
  const all = yield* ask({
    ask: "page",
    chain: `unit/${id}`,
    after: 0,
    upTo: Number.MAX_SAFE_INTEGER,
    limit: 100_000,
  });
  const rows = recordedBy === undefined ? all : all.filter(({ recordedAt }) => recordedAt <= recordedBy);
  let opened: UnitOpenedText | undefined;
  const changes: SettingsChangedText[] = [];
  for (const { body } of rows.map(recordedOf)) {
    if (body.kind === "unit-opened") opened = body;
    else if (body.kind === "settings-changed") changes.push(body);
  }
  return opened === undefined ? undefined : { id, opened, changes };
}

/** What a patient's chain says of the unit it arrives in, changes already decided included. */
export function stationText({ opened, changes }: UnitFacts): StationText {
  const { zone, shifts, settings } = opened;
  return {
    zone,
    shifts,
    settings,
    changes: changes
      .filter(({ settings, shifts }) => settings !== undefined || shifts !== undefined)
      .map(({ effectiveFrom, settings, shifts }) => ({
        effectiveFrom,
        ...(settings === undefined ? {} : { settings }),
        ...(shifts === undefined ? {} : { shifts }),
      })),
  };
}

/** The unit's own conventions over time, whoever its patients are. */
export function unitConventions(facts: UnitFacts) {
  const { zone, shifts, settings, changes } = stationText(facts);
  const from = 0 as Instant;
  const station = { from, unit: facts.id, zone, shifts, settings: decodeSettings(settings) };
  return conventionsOf([{ ...station, changes: changes.map(changeOf) }]);
}

/** The unit as it is at an instant, as JSON. */
export function unitText(facts: UnitFacts, now: Instant): object {
  const conventions = unitConventions(facts);
  const { zone, shifts } = conventions.stretchAt(now);
  const name = facts.changes.findLast((change) => change.name !== undefined)?.name ?? facts.opened.name;
  return { id: facts.id, name, zone, shifts, settings: encodeSettings(conventions.settingsAt(now)) };
}
