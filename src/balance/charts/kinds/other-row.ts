/**
 * Something was charted in another row of the same side, such as an oral drink under the infusions. Both rows must
 * show it; where the other one is not charted, it only looks left out.
 */

import type { Figure } from "../figure.js";
import { type Portion, portionsWithin } from "../portions.js";
import { saidItems, saidRow } from "../said.js";
import { type Asked, type FindSlips, oneEffect, type Slip } from "../slip.js";
import { isNear } from "../way.js";

export const otherRow: FindSlips = function* ({ figure, portions, sheet }: Asked) {
  for (const beside of sheet.beside(figure)) {
    yield* between(portions, figure, beside);
    yield* between(portionsWithin(beside), beside, figure);
  }
};

/** What one of the two figures shows by itself: else too much might have gone from any row to any other. */
function* between(portions: readonly Portion[], from: Figure, to: Figure): Iterable<Slip> {
  for (const portion of portions) {
    const volume = portion.volumes.get(from);
    if (volume === undefined || portion.volumes.size > 1) continue;
    if (!isNear(from.difference, -volume, from) && !isNear(to.difference, volume, to)) continue;
    if (portion.items.some((item) => to.counted.some((one) => one.item === item))) continue;
    yield moved(portion, volume, from, to);
  }
}

function moved({ items, rarity }: Portion, volume: number, from: Figure, to: Figure): Slip {
  return {
    kind: "other-row",
    items,
    effects: new Map([...oneEffect(from, -volume), ...oneEffect(to, volume)]),
    rarity: 12 + rarity,
    tell: (words) =>
      `${saidItems(items, words)} belongs under ${saidRow(from.row)} and seems to be charted under ` +
      `${saidRow(to.row)}: move it.`,
  };
}
