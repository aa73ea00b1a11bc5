/**
 * Something was charted on the other side of the balance: an output among the intake, or an intake among the
 * output. Where the other side is charted too it must show there; the net shows it twice over.
 */

import type { Figure } from "../figure.js";
import { type Portion, portionsWithin } from "../portions.js";
import { saidItems, saidRow } from "../said.js";
import { type Asked, type FindSlips, oneEffect, type Slip, times } from "../slip.js";
import { isNear } from "../way.js";

export const otherSide: FindSlips = function* ({ figure, portions, sheet }: Asked) {
  const single = portions.filter(({ volumes }) => volumes.size === 1);
  if (figure.side === "net") {
    for (const portion of single) yield turnedRound(portion);
    return;
  }
  for (const across of sheet.across(figure)) {
    // Between spans of other lengths much may have gone: only what is all that differs in the other is supposed.
    const isSame = across.start === figure.start && across.end === figure.end;
    const mayBe = (effect: number) => isSame || isNear(across.difference, effect, across);
    for (const portion of single) {
      if (mayBe(portion.volumes.get(figure)!)) yield crossed(portion, figure, across);
    }
    for (const portion of portionsWithin(across)) {
      if (mayBe(-portion.volumes.get(across)!)) yield crossed(portion, across, figure);
    }
  }
};

function crossed({ items, volumes, rarity }: Portion, from: Figure, to: Figure): Slip {
  const volume = volumes.get(from)!;
  return {
    kind: "other-side",
    items,
    effects: new Map([...oneEffect(from, -volume), ...oneEffect(to, volume)]),
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
