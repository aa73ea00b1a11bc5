/**
 * Sites: the drains and tubes that output comes by. Irrigant that was put in is no output when it comes
 * back, so what comes by an irrigated site counts only when that is emptied, less what went in since the last
 * time.
 *
 * Invariant: what counts as output of a site up to an emptying is what came by it less what was instilled, and
 * nothing counts twice.
 */

import { amountSettings } from "../conventions/dated.js";
import type { Instant } from "../time/instant.js";
import { advance } from "./advance.js";
import { measuredVolume } from "./amount.js";
import type { HouseholdMeasure, IrrigantInstilled, OutputCategory, OutputMeasured } from "./entry.js";
import { greater, minus, NOTHING, plus, type Volume, volumeOf } from "./quantity.js";
import type { Site } from "./state.js";
import { type Step, withoutEffect } from "./step.js";

/** Something that came out, and what was seen of it. */
export interface Coming {
  readonly category: OutputCategory;
  readonly site: string | null;
  readonly from: Instant | null;
  readonly volume: Volume;
  /** How many times it came and nobody measured it. */
  readonly leftOut: number;
  /** The site holds nothing afterwards. */
  readonly emptied: boolean;
}

export function instil({ draft }: Step, { site: key, volume }: IrrigantInstilled): void {
  const site = draft.site(key);
  draft.putSite({ ...site, instilled: plus(site.instilled, volumeOf(volume)) });
}

/**
 * Measured, an output empties its site. What only happened is counted as having happened: its irrigant is
 * still taken off what comes next, so that the balance stays a lower bound.
 */
export function measure(run: Step, entry: OutputMeasured): void {
  const { category, site = null, from = null } = entry;
  const whole = wholeVolume(run, entry);
  if (whole === undefined) {
    const leftOut = entry.occurrences ?? 1;
    return comesOut(run, { category, site, from, volume: NOTHING, leftOut, emptied: false });
  }
  const { returned: counts } = amountSettings(run.settingsAt, run.at).counts;
  const volume = counts ? whole : minus(whole, volumeOf(entry.returned ?? 0));
  comesOut(run, { category, site, from, volume, leftOut: 0, emptied: true });
}

/** What came by a site counts at once, unless it may be irrigant: then when the site is emptied. */
export function comesOut(run: Step, coming: Coming): void {
  const { category, site: key, from, volume, leftOut, emptied } = coming;
  const { id: entry, at, draft, sink } = run;
  const told = { entry, at, category, site: key, from };
  const plainly = { ...told, volume, leftOut, instilled: NOTHING, exceeds: NOTHING, unsure: false };
  if (key === null) return sink.output(plainly);
  bringIrrigation(run, key);
  const site = draft.site(key);
  const came = plus(site.came, volume);
  if (emptied) {
    draft.emptySite(key);
    return sink.output({ ...plainly, ...emptying({ ...site, came }, leftOut > 0) });
  }
  const irrigated = site.instilled > NOTHING || site.unsure;
  draft.putSite({ ...site, came, counted: irrigated ? site.counted : plus(site.counted, volume) });
  if (!irrigated || leftOut > 0) sink.output({ ...plainly, volume: irrigated ? NOTHING : volume });
}

/** What counts when a site is emptied. Where nobody looked what it held, no less than nothing came by it. */
function emptying({ came, counted, instilled, unsure }: Site, unread: boolean) {
  const whole = minus(came, instilled);
  const volume = minus(unread ? greater(whole, counted) : whole, counted);
  const exceeds = unread ? NOTHING : greater(minus(instilled, came), NOTHING);
  return { volume, instilled, exceeds, unsure };
}

/** What runs into a site by a line is known up to the instant at which it is emptied. */
function bringIrrigation({ draft, sink, at }: Step, site: string): void {
  if (![...draft.irrigating.values()].includes(site)) return;
  for (const { channel, line } of draft.everyChannel()) {
    if (line !== null && draft.irrigating.get(line) === site) advance(draft, channel, at, sink);
  }
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
