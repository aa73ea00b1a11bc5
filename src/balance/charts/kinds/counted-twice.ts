/** Something was charted a second time in the same figures. */

import type { LedgerItem } from "../chart.js";
import type { Figure } from "../figure.js";
import { saidItems } from "../said.js";
import type { Sheet } from "../sheet.js";
import { type FindSlips, times } from "../slip.js";

export const countedTwice: FindSlips = function* ({ figure, portions, sheet }) {
  for (const { items, volumes, rarity } of portions) {
    yield {
      kind: "counted-twice",
      items,
      effects: times(volumes, 1),
      rarity: 14 + rarity,
      ...(mayBeAsSet(items, figure, sheet) && { doubtful: true }),
      tell: (words) =>
        `${saidItems(items, words)} seems to be charted twice: strike it once, or record the second if there were two.`,
    };
  }
};

/**
 * Whether something waited for a secondary in the figure: charted at the rate it was set to, for all of the hour, it
 * comes to twice what went in where that was half of it.
 */
function mayBeAsSet(items: readonly LedgerItem[], figure: Figure, { channels }: Sheet): boolean {
  const waited = channels.find(({ primary }) => items.every((item) => primary.includes(item)));
  return waited?.secondary.some(({ start, end }) => start < figure.end && figure.start < end) ?? false;
}
