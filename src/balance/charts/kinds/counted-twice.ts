/** Something was charted a second time in the same figures. */

import { saidItems } from "../said.js";
import { type FindSlips, times } from "../slip.js";

export const countedTwice: FindSlips = function* ({ portions }) {
  for (const { items, volumes, rarity } of portions) {
    yield {
      kind: "counted-twice",
      items,
      effects: times(volumes, 1),
      rarity: 14 + rarity,
      tell: (words) =>
        `${saidItems(items, words)} seems to be charted twice: strike it once, or record the second if there were two.`,
    };
  }
};
