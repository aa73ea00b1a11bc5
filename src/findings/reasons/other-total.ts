/** Another total of the same channel was read, or both together. */

import type { TotalName } from "../../infusion/entry.js";
import { expectedBy, type Mark } from "../../infusion/mark.js";
import { minus, NOTHING, plus } from "../../infusion/quantity.js";
import { readingAs } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { channelOf } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

export function otherTotal(d: Disagreeing): Reason[] {
  return likeliest("other-total", d, others(d));
}

function* others(d: Disagreeing): Iterable<Supposed> {
  const counters: Readonly<Partial<Record<TotalName, Mark>>> = channelOf(d)?.counters ?? {};
  const { primary, secondary } = counters;
  // What shows nothing is not what was read: a zero tells of a clear, and the sum is then the one total.
  const known = Object.entries(counters).filter(
    ([total, mark]) => (d.reading.checkOnly || total !== d.reading.total) && expectedBy(mark) > NOTHING,
  );
  for (const [total, mark] of known) yield readAs(d, total as TotalName, mark, known.length + 1);
  if (primary === undefined || secondary === undefined || d.reading.checkOnly) return;
  if (expectedBy(primary) <= NOTHING || expectedBy(secondary) <= NOTHING) return;
  const sum = { base: plus(primary.base, secondary.base), since: plus(primary.since, secondary.since) };
  yield readAs(d, "combined", sum, known.length + 1);
}

function readAs(
  d: Disagreeing,
  total: TotalName,
  mark: Pick<Mark, "base" | "since">,
  ways: number,
): Supposed {
  const { value } = d.reading;
  const [asCharted, named] = [name(d.reading.total), name(total)];
  const expected = expectedBy(mark as Mark);
  return {
    increment: minus(value, mark.base),
    would: mark.since,
    elsewhere: true,
    share: 1 / ways,
    tell: () => ({
      sentence:
        `${d.words.volume(value)} was charted as ${asCharted}; it is what ${named} should show, ` +
        `${d.words.volume(expected)}.`,
      proposals: [readingAs(d, { total }, `It was ${named} that was read.`)],
    }),
  };
}

function name(total: TotalName): string {
  return total === "combined" ? "the sum of both totals" : `the ${total} total`;
}
