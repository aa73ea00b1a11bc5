/** Something from before the admission or from a time away was charted in the hours, where it does not stand. */

import { isUnder, isWithin, type LedgerItem } from "../chart.js";
import { type Figure, isChartedAbove, signedIn } from "../figure.js";
import { saidItems } from "../said.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";

export const outsideHours: FindSlips = function* ({ figure, sheet }) {
  const items = sheet.outsideHours.filter(
    (item) => isWithin(item, figure) && isUnder(figure.under, item) && !isChartedAbove(figure, item),
  );
  for (const item of items) yield inTheHours([item], figure);
  if (items.length > 1) yield inTheHours(items, figure);
};

function inTheHours(items: readonly LedgerItem[], figure: Figure): Slip {
  const rows = [...new Set(items.map(({ standsIn }) => standsIn))].join(" and ");
  return {
    kind: "outside-hours",
    items,
    effects: oneEffect(
      figure,
      items.reduce((sum, item) => sum + signedIn(figure, item).volume, 0),
    ),
    rarity: 8,
    tell: (words) =>
      `${saidItems(items, words)} stands in ${rows}, outside the hours, and seems to be charted in them: it is not to ` +
      "be charted again, but where the chart has it is for the unit to say.",
  };
}
