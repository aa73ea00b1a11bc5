/**
 * What comes out and is measured, weighed or only seen, as it is charted. What of it counts is worked out
 * apart, once everything is known that went in where it came from.
 */

import { amountSettings } from "../conventions/dated.js";
import { measuredVolume } from "./amount.js";
import type { HouseholdMeasure, OutputMeasured } from "./entry.js";
import { lesser, minus, NOTHING, type Volume, volumeOf } from "./quantity.js";
import { type Step, withoutEffect } from "./step.js";

/**
 * Measured, an output empties its site. What only happened is counted as having happened and empties nothing:
 * irrigant is still taken off what comes next, so that the balance stays a lower bound.
 */
export function measure(run: Step, entry: OutputMeasured): void {
  const { id, at, sink } = run;
  const { category, site = null, from = null, occurrences = 1 } = entry;
  const ofChamber = false;
  const whole = wholeOutput(entry, run.settingsAt);
  if (whole === undefined) {
    if (entry.measure !== undefined) noteUnknownMeasure(run, entry.measure);
    const [volume, leftOut] = [NOTHING, occurrences];
    return sink.output({ entry: id, at, category, site, from, volume, leftOut, emptied: false, ofChamber });
  }
  const volume = minus(whole, givenBack(entry, whole, run.settingsAt));
  sink.output({ entry: id, at, category, site, from, volume, leftOut: 0, emptied: true, ofChamber });
  if (volumeOf(entry.returned ?? 0) > whole) {
    withoutEffect(run, null, "more was given back than came out, so no more than that is taken off");
  }
}

/**
 * What of an output was given back and is taken off it: never more than came, which may only show once the
 * unit says what its household measures hold.
 */
export function givenBack(
  { at, returned = 0 }: OutputMeasured,
  whole: Volume,
  settingsAt: Step["settingsAt"],
): Volume {
  return amountSettings(settingsAt, at).counts.returned ? NOTHING : lesser(volumeOf(returned), whole);
}

/** 1 g weighs for 1 mL, so a milligram for a microlitre; undefined where nothing says how much. */
export function wholeOutput(
  { at, volume, weighed, measure }: OutputMeasured,
  settingsAt: Step["settingsAt"],
): Volume | undefined {
  if (volume !== undefined) return volumeOf(volume);
  if (weighed !== undefined) return volumeOf(weighed.wet - weighed.dry);
  return measure === undefined ? undefined : measuredVolume(measure, amountSettings(settingsAt, at));
}

/** An amount in a household measure the unit does not know counts in no figure, which somebody must see. */
export function noteUnknownMeasure(run: Step, { name }: HouseholdMeasure): void {
  withoutEffect(run, null, `the unit knows no measure called ${name}, so the amount counts nowhere`);
}
