/**
 * Two neighbouring digits of a volume were swapped. The digits themselves are compared, as the chart writes them;
 * that a difference is divisible by nine says little.
 */

import type { Microlitres } from "../../../infusion/entry.js";
import { entriesOf, type Figure } from "../figure.js";
import { saidFigure, saidItems } from "../said.js";
import { type FindSlips, isWrittenAsOne, oneEffect, type Slip } from "../slip.js";

/** One of several things in a figure. */
export const transposedDigits: FindSlips = function* ({ figure, portions, sheet }) {
  for (const { items, volumes } of portions) {
    if (volumes.size > 1 || items.length === figure.counted.length || !isWrittenAsOne(items)) continue;
    const volume = volumes.get(figure)!;
    const sign = volume < 0 ? -1 : 1;
    for (const { from, to } of swaps(Math.abs(volume), sheet.step)) {
      yield {
        kind: "transposed-digits",
        items,
        effects: oneEffect(figure, sign * (to - from)),
        rarity: 15,
        tell: (words) =>
          `${saidItems(items, words)} seems to be charted as ${words.volume(to)}, with two digits swapped: correct it.`,
      };
    }
  }
};

/** The figure as a whole, where it should have been `right`. */
export function* transposedDigitsOf(figure: Figure, right: Microlitres, step: Microlitres): Iterable<Slip> {
  const sign = right < 0 ? -1 : 1;
  for (const { from, to } of swaps(Math.abs(right), step)) {
    yield {
      kind: "transposed-digits",
      items: [],
      besides: entriesOf(figure),
      effects: oneEffect(figure, sign * to - right),
      rarity: 12,
      tell: (words) =>
        `${saidFigure(figure, words)}: ${words.volume(sign * from)} seem to be charted as ${words.volume(sign * to)}, with two ` +
        "digits swapped: correct the figure.",
    };
  }
}

interface Swap {
  readonly from: Microlitres;
  readonly to: Microlitres;
}

/** A volume as it would be charted, rounded down or up, and with each pair of unlike neighbours swapped. */
function swaps(volume: Microlitres, step: Microlitres): Swap[] {
  const digit = step < 1_000 ? 100 : 1_000;
  const charted = new Set([Math.floor(volume / digit), Math.ceil(volume / digit)]);
  return [...charted].flatMap((number) => {
    const digits = String(number);
    return [...digits].flatMap((_, place) => {
      const [a, b] = [digits[place], digits[place + 1]];
      if (b === undefined || a === b) return [];
      const swapped = digits.slice(0, place) + b + a + digits.slice(place + 2);
      // Nobody writes a nought in front.
      return swapped.startsWith("0") ? [] : [{ from: number * digit, to: Number(swapped) * digit }];
    });
  });
}
