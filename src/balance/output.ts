/**
 * Output as postings: each amount that came out, in the interval in which it was measured or emptied. What a
 * chamber gained from look to look is rounded on what it gained since the shift began, and not look by look.
 */

import { standingFigures } from "../infusion/cumulative.js";
import { named } from "../infusion/named.js";
import { NOTHING, plus, shownAs, type Volume } from "../infusion/quantity.js";
import type { Ground } from "./ground.js";
import { chartedBy, NO_PART, type Posting } from "./posting.js";
import { grouped } from "./table.js";
import type { Output } from "./true-output.js";

/** `takenOff` is what was given back again of an output and does not count, by its entry. */
export function outputPostings(
  outputs: readonly Output[],
  ground: Ground,
  takenOff: ReadonlyMap<string, Volume> = new Map(),
): Posting[] {
  const gained = gainedAsShown(outputs, ground);
  return outputs.flatMap((output): Posting[] => {
    const { entry, at, category, site, from, volume, leftOut, instilled, unsure, orMore } = output;
    const place = ground.placeAt(at, entry);
    if (place === undefined) return [];
    const whole = plus(plus(volume, instilled), takenOff.get(entry) ?? NOTHING);
    return [
      {
        side: "output",
        category,
        part: { ...NO_PART, site },
        interval: place.interval,
        outside: place.outside,
        shown: gained.get(output) ?? shownAs(volume, place.step),
        exact: volume,
        certainty: { more: leftOut > 0 || orMore, less: unsure },
        since: from,
        leftOut,
        counts: true,
        origin: chartedBy(entry, at, whole),
      },
    ];
  });
}

/** What each look at a chamber shows of what that gained, by chamber and category. */
function gainedAsShown(outputs: readonly Output[], ground: Ground): ReadonlyMap<Output, number> {
  const rows = grouped(
    outputs.filter(({ ofChamber }) => ofChamber),
    ({ site, category }) => named(site, category),
  );
  const figures = [...rows.values()].flatMap((row) =>
    standingFigures(row, ({ at }) => ground.cellAt(at), ground.asked.stepOf),
  );
  return new Map(figures.map(({ one, shown }) => [one, shown]));
}
