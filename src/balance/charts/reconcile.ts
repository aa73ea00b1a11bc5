/**
 * The reconciliation of a chart with the ledger: what matches, what differs and by what slips, and what the chart
 * leaves out altogether.
 *
 * A total that differs because figures above it do is explained by those, and not again. Where nothing explains a
 * difference the answer says so: a guess would send somebody to mend what is right.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { ChartFigure, ChartWords, LedgerSide } from "./chart.js";
import { type Doubt, withDoubt } from "./doubt.js";
import { type Explanation, explained } from "./explanation.js";
import type { Figure } from "./figure.js";
import { type Habit, habitsIn } from "./habits.js";
import { littleByLittle } from "./little-by-little.js";
import { type NotCharted, notChartedIn } from "./not-charted.js";
import { saidDifference, saidUnknown } from "./said-difference.js";
import { type Sheet, sheetOf } from "./sheet.js";
import { followsOf, leftOverOf } from "./total-question.js";
import type { Way } from "./way.js";
import { waysFor } from "./ways.js";

type Named = Pick<Figure, "row" | "start" | "end">;

export interface Match extends Named {
  readonly charted: Microlitres;
  readonly ledger: Microlitres;
  /** What the row was taken for, where the ledger has another name; null otherwise. */
  readonly takenFor: string | null;
}

export interface Difference extends Match {
  /** Charted less ledger. */
  readonly difference: Microlitres;
  /** Of a total: the charted figures in it that differ themselves, and those left empty. */
  readonly follows: readonly Named[];
  /** Best first; of a total, only of what does not follow from figures in it. */
  readonly explanations: readonly Explanation[];
  readonly sentence: string;
}

/** A figure of a row of which nothing was in use, and that says nothing went in. */
export interface NotInUse extends Named {
  readonly charted: Microlitres;
  readonly sentence: string;
}

export interface Reconciliation {
  readonly matches: readonly Match[];
  readonly differences: readonly Difference[];
  /** What is behind several of the differences. */
  readonly habits: readonly Habit[];
  readonly notInUse: readonly NotInUse[];
  readonly notCharted: readonly NotCharted[];
}

/**
 * Compares a chart with the ledger. Figures match within `tolerance` (µL, the unit's `chartTolerance`); slips are
 * fitted more closely, by how finely the chart is written. `doubts` is what the ledger does not know itself.
 */
export function reconcile(
  chart: readonly ChartFigure[],
  ledger: LedgerSide,
  tolerance: Microlitres,
  words: ChartWords,
  doubts: readonly Doubt[] = [],
): Reconciliation {
  const sheet = sheetOf(chart, ledger, tolerance);
  const differs = (figure: Figure) => Math.abs(figure.difference) > tolerance;
  const same = sheet.figures.filter((figure) => !differs(figure));
  const ways = new Map([...sheet.asked.values()].map((one) => [one, waysFor(one, sheet)] as const));
  const differences = sheet.figures
    .filter(differs)
    .map((figure) => differing(figure, sheet, ways, words, doubts));
  const inTheHours = differences.flatMap(({ explanations }) =>
    explanations.flatMap((one) => [one, ...one.together].filter(({ kind }) => kind === "outside-hours")),
  );
  const isNamed = ({ standsIn, entries }: NotCharted) =>
    standsIn !== null && entries.every((entry) => inTheHours.some((one) => one.entries.includes(entry)));
  return {
    matches: same.filter(({ instead }) => instead === null).map(matched),
    differences,
    habits: habitsIn(differences, words),
    notInUse: same.flatMap(({ instead, row, start, end, charted }) =>
      instead === null ? [] : [{ row, start, end, charted, sentence: saidUnknown(row, instead) }],
    ),
    // What was charted in the hours after all is not missing.
    notCharted: notChartedIn(sheet, ledger).filter((one) => !isNamed(one)),
  };
}

function matched({ row, start, end, charted, ledger, takenFor }: Figure): Match {
  return { row, start, end, charted, ledger, takenFor };
}

function differing(
  figure: Figure,
  sheet: Sheet,
  ways: ReadonlyMap<Figure, readonly Way[]>,
  words: ChartWords,
  doubts: readonly Doubt[],
): Difference {
  const question = sheet.asked.get(figure);
  const follows = sheet.totals.has(figure) ? followsOf(figure, sheet) : [];
  const left = leftOver(figure, sheet);
  const slips = [
    ...(question === undefined ? [] : explained(question, ways, words)),
    ...(left === null ? [] : explained(left.figure, new Map([[left.figure, left.ways]]), words)),
  ];
  const explanations = sheet.totals.has(figure) ? slips : withDoubt(slips, figure, doubts, words);
  const isSmall = question === undefined && left !== null && left.ways.length === 0;
  const isOpen = !isSmall && (question !== undefined || left !== null || follows.length === 0);
  return {
    ...matched(figure),
    difference: figure.difference,
    follows: follows.map(({ row, start, end }) => ({ row, start, end })),
    explanations,
    sentence: saidDifference(
      figure,
      {
        follows,
        explanations,
        isUnexplained: isOpen && explanations.length === 0,
        addsUpWithin: isSmall ? sheet.tolerance : null,
      },
      words,
    ),
  };
}

/** What a total is short of by a little in each of the figures in it. */
function leftOver(figure: Figure, { totals, tolerance }: Sheet) {
  const addition = totals.get(figure);
  const left = addition === undefined ? null : leftOverOf(figure, addition, tolerance);
  return left && { figure: left.figure, ways: littleByLittle(left.figure, left.parts) };
}
