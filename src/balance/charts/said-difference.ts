/** The sentence of a figure that differs: by how much, what it follows from, and whether anything explains it. */

import type { Microlitres } from "../../infusion/entry.js";
import type { ChartWords, RowName } from "./chart.js";
import type { Explanation } from "./explanation.js";
import type { Figure } from "./figure.js";
import { saidTie } from "./hedged.js";
import { listed, saidFigure, saidRow } from "./said.js";

interface Told {
  readonly follows: readonly Figure[];
  readonly explanations: readonly Explanation[];
  readonly isUnexplained: boolean;
  /** Of a total that is the sum of figures which each match: within how much. */
  readonly addsUpWithin: Microlitres | null;
}

/** Two together are looked for only where they are usual, so that no more may be said than this. */
const UNEXPLAINED =
  "No single entry in the ledger explains this: ask who charted it, and look at the device, the bag or the container.";

export function saidDifference(
  figure: Figure,
  { follows, explanations, isUnexplained, addsUpWithin }: Told,
  words: ChartWords,
): string {
  const { row, side, instead, takenFor, isOnBothSides } = figure;
  const hedged = explanations
    .filter(({ hedged, kind }) => hedged && kind !== "not-known")
    .map(({ brief }) => brief);
  const from = follows.map((one) => saidFigure(one, words) + (one.isEmpty ? ", which was left empty" : ""));
  return [
    saidApart(figure, words),
    ...(takenFor === null ? [] : [`${saidRow(row)} was taken for ${takenFor}.`]),
    ...(isOnBothSides ? [`The name is on both sides of the balance; this was taken for ${side}.`] : []),
    ...(from.length > 0 ? [`It follows from ${from.join("; ")}.`] : []),
    ...(addsUpWithin !== null ? [saidSmall(addsUpWithin, from.length > 0, words)] : []),
    ...(instead !== null ? [saidUnknown(row, instead)] : isUnexplained ? [UNEXPLAINED] : []),
    ...(hedged.length > 0 ? [saidTie(hedged)] : []),
  ].join(" ");
}

function saidSmall(within: Microlitres, isBeside: boolean, words: ChartWords): string {
  const which = isBeside ? "The other figures in it" : "The figures in it";
  return `${which} each agree within ${words.volume(within)}, and it is what they add up to: little by little, as by rounding.`;
}

function saidApart(figure: Figure, words: ChartWords): string {
  const { difference, charted, ledger } = figure;
  const by = `${words.volume(Math.abs(difference))} ${difference > 0 ? "more" : "less"}`;
  return `${saidFigure(figure, words)}: ${by} is charted (${words.volume(charted)}) than the ledger has (${words.volume(ledger)}).`;
}

/** That a row names a line or an item of which nothing was in use, and what was. */
export function saidUnknown(row: RowName, instead: readonly string[]): string {
  const what = "line" in row ? "line" : "item";
  const others = instead.length === 0 ? "" : ` The ledger has ${listed(instead, "and")}.`;
  return `No such ${what} was in use in this time: ${saidRow(row)}.${others}`;
}
