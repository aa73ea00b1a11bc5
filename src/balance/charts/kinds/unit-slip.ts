/** A volume was charted in litres for millilitres, or with its decimal point one place off. */

import type { Microlitres } from "../../../infusion/entry.js";
import { entriesOf, type Figure } from "../figure.js";
import { saidFigure, saidItems } from "../said.js";
import { type FindSlips, isWrittenAsOne, oneEffect, type Slip, times } from "../slip.js";

interface Factor {
  readonly up: number;
  readonly down: number;
  readonly rarity: number;
  readonly how: string;
}

const FACTORS: readonly Factor[] = [
  { up: 10, down: 1, rarity: 17, how: "ten times too much" },
  { up: 1, down: 10, rarity: 17, how: "a tenth of it" },
  { up: 1_000, down: 1, rarity: 20, how: "a thousand times too much, litres taken for millilitres" },
  { up: 1, down: 1_000, rarity: 18, how: "a thousandth of it, in litres instead of millilitres" },
];

/** One of several things in a figure. */
export const unitSlip: FindSlips = function* ({ figure, portions, sheet }) {
  for (const { items, volumes } of portions) {
    if (volumes.size > 1 || items.length === figure.counted.length || !isWrittenAsOne(items)) continue;
    const volume = volumes.get(figure)!;
    for (const { up, down, rarity, how } of FACTORS) {
      const charted = Math.round((volume * up) / down);
      // What rounds to nothing looks like something left out.
      if (Math.abs(charted) < sheet.step) continue;
      yield {
        kind: "unit-slip",
        items,
        effects: times(volumes, charted / volume - 1),
        rarity,
        tell: (words) =>
          `${saidItems(items, words)} seems to be charted as ${words.volume(Math.abs(charted))}, ${how}: correct it.`,
      };
    }
  }
};

/**
 * The figure as a whole, where it should have been `right`. Litres charted for millilitres show the digits of the
 * right figure, which a figure left empty does not.
 */
export function* unitSlipOf(figure: Figure, right: Microlitres): Iterable<Slip> {
  for (const { up, down, rarity, how } of FACTORS) {
    const charted = (right * up) / down;
    if (right === 0 || figure.charted === 0) continue;
    const sameDigits =
      Math.abs(figure.charted - charted) <= (figure.fit * up) / down + DIGITS * Math.abs(charted);
    if (down === 1_000 && !sameDigits) continue;
    yield {
      kind: "unit-slip",
      items: [],
      besides: entriesOf(figure),
      effects: oneEffect(figure, Math.round(charted) - right),
      rarity: sameDigits ? rarity - 8 : rarity,
      tell: (words) =>
        `${saidFigure(figure, words)}: ${words.volume(right)} seem to be charted ${how}: correct the figure.`,
    };
  }
}

/** In litres two or three decimals are written. */
const DIGITS = 0.02;
