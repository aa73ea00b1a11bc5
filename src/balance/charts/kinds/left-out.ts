/** Something the ledger has was not charted. */

import { saidItems } from "../said.js";
import { type FindSlips, times } from "../slip.js";

export const leftOut: FindSlips = function* ({ portions }) {
  for (const { items, volumes, rarity } of portions) {
    if (items.every(({ carrier }) => carrier)) continue;
    yield {
      kind: "left-out",
      items,
      effects: times(volumes, -1),
      rarity: 10 + rarity,
      tell: (words) =>
        `${saidItems(items, words)} is in the ledger and not in the chart: chart it, or void the entry if it ` +
        "did not happen.",
    };
  }
};
