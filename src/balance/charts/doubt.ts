/**
 * What the ledger does not know itself, as a reason for a difference: minutes of which no entry tells, an occurrence
 * nobody measured, a reading in dispute. It may be any volume, so that it is named and never claimed.
 */

import { CERTAIN, type Certainty, difference, together } from "../certainty.js";
import { type ChartWords, isUnder, isWithin, type LedgerItem, type RowName } from "./chart.js";
import type { Explanation } from "./explanation.js";
import { entriesOf, type Figure } from "./figure.js";
import { named, saidSpan } from "./said.js";

/** Something in a figure that may be more than the ledger has, or less. */
export interface Doubt {
  readonly item: LedgerItem;
  readonly certainty: Certainty;
}

/** How sure the ledger is of a row over a span. */
export function certaintyIn(
  doubts: readonly Doubt[],
  row: RowName,
  span: Pick<LedgerItem, "start" | "end">,
): Certainty {
  return doubts
    .filter(({ item }) => isUnder(row, item) && isWithin(item, span))
    .map((doubt) => as(doubt, row))
    .reduce(together, CERTAIN);
}

/** Why a figure may be less than the ledger has it. */
export type LessBecause = "lost" | "irrigant" | "not-measured";

/** The reasons for which a row over a span may be less; in a net, output that nobody measured is one. */
export function lessBecause(
  doubts: readonly Doubt[],
  row: RowName,
  span: Pick<LedgerItem, "start" | "end">,
): ReadonlySet<LessBecause> {
  const own = doubts.filter(
    (doubt) => as(doubt, row).less && isUnder(row, doubt.item) && isWithin(doubt.item, span),
  );
  return new Set(
    own.map(({ item }) => {
      if (item.direction === "intake") return "lost";
      return isTakenOff(item, row) ? "not-measured" : "irrigant";
    }),
  );
}

/** The explanations of a cell with what nobody knows after them, where that may be as the chart has it. */
export function withDoubt(
  explanations: readonly Explanation[],
  figure: Figure,
  doubts: readonly Doubt[],
  words: ChartWords,
): Explanation[] {
  const { under, difference } = figure;
  const own = doubts.filter((doubt) => {
    const { more, less } = as(doubt, under);
    const mayBe = difference > 0 ? more : less;
    return mayBe && isUnder(under, doubt.item) && isWithin(doubt.item, figure);
  });
  if (own.length === 0) return [...explanations];
  const isOneOf = explanations.every(({ hedged }) => hedged);
  const tied = isOneOf && explanations.length > 0;
  return [
    ...explanations.map((one) => (tied ? { ...one, tied } : one)),
    { ...notKnown(own, figure, words), place: isOneOf ? 1 : explanations.length + 1, tied },
  ];
}

function isTakenOff({ direction }: LedgerItem, row: RowName): boolean {
  return "sum" in row && row.sum === "net" && direction === "output";
}

function as({ item, certainty }: Doubt, row: RowName): Certainty {
  return isTakenOff(item, row) ? difference(CERTAIN, certainty) : certainty;
}

function notKnown(
  own: readonly Doubt[],
  figure: Figure,
  words: ChartWords,
): Omit<Explanation, "place" | "tied"> {
  const channels = new Set(own.map(({ item }) => item.channel));
  const around = figure.counted.flatMap(({ item }) =>
    item.channel !== undefined && channels.has(item.channel) ? item.entries : [],
  );
  const entries = [...new Set([...own.flatMap(({ item }) => item.entries), ...around])];
  const what = `${named(own.map(({ item }) => item))}, ${saidSpan(figure, words)}`;
  const [than, volume] = [figure.difference > 0 ? "more" : "less", words.volume(Math.abs(figure.difference))];
  return {
    kind: "not-known",
    entries: entries.length > 0 ? entries : entriesOf(figure),
    accountsFor: figure.difference,
    remaining: 0,
    together: [],
    hedged: true,
    brief: `not known of ${what}`,
    sentence:
      `The ledger does not know all of ${what}: the ${volume} ${than} may be that. Look at the device, the bag or the ` +
      "container, and record what is missing.",
  };
}
