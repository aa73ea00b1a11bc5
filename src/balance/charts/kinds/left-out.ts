/** Something the ledger has was not charted. */

import type { LedgerItem } from "../chart.js";
import type { Figure } from "../figure.js";
import { saidFigure, saidItems } from "../said.js";
import { type FindSlips, oneEffect, type Slip, times } from "../slip.js";

export const leftOut: FindSlips = function* ({ figure, portions }) {
  if (figure.charted === 0 && !figure.isEmpty && figure.counted.length > 1 && figure.adding === undefined)
    yield allOf(figure);
  for (const { items, volumes, rarity } of portions) {
    if (items.every(({ carrier }) => carrier)) continue;
    yield {
      kind: "left-out",
      items,
      effects: times(volumes, -1),
      rarity: 10 + rarity,
      tell: (words) =>
        `${saidItems(items, words)} is in the ledger and not in the chart: chart it${orElse(items)}.`,
    };
  }
};

/** A figure of nothing, with nothing charted above it, is without everything: that is no chance. */
function allOf(figure: Figure): Slip {
  const items = figure.counted.map(({ item }) => item);
  return {
    kind: "left-out",
    items,
    effects: oneEffect(figure, -figure.counted.reduce((sum, { volume }) => sum + volume, 0)),
    rarity: 15,
    certain: true,
    tell: (words) =>
      `Nothing is charted in ${saidFigure(figure, words)}; the ledger has ${saidItems(items, words)}: chart ` +
      `it${orElse(items)}.`,
  };
}

/** What else may be to do. Of what ran the entry is where all of it began, so that it is not to be voided for a part. */
function orElse(items: readonly LedgerItem[]): string {
  const ran = items.filter(({ channel }) => channel !== undefined).length;
  return [
    ...(ran < items.length ? ["or void the entry if it did not happen"] : []),
    ...(ran > 0 ? ["or chart when the infusion stopped or paused if it did not run"] : []),
  ]
    .map((what) => `, ${what}`)
    .join("");
}
