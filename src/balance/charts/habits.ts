/**
 * One habit behind several differences: every flush left out all shift, ice always charted whole. Each difference
 * keeps its explanation; said once, it is one thing to speak about with whoever charts so.
 */

import { earliest, latest } from "../../time/instant.js";
import type { ChartWords } from "./chart.js";
import type { Difference } from "./reconcile.js";
import { listed, saidRow, saidSpan } from "./said.js";
import type { SlipKind } from "./slip.js";

export interface Habit {
  readonly kind: SlipKind;
  /** The entries of all of them. */
  readonly entries: readonly string[];
  /** In how many figures it shows. */
  readonly figures: number;
  readonly sentence: string;
}

/** Twice may be a coincidence. */
const OFTEN = 3;

/** What people do each time, as against once. */
const HABITS: Partial<Record<SlipKind, string>> = {
  "carrier-left-out": "carriers, flushes and keep-open flow are left out",
  "ice-whole": "ice is charted whole",
  "output-whole": "output is charted as drained, before what is taken off",
  "bag-for-delivered": "the label of the bag is charted for what went in",
  "secondary-in-primary": "secondaries are counted in the primary as well",
  "reading-not-differenced": "totals are charted as they were read",
  "neighbouring-interval": "what was charted belongs to the interval beside",
  "not-in-totals": "what the unit counts in no total is added in",
};

/** The habits that are the only first explanation of enough different things, the most frequent first. */
export function habitsIn(differences: readonly Difference[], words: ChartWords): Habit[] {
  const shown = differences.flatMap((difference) => {
    const [first] = difference.explanations;
    if (first === undefined || first.hedged || first.tied) return [];
    return [first, ...first.together].map(({ kind, entries }) => ({ kind, entries, difference }));
  });
  return Object.entries(HABITS)
    .flatMap(([kind, what]) => {
      const own = shown.filter((one) => one.kind === kind);
      const entries = [...new Set(own.flatMap((one) => one.entries))];
      if (entries.length < OFTEN || own.length < OFTEN) return [];
      const figures = own.map(({ difference }) => difference);
      const rows = listed([...new Set(figures.map(({ row }) => saidRow(row)))], "and");
      const span = {
        start: earliest(...figures.map(({ start }) => start)),
        end: latest(...figures.map(({ end }) => end)),
      };
      const sentence =
        `One habit explains ${figures.length} differences (${rows}, ${saidSpan(span, words)}): ${what}. ` +
        "Mend each as it says, and speak with whoever charts so.";
      return [{ kind: kind as SlipKind, entries, figures: figures.length, sentence }];
    })
    .sort((a, b) => b.figures - a.figures);
}
