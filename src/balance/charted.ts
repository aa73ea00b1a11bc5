/**
 * What entries chart of what went in by themselves: amounts, and those in no measure that is known. What was
 * given by a line that irrigates is no intake: it was instilled at the site of that line.
 */

import { amountSettings } from "../conventions/dated.js";
import type { Settings } from "../conventions/settings.js";
import { amountOf } from "../infusion/amount.js";
import type { IntakeMeasured, Placed } from "../infusion/entry.js";
import { givenBack, wholeOutput } from "../infusion/output-steps.js";
import type { Volume } from "../infusion/quantity.js";
import type { Amount } from "../infusion/volumes.js";
import type { Instant } from "../time/instant.js";
import type { Sites } from "./sites.js";

/** Taken in, in a measure that the unit does not know. */
export type Unmeasured = Pick<Amount, "entry" | "at" | "from" | "category" | "line" | "item">;

export interface ChartedIntake {
  readonly amounts: readonly Amount[];
  readonly unmeasured: readonly Unmeasured[];
  /** What was given by lines that irrigate, by its entry; null where nobody knows how much. */
  readonly instilled: ReadonlyMap<string, Volume | null>;
}

/** Of all entries of a stay, in order, those that are charted by an instant. */
export function chartedIntake(
  entries: readonly Placed[],
  sites: Sites,
  settingsAt: (at: Instant) => Settings,
): ChartedIntake {
  const amounts: Amount[] = [];
  const unmeasured: Unmeasured[] = [];
  const instilled = new Map<string, Volume | null>();
  for (const placed of entries) {
    if (placed.entry.kind !== "intake-measured") continue;
    const one = placed as Placed<IntakeMeasured>;
    const { at, from = null, category, line = null, item = null } = one.entry;
    const amount = amountOf(one, amountSettings(settingsAt, at));
    if (sites.irrigatedBy(line) !== null) instilled.set(one.id, amount?.volume ?? null);
    else if (amount !== undefined) amounts.push(amount);
    else unmeasured.push({ entry: one.id, at, from, category, line, item });
  }
  return { amounts, unmeasured, instilled };
}

/** What of an output was given back and is taken off it, by its entry. */
export function allGivenBack(
  entries: readonly Placed[],
  settingsAt: (at: Instant) => Settings,
): ReadonlyMap<string, Volume> {
  const back = new Map<string, Volume>();
  for (const { id, entry } of entries) {
    if (entry.kind !== "output-measured" || entry.returned === undefined) continue;
    const whole = wholeOutput(entry, settingsAt);
    if (whole !== undefined) back.set(id, givenBack(entry, whole, settingsAt));
  }
  return back;
}
