/** Amounts somebody measured, as volumes: household measures, ice and soft foods by the unit's conventions. */

import { measureVolume, type Settings, shareOfItem } from "../conventions/settings.js";
import type { HouseholdMeasure, IntakeMeasured, Placed } from "./entry.js";
import { isIce } from "./ice.js";
import { thousandths, type Volume, volumeOf } from "./quantity.js";
import type { Amount } from "./volumes.js";

/** What so many of a household measure come to; undefined for a measure the unit does not know. */
export function measuredVolume(
  { name, count }: HouseholdMeasure,
  settings: Pick<Settings, "household">,
): Volume | undefined {
  const one = measureVolume(settings, name);
  return one === undefined ? undefined : thousandths(volumeOf(one), count);
}

/** An intake as an amount; undefined where its household measure is none the unit knows. */
export function amountOf({ id, entry }: Placed<IntakeMeasured>, settings: Settings): Amount | undefined {
  const whole = wholeVolume(entry, settings);
  if (whole === undefined) return undefined;
  const share = shareOf(entry.item ?? "", settings);
  return {
    entry: id,
    at: entry.at,
    category: entry.category,
    line: entry.line ?? null,
    item: entry.item ?? null,
    from: entry.from ?? null,
    volume: thousandths(whole, share),
    whole,
    share,
    boundary: settings.boundary,
  };
}

/** What a unit lists by name counts as listed, other ice as ice. */
function shareOf(item: string, settings: Settings): number {
  return shareOfItem(settings, item) ?? (isIce(item) ? settings.iceFraction : 1_000);
}

function wholeVolume({ volume, measure }: IntakeMeasured, settings: Settings): Volume | undefined {
  if (volume !== undefined) return volumeOf(volume);
  return measure === undefined ? undefined : measuredVolume(measure, settings);
}
