/** Amounts somebody measured, as volumes: household measures and ice by the unit's conventions. */

import { measureVolume, type Settings } from "../conventions/settings.js";
import type { IntakeMeasured, Placed } from "./entry.js";
import { thousandths, type Volume, volumeOf } from "./quantity.js";
import type { Amount } from "./volumes.js";

/** Ice is told by its item, in the words people chart it with. */
const ICE = /^ice(?:[ -](?:chips?|cubes?))?$/i;

/** An intake as an amount; undefined where its household measure is none the unit knows. */
export function amountOf({ id, entry }: Placed<IntakeMeasured>, settings: Settings): Amount | undefined {
  const whole = wholeVolume(entry, settings);
  if (whole === undefined) return undefined;
  const ice = entry.item !== undefined && ICE.test(entry.item.trim());
  return {
    entry: id,
    at: entry.at,
    category: entry.category,
    line: entry.line ?? null,
    item: entry.item ?? null,
    volume: ice ? thousandths(whole, settings.iceFraction) : whole,
    boundary: settings.boundary,
  };
}

function wholeVolume({ volume, measure }: IntakeMeasured, settings: Settings): Volume | undefined {
  if (volume !== undefined) return volumeOf(volume);
  const one = measure === undefined ? undefined : measureVolume(settings, measure.name);
  return one === undefined ? undefined : thousandths(volumeOf(one), measure!.count);
}
