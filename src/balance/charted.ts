/** What entries chart by themselves: amounts, those in no known measure, lines that irrigate, what was given back. */

import { amountSettings } from "../conventions/dated.js";
import type { Settings } from "../conventions/settings.js";
import { amountOf } from "../infusion/amount.js";
import type { IntakeMeasured, Placed } from "../infusion/entry.js";
import { type Volume, volumeOf } from "../infusion/quantity.js";
import type { Instant } from "../time/instant.js";
import type { TakenIn } from "./intake.js";

/** Of all entries of a stay, in order, those that are charted by an instant. */
export function chartedIntake(
  entries: readonly Placed[],
  settingsAt: (at: Instant) => Settings,
): Pick<TakenIn, "amounts" | "unmeasured" | "irrigating"> {
  const measured = entries.filter(
    (placed): placed is Placed<IntakeMeasured> => placed.entry.kind === "intake-measured",
  );
  const amounts = measured.flatMap((one) => amountOf(one, amountSettings(settingsAt, one.entry.at)) ?? []);
  const known = new Set(amounts.map(({ entry }) => entry));
  const unmeasured = measured
    .filter(({ id }) => !known.has(id))
    .map(({ id, entry: { at, from = null, category, line = null, item = null } }) => ({
      entry: id,
      at,
      from,
      category,
      line,
      item,
    }));
  const irrigating = new Map<string, string>();
  for (const { entry } of entries) {
    if (entry.kind === "line-placed" && entry.route === "irrigation") {
      irrigating.set(entry.line, entry.site ?? entry.line);
    }
  }
  return { amounts, unmeasured, irrigating };
}

/** What of an output was given back and is taken off it, by its entry. */
export function givenBack(
  entries: readonly Placed[],
  settingsAt: (at: Instant) => Settings,
): ReadonlyMap<string, Volume> {
  const back = new Map<string, Volume>();
  for (const { id, entry } of entries) {
    if (entry.kind !== "output-measured" || entry.returned === undefined) continue;
    if (!settingsAt(entry.at).counts.returned) back.set(id, volumeOf(entry.returned));
  }
  return back;
}
