/**
 * What counts of a list of entries: voided ones are left out, and amended ones stand as they were amended last.
 * The list has originals at the time they were first charted; corrections have no time of their own.
 */

import type { Entry } from "./shapes.js";

/** The entries as they stand, in order of their time; `corrections` in order of recording. */
export function standing(entries: readonly Entry[], corrections: readonly Entry[]): Entry[] {
  const amended = new Map(
    corrections
      .filter(({ recorded }) => recorded.state === "current")
      .map((correction) => [correction.entry as string, correction]),
  );
  return entries
    .flatMap((entry): Entry[] => {
      if (entry.recorded.state === "voided") return [];
      const amendment = entry.recorded.state === "amended" ? amended.get(entry.id) : undefined;
      if (amendment === undefined) return [entry];
      // Its recording is the original's: what is put right was charted in time.
      return [{ ...(amendment.replacement as Entry), id: entry.id, recorded: entry.recorded }];
    })
    .sort((a, b) => Date.parse(a.at ?? "") - Date.parse(b.at ?? ""));
}
