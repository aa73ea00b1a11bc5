/** What a secondary gave was counted in the primary as well, while the primary waited. */

import type { LedgerItem } from "../chart.js";
import { isUnder, isWithin } from "../chart.js";
import { type Figure, isChartedAbove } from "../figure.js";
import { named, saidItems } from "../said.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";

export const secondaryInPrimary: FindSlips = function* ({ figure, sheet }) {
  for (const { channel, secondary, primary } of sheet.channels) {
    // Where the primary is charted above a total, it shows there.
    if (!primary.some((item) => isUnder(figure.under, item) && !isChartedAbove(figure, item))) continue;
    const items = secondary.filter((item) => isWithin(item, figure));
    for (const item of items) yield countedAgain([item], channel, figure, primary);
    if (items.length > 1) yield countedAgain(items, channel, figure, primary);
  }
};

function countedAgain(
  items: readonly LedgerItem[],
  channel: string,
  figure: Figure,
  primary: readonly LedgerItem[],
): Slip {
  return {
    kind: "secondary-in-primary",
    items,
    effects: oneEffect(
      figure,
      items.reduce((sum, { volume }) => sum + volume, 0),
    ),
    rarity: 12,
    tell: (words) =>
      `${saidItems(items, words)} seems to be counted in the primary (${named(primary)}) as well, which waited on ` +
      `${channel} meanwhile: take it off there.`,
  };
}
