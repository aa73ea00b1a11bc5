/** Something the ledger has was not charted. */

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
        `${saidItems(items, words)} is in the ledger and not in the chart: chart it, or void the entry if it ` +
        "did not happen.",
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
      `Nothing is charted in ${saidFigure(figure, words)}; the ledger has ${saidItems(items, words)}: chart it, or void ` +
      "what did not happen.",
  };
}
