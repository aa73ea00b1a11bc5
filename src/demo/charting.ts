/**
 * What a nurse charts beside the infusions, as entries: amounts in and out, drains, weights, time away,
 * and corrections of what was charted wrongly. Volumes in mL, weights in kg.
 */

import { idOf, type Said, type StoryTime, said } from "./story.js";

export function drank(volume: number, item: string): Said {
  return said(`oral-${slug(item)}`, "intake-measured", { category: "oral", volume, item });
}

/** Words as a piece of an entry's id. */
function slug(words: string): string {
  return words.replace(/[^A-Za-z0-9]+/g, "-").replace(/-$/, "");
}

/** A drug pushed by hand from a small syringe. */
export function pushed(volume: number, item: string): Said {
  return said(`push-${slug(item)}`, "intake-measured", { category: "iv-push", volume, item });
}

export function flushed(volume: number, on: string): Said {
  return said(`flush-${on}`, "intake-measured", { category: "iv-flush", volume, line: on });
}

type Output = "urine" | "gastric" | "emesis" | "stool";

export function out(category: Output, volume: number): Said {
  return said(category, "output-measured", { category, volume });
}

/** Something that came and could not be measured. */
export function unmeasured(category: Output, occurrences = 1): Said {
  return said(`${category}-unmeasured`, "output-measured", { category, occurrences });
}

/** A site rinsed by hand, and what came back when it was emptied. */
export function rinsed(site: string, volume: number): Said {
  return said(`rinse-${slug(site)}`, "irrigant-instilled", { site, volume });
}

export function emptied(category: Output, site: string, volume: number): Said {
  return said(category, "output-measured", { category, site, volume });
}

/** A pad weighed wet and dry, in grams. */
export function pad(category: Output, wet: number, dry: number): Said {
  return said(`${category}-pad`, "output-measured", { category, weighed: { wet, dry } });
}

/** Gastric residual drawn back, and how much of it was given again. */
export function residual(volume: number, returned: number): Said {
  return said("residual", "output-measured", { category: "gastric", volume, returned });
}

export function drain(chamber: string): Said {
  return said(`place-${chamber}`, "chamber-placed", { chamber, category: "drain", level: 0 });
}

export function drainShows(chamber: string, volume: number): Said {
  return said(`read-${chamber}`, "chamber-read", { chamber, level: volume });
}

/** A drain's chamber emptied, and what it held. */
export function drainEmptied(chamber: string, held: number): Said {
  return said(`empty-${chamber}`, "chamber-emptied", { chamber, level: held });
}

export function weighs(kilograms: number): Said {
  return said("weight", "weight-measured", { weight: { value: kilograms, unit: "kg" } });
}

/** Off the ward, with nobody charting whether the flows went on. */
export function away(place: string): Said {
  return said("away", "away-started", { place, flows: "unknown" });
}

export function back(): Said {
  return said("back", "away-ended", {});
}

/** What was charted under `original` (a name and its time) stands as `instead`, which happened at `time`. */
export function amend(
  original: { readonly name: string; readonly at: StoryTime },
  reason: string,
  instead: Said,
  time: StoryTime,
): Said {
  const entry = idOf(original.name, original.at);
  return untimed(`amend-${original.name}`, "entry-amended", (clock) => {
    const fields = typeof instead.fields === "function" ? instead.fields(clock) : instead.fields;
    return { entry, reason, replacement: { kind: instead.kind, at: clock(time), ...fields } };
  });
}

/** What was charted under `original` never happened. */
export function voided(original: { readonly name: string; readonly at: StoryTime }, reason: string): Said {
  return untimed(`void-${original.name}`, "entry-voided", {
    entry: idOf(original.name, original.at),
    reason,
  });
}

function untimed(name: string, kind: string, fields: Said["fields"]): Said {
  return { ...said(name, kind, fields), timed: false };
}
