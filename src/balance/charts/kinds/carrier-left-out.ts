/** Carriers, flushes and keep-open flow were not charted: volume nobody thinks of as intake. */

import { saidItems } from "../said.js";
import { type FindSlips, times } from "../slip.js";

export const carrierLeftOut: FindSlips = function* ({ portions }) {
  for (const { items, volumes, rarity } of portions) {
    if (!items.every(({ carrier }) => carrier)) continue;
    yield {
      kind: "carrier-left-out",
      items,
      effects: times(volumes, -1),
      rarity: 8 + rarity,
      tell: (words) =>
        `${saidItems(items, words)} went in as a flush, a carrier or to keep the vein open, and is not in the chart: ` +
        "add it to the intake.",
    };
  }
};
