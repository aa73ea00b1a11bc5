/**
 * The reconciliation of a chart with the ledger: what matches, what differs and by what slips, and what the chart
 * leaves out altogether.
 *
 * A total that differs because figures above it do is explained by those, and not again. Where nothing explains a
 * difference the answer says so: a guess would send somebody to mend what is right.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { ChartFigure, ChartWords, LedgerSide } from "./chart.js";
import type { Figure } from "./figure.js";
import { littleByLittle } from "./little-by-little.js";
import { type NotCharted, notChartedIn } from "./not-charted.js";
import { ranked } from "./ranking.js";
import { saidFigure } from "./said.js";
import { type Sheet, sheetOf } from "./sheet.js";
import type { Slip, SlipKind } from "./slip.js";
import { followsOf, leftOverOf, questionOf } from "./total-question.js";
import { effectOn, type Way } from "./way.js";
import { waysFor } from "./ways.js";

type Named = Pick<Figure, "row" | "start" | "end">;

export interface Match extends Named {
  readonly charted: Microlitres;
  readonly ledger: Microlitres;
}

/** One slip, and how much of the difference it accounts for. */
export interface Cause {
  readonly kind: SlipKind;
  readonly entries: readonly string[];
  readonly accountsFor: Microlitres;
  readonly sentence: string;
}

export interface Explanation extends Cause {
  /** What is left with this and what stands together with it. */
  readonly remaining: Microlitres;
  /** The other slip, where it takes two. */
  readonly together: readonly Cause[];
  /** From 1; equally good ones share it. */
  readonly place: number;
  readonly tied: boolean;
}

export interface Difference extends Match {
  /** Charted less ledger. */
  readonly difference: Microlitres;
  /** Of a total: the charted figures in it that differ themselves. */
  readonly follows: readonly Named[];
  /** Best first; of a total, only of what does not follow from figures in it. */
  readonly explanations: readonly Explanation[];
  readonly sentence: string;
}

export interface Reconciliation {
  readonly matches: readonly Match[];
  readonly differences: readonly Difference[];
  readonly notCharted: readonly NotCharted[];
}

/**
 * Compares a chart with the ledger. Figures match within `tolerance` (µL, the unit's `chartTolerance`); slips are
 * fitted more closely, by how finely the chart is written.
 */
export function reconcile(
  chart: readonly ChartFigure[],
  ledger: LedgerSide,
  tolerance: Microlitres,
  words: ChartWords,
): Reconciliation {
  const sheet = sheetOf(chart, ledger, tolerance);
  const differs = (figure: Figure) => Math.abs(figure.difference) > tolerance;
  const cells = sheet.cells.filter(differs);
  const ways = new Map(cells.map((cell) => [cell, waysFor(cell, sheet)] as const));
  return {
    matches: sheet.figures.filter((figure) => !differs(figure)).map(matched),
    differences: sheet.figures
      .filter(differs)
      .map((figure) =>
        sheet.totals.has(figure) ? ofTotal(figure, sheet, words) : ofCell(figure, ways, words),
      ),
    notCharted: notChartedIn(chart, ledger),
  };
}

function matched({ row, start, end, charted, ledger }: Figure): Match {
  return { row, start, end, charted, ledger };
}

function ofCell(figure: Figure, ways: ReadonlyMap<Figure, readonly Way[]>, words: ChartWords): Difference {
  const explanations = explained(figure, ways, words);
  return {
    ...matched(figure),
    difference: figure.difference,
    follows: [],
    explanations,
    sentence: explanations.length > 0 ? said(figure, words) : `${said(figure, words)} ${UNEXPLAINED}`,
  };
}

function ofTotal(total: Figure, sheet: Sheet, words: ChartWords): Difference {
  const addition = sheet.totals.get(total)!;
  const follows = followsOf(total, sheet);
  const question = questionOf(total, addition);
  const leftOver = leftOverOf(total, addition, sheet.tolerance);
  const asked: (readonly [Figure, Way[]])[] = [];
  // What is left beside figures that differ themselves is only asked about if it would be a difference alone.
  const isOpen = follows.length === 0 || Math.abs(question?.difference ?? 0) > sheet.tolerance;
  if (question !== null && isOpen) asked.push([question, waysFor(question, sheet)]);
  if (leftOver !== null) asked.push([leftOver.figure, littleByLittle(leftOver.figure, leftOver.parts)]);
  const ways = new Map(asked);
  const explanations = asked.flatMap(([figure]) => explained(figure, ways, words));
  return {
    ...matched(total),
    difference: total.difference,
    follows: follows.map(({ row, start, end }) => ({ row, start, end })),
    explanations,
    sentence: [
      said(total, words),
      ...(follows.length > 0
        ? [`It follows from ${follows.map((one) => saidFigure(one, words)).join("; ")}.`]
        : []),
      ...(explanations.length === 0 && (asked.length > 0 || follows.length === 0) ? [UNEXPLAINED] : []),
    ].join(" "),
  };
}

const UNEXPLAINED =
  "Nothing in the ledger explains this: ask who charted it, and look at the device, the bag or the container.";

function said({ row, start, end, difference, charted, ledger }: Figure, words: ChartWords): string {
  const by = `${words.volume(Math.abs(difference))} ${difference > 0 ? "more" : "less"}`;
  return (
    `${saidFigure({ row, start, end }, words)}: ${by} is charted (${words.volume(charted)}) than the ledger has ` +
    `(${words.volume(ledger)}).`
  );
}

function explained(
  figure: Figure,
  ways: ReadonlyMap<Figure, readonly Way[]>,
  words: ChartWords,
): Explanation[] {
  return ranked(figure, ways).map(({ place, tied, way }) => {
    const [first, ...others] = way.slips.map((slip) => causeOf(slip, figure, words));
    return { ...first!, remaining: way.remaining, together: others, place, tied };
  });
}

function causeOf(slip: Slip, figure: Figure, words: ChartWords): Cause {
  return {
    kind: slip.kind,
    entries: [...new Set([...slip.items.flatMap(({ entries }) => entries), ...(slip.besides ?? [])])],
    accountsFor: effectOn(figure, [slip]),
    sentence: slip.tell(words),
  };
}
