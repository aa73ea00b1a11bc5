/**
 * A running figure was charted where that of the span belongs: what was brought forward is counted in, since the
 * stay began or since the chart does. It is what the ledger itself shows beside a net, and easily copied for it.
 */

import { countedIn } from "../chart.js";
import type { Figure } from "../figure.js";
import { saidFigure } from "../said.js";
import type { Sheet } from "../sheet.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";

export const broughtForward: FindSlips = function* ({ figure, sheet }) {
  if (!("sum" in figure.row)) return;
  const inChart = beforeIn(figure, sheet);
  if (inChart !== 0) yield countedOn(figure, inChart, "since the chart begins");
  const carried = sheet.carried?.[figure.row.sum];
  if (carried !== undefined && carried !== 0)
    yield countedOn(figure, carried + inChart, "since the stay began");
};

/** What the ledger has under the row from the beginning of the chart up to a figure. */
function beforeIn({ row, start }: Figure, { begins, counting }: Sheet): number {
  return counting
    .filter((item) => begins <= item.start && item.end <= start)
    .reduce((sum, item) => sum + countedIn(row, item), 0);
}

function countedOn(figure: Figure, volume: number, since: string): Slip {
  return {
    kind: "brought-forward",
    items: [],
    effects: oneEffect(figure, volume),
    rarity: 8,
    tell: (words) =>
      `${saidFigure(figure, words)} seems to be charted as the running figure ${since}, with the ` +
      `${words.volume(volume)} brought forward counted in: chart what is of this time alone.`,
  };
}
