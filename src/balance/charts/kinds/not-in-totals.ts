/** Something was added into a total that the unit counts in none: blood or flushes, by its settings. */

import type { Microlitres } from "../../../infusion/entry.js";
import { isUnder, isWithin, type LedgerItem } from "../chart.js";
import { type Figure, signedIn } from "../figure.js";
import { saidItems } from "../said.js";
import type { Sheet } from "../sheet.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";

export const notInTotals: FindSlips = function* ({ figure, sheet }) {
  for (const { items, volume } of apartIn(figure, sheet)) yield counted(items, volume, figure);
};

interface Apart {
  readonly items: readonly LedgerItem[];
  /** As it would have been added in. */
  readonly volume: Microlitres;
}

/** What the unit has in no total and may have been added in: by category, as the ledger has it and as it is charted. */
export function apartIn(figure: Figure, { apart, figures }: Pick<Sheet, "apart" | "figures">): Apart[] {
  if (!("sum" in figure.row)) return [];
  const own = apart.filter(
    (item) => isWithin(item, figure) && isUnder(figure.row, { ...item, apart: false }),
  );
  const groups = [...new Set(own.map(({ category }) => category))].map((category) =>
    own.filter((item) => item.category === category),
  );
  return [...groups, ...(groups.length > 1 ? [own] : [])].flatMap((items) => {
    const volume = items.reduce((sum, item) => sum + signedIn(figure, item).volume, 0);
    const row = figures.find(
      ({ isApart, start, end, counted }) =>
        isApart &&
        start === figure.start &&
        end === figure.end &&
        counted.length === items.length &&
        counted.every(({ item }) => items.includes(item)),
    );
    const charted = row === undefined ? volume : Math.sign(volume) * row.charted;
    return charted === volume
      ? [{ items, volume }]
      : [
          { items, volume },
          { items, volume: charted },
        ];
  });
}

function counted(items: readonly LedgerItem[], volume: Microlitres, figure: Figure): Slip {
  return {
    kind: "not-in-totals",
    items,
    effects: oneEffect(figure, volume),
    rarity: 6,
    tell: (words) =>
      `${saidItems(items, words)} seems to be added in: the unit does not count it inside the total. Take it out of ` +
      "the total, and leave it in its own row.",
  };
}
