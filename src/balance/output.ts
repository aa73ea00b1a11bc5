/** Output as postings: each amount that came out, in the interval in which it was measured or emptied. */

import { shownAs } from "../infusion/quantity.js";
import type { Ground } from "./ground.js";
import { NO_PART, type Posting } from "./posting.js";
import type { Output } from "./true-output.js";

export function outputPostings(outputs: readonly Output[], ground: Ground): Posting[] {
  return outputs.flatMap((output): Posting[] => {
    const { entry, at, category, site, from, volume, leftOut, unsure, orMore } = output;
    const place = ground.placeAt(at, entry);
    if (place === undefined) return [];
    return [
      {
        side: "output",
        category,
        part: { ...NO_PART, site },
        interval: place.interval,
        outside: place.outside,
        shown: shownAs(volume, place.step),
        exact: volume,
        certainty: { more: leftOut > 0 || orMore, less: unsure },
        since: from,
        leftOut,
        counts: true,
      },
    ];
  });
}
