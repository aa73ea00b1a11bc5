/**
 * What fits a difference and does not stand out, in words that claim nothing and send nobody to change anything: to
 * chart what is there already would put it there twice.
 */

import type { ChartWords } from "./chart.js";
import type { Figure } from "./figure.js";
import { saidFigure, saidItems } from "./said.js";
import type { Slip, SlipKind } from "./slip.js";

const HAPPENED: Readonly<Record<SlipKind, string>> = {
  "left-out": "left out",
  "carrier-left-out": "left out",
  "counted-twice": "charted twice",
  "neighbouring-interval": "charted in the interval beside its own",
  "other-side": "charted on the other side of the balance",
  "bag-for-delivered": "charted by the label of the bag",
  "ice-whole": "charted whole",
  "output-whole": "charted as drained",
  "secondary-in-primary": "counted in the primary as well",
  "unit-slip": "charted with the decimal point elsewhere, or in other units",
  "transposed-digits": "charted with two digits swapped",
  "reading-not-differenced": "charted as the total that was read",
  "addition-slip": "added up wrong by a carry",
  "outside-hours": "charted in the hours",
  "not-in-totals": "added into the total",
  "other-row": "charted in another row",
  "sign-turned": "charted with its sign turned",
  "brought-forward": "charted with what was brought forward counted in",
};

/** Such as "180 mL of tea at 09:10 left out". */
export function saidBriefly({ kind, items }: Slip, figure: Figure, words: ChartWords): string {
  return `${items.length === 0 ? saidFigure(figure, words) : saidItems(items, words)} ${HAPPENED[kind]}`;
}

export function saidHedged(slip: Slip, figure: Figure, words: ChartWords): string {
  return `${saidBriefly(slip, figure, words)}: that would fit, and is not certain; look before anything is changed.`;
}

/** The most that one sentence names. */
const NAMED = 8;

/** That nothing stands out among what would fit. */
export function saidTie(briefly: readonly string[]): string {
  if (briefly.length === 1)
    return `One thing would fit, perhaps by chance: ${briefly[0]}. Look before anything is changed.`;
  const more = briefly.length - NAMED;
  return `Several entries would fit and none stands out: ${briefly.slice(0, NAMED).join("; ")}${
    more > 0 ? `; and ${more} more` : ""
  }. Look before anything is changed.`;
}
