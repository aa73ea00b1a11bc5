/**
 * What the rows of a chart are in the ledger. People write a name as they remember it: one that is nearly the name of
 * something in use is taken for that, and the answer says so; one that is near nothing names nothing.
 */

import type { ChartFigure, InUse, RowName } from "./chart.js";
import { keyOf } from "./chart.js";
import { editsBetween, folded, lettersWrong, wordsOf } from "./names.js";

export interface Recognised {
  /** The row as the ledger has it. */
  readonly under: RowName;
  /** What the row was taken for, where that is another name than the chart has. */
  readonly takenFor: string | null;
  /** Where nothing of that name was in use: what was, the nearest name first. */
  readonly instead: readonly string[] | null;
}

/** How many names are offered for one that is unknown. */
const OFFERED = 3;

/** What each row of a chart is. A name that another row has in full is not taken for this one as well. */
export function recognising(chart: readonly ChartFigure[], inUse: InUse): (row: RowName) => Recognised {
  const written = new Set(chart.map(({ row }) => keyOf(row)));
  const known = new Map<string, Recognised>();
  return (row) => {
    const key = keyOf(row);
    const there = known.get(key) ?? recognised(row, inUse, (other) => written.has(keyOf(other)));
    known.set(key, there);
    return there;
  };
}

function recognised(row: RowName, { lines, items }: InUse, isWritten: (row: RowName) => boolean): Recognised {
  const itself = { under: row, takenFor: null, instead: null };
  if ("line" in row)
    return lines.includes(row.line) ? itself : { ...itself, instead: nearest(row.line, lines) };
  if (!("item" in row)) return itself;
  if (items.some((item) => keyOf({ item }) === keyOf(row))) return itself;
  const free = items.filter((item) => !isWritten({ item }));
  const near = free
    .flatMap((item) => {
      const wrong = lettersWrong(row.item, item);
      return wrong === null ? [] : [{ item, wrong }];
    })
    .sort((a, b) => a.wrong - b.wrong);
  const [first, second] = near;
  // Two that are as near may each be meant.
  if (first === undefined || first.wrong === second?.wrong) {
    return { ...itself, instead: nearest(row.item, free) };
  }
  return { under: { item: first.item }, takenFor: first.item, instead: null };
}

/** What has most words of the name comes first, then what has the fewest letters wrong. */
function nearest(name: string, names: readonly string[]): string[] {
  const words = wordsOf(name);
  const without = (other: string) => {
    const own = new Set(wordsOf(other));
    return words.filter((word) => !own.has(word)).length;
  };
  const letters = (other: string) => editsBetween(folded(name), folded(other));
  return [...names].sort((a, b) => without(a) - without(b) || letters(a) - letters(b)).slice(0, OFFERED);
}
