/**
 * What comes out and is measured, weighed or only seen, as it is charted. What of it counts is worked out
 * apart, once everything is known that went in where it came from.
 */

import { amountSettings } from "../conventions/dated.js";
import { measuredVolume } from "./amount.js";
import type { HouseholdMeasure, OutputMeasured } from "./entry.js";
import { minus, NOTHING, type Volume, volumeOf } from "./quantity.js";
import { type Step, withoutEffect } from "./step.js";

/**
 * Measured, an output empties its site. What only happened is counted as having happened and empties nothing:
 * irrigant is still taken off what comes next, so that the balance stays a lower bound.
 */
export function measure(run: Step, entry: OutputMeasured): void {
  const { id, at, sink } = run;
  const { category, site = null, from = null, occurrences = 1 } = entry;
  const whole = wholeVolume(run, entry);
  if (whole === undefined) {
    const [volume, leftOut] = [NOTHING, occurrences];
    return sink.output({ entry: id, at, category, site, from, volume, leftOut, emptied: false });
  }
  const { returned: counts } = amountSettings(run.settingsAt, at).counts;
  const volume = counts ? whole : minus(whole, volumeOf(entry.returned ?? 0));
  sink.output({ entry: id, at, category, site, from, volume, leftOut: 0, emptied: true });
}

/** 1 g weighs for 1 mL, so a milligram for a microlitre; undefined where nothing says how much. */
function wholeVolume(run: Step, { volume, weighed, measure }: OutputMeasured): Volume | undefined {
  if (volume !== undefined) return volumeOf(volume);
  if (weighed !== undefined) return volumeOf(weighed.wet - weighed.dry);
  if (measure === undefined) return undefined;
  const measured = measuredVolume(measure, amountSettings(run.settingsAt, run.at));
  if (measured === undefined) noteUnknownMeasure(run, measure);
  return measured;
}

/** An amount in a household measure the unit does not know counts in no figure, which somebody must see. */
export function noteUnknownMeasure(run: Step, { name }: HouseholdMeasure): void {
  withoutEffect(run, null, `the unit knows no measure called ${name}, so the amount counts nowhere`);
}
