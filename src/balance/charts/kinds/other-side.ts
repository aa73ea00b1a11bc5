/**
 * Something was charted on the other side of the balance: an output among the intake, or an intake among the
 * output. Where the other side is charted too it must show there; the net shows it twice over.
 */

import type { Figure } from "../figure.js";
import { type Portion, portionsOf } from "../portions.js";
import { saidItems, saidRow } from "../said.js";
import { type Asked, type FindSlips, only, type Slip, times } from "../slip.js";

export const otherSide: FindSlips = function* ({ figure, portions, sheet }: Asked) {
  const single = portions.filter(({ volumes }) => volumes.size === 1);
  if (figure.side === "net") {
    for (const portion of single) yield turnedRound(portion);
    return;
  }
  for (const across of sheet.across(figure)) {
    for (const portion of single) yield crossed(portion, figure, across);
    for (const portion of portionsOf(across, [across])) yield crossed(portion, across, figure);
  }
};

function crossed({ items, volumes, rarity }: Portion, from: Figure, to: Figure): Slip {
  const volume = volumes.get(from)!;
  return {
    kind: "other-side",
    items,
    effects: new Map([...only(from, -volume), ...only(to, volume)]),
    rarity: 16 + rarity,
    tell: (words) =>
      `${saidItems(items, words)} is ${from.side} and seems to be charted under ${saidRow(to.row)}: ` +
      "move it to the other side of the balance.",
  };
}

function turnedRound({ items, volumes, rarity }: Portion): Slip {
  return {
    kind: "other-side",
    items,
    effects: times(volumes, -2),
    rarity: 18 + rarity,
    tell: (words) =>
      `${saidItems(items, words)} seems to be counted on the wrong side of the balance, which the net shows twice ` +
      "over: move it to the other side.",
  };
}
