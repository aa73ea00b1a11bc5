/**
 * The balance: intake less output, per interval and since the beginning.
 *
 * Invariant: at every level, interval or total, net is intake less output as they are shown; a cumulative
 * figure is what was brought forward and every net since, with what stands outside the hours.
 */

import type { IntakeCategory, OutputCategory } from "../infusion/entry.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { CERTAIN, type Certainty, difference, together } from "./certainty.js";
import type { Category, Outside, Posting, Side } from "./posting.js";
import { type Figures, figures, grouped, type Table, tableOf } from "./table.js";

export const INTAKE: readonly IntakeCategory[] = [
  "iv-fluid",
  "iv-medication",
  "iv-push",
  "iv-flush",
  "blood-product",
  "parenteral-nutrition",
  "oral",
  "enteral-feed",
  "enteral-water",
  "other-intake",
];

export const OUTPUT: readonly OutputCategory[] = [
  "urine",
  "gastric",
  "emesis",
  "stool",
  "drain",
  "chest-drain",
  "blood-loss",
  "fluid-removal",
  "other-output",
];

/** A figure of the net since the beginning, as the shown figures add up to it, and not rounded at all. */
export interface Cumulative {
  readonly shown: number;
  readonly exact: Volume;
  readonly certainty: Certainty;
}

/** What of a category nobody measured, per interval. */
export interface Unmeasured {
  readonly side: Side;
  readonly category: Category | null;
  readonly occurrences: readonly number[];
  readonly total: number;
}

/** Amounts from before the admission or from one time away: a row of their own on either side. */
export interface Beside {
  readonly outside: Outside;
  readonly intake: Table;
  readonly output: Table;
  readonly net: Figures;
  /** What the unit does not have inside the totals. */
  readonly apart: { readonly intake: Table; readonly output: Table };
}

export interface Balance {
  readonly intake: Table;
  readonly output: Table;
  /** What the unit does not have inside the totals. */
  readonly apart: { readonly intake: Table; readonly output: Table };
  readonly net: Figures;
  readonly broughtForward: Cumulative;
  readonly cumulative: readonly Cumulative[];
  readonly beside: readonly Beside[];
  readonly unmeasured: readonly Unmeasured[];
  /** How often something was left out before the period. */
  readonly unmeasuredBefore: number;
}

/** The balance that postings come to over so many intervals. */
export function balanceOf(postings: readonly Posting[], intervals: number): Balance {
  const counting = postings.filter(({ counts }) => counts);
  const inside = (of: readonly Posting[]) =>
    of.filter((one) => one.outside === null && one.interval !== null);
  const [within, apart] = [inside(counting), inside(postings.filter(({ counts }) => !counts))];
  const intake = sideOf(within, "intake", intervals);
  const output = sideOf(within, "output", intervals);
  const broughtForward = netOf(counting.filter(({ interval }) => interval === null));
  return {
    intake,
    output,
    apart: { intake: sideOf(apart, "intake", intervals), output: sideOf(apart, "output", intervals) },
    net: less(intake.sums, output.sums),
    broughtForward,
    cumulative: cumulated(counting, intervals, broughtForward),
    beside: besides(postings),
    unmeasured: unmeasuredOf(
      postings.filter(({ interval, leftOut }) => interval !== null && leftOut > 0),
      intervals,
    ),
    unmeasuredBefore: postings.reduce((sum, one) => sum + (one.interval === null ? one.leftOut : 0), 0),
  };
}

function sideOf(postings: readonly Posting[], side: Side, intervals: number): Table {
  const own = postings.filter((posting) => posting.side === side);
  return tableOf(own, intervals, side === "intake" ? INTAKE : OUTPUT);
}

function less(intake: Figures, output: Figures): Figures {
  return {
    volumes: intake.volumes.map((volume, i) => volume - output.volumes[i]!),
    certainty: intake.certainty.map((certainty, i) => difference(certainty, output.certainty[i]!)),
    total: intake.total - output.total,
    totalCertainty: difference(intake.totalCertainty, output.totalCertainty),
  };
}

function netOf(postings: readonly Posting[]): Cumulative {
  return postings.reduce<Cumulative>(
    (sum, posting) => {
      const { side, shown, exact, certainty } = posting;
      if (side === "intake") {
        return {
          shown: sum.shown + shown,
          exact: plus(sum.exact, exact),
          certainty: together(sum.certainty, certainty),
        };
      }
      return {
        shown: sum.shown - shown,
        exact: minus(sum.exact, exact),
        certainty: difference(sum.certainty, certainty),
      };
    },
    { shown: 0, exact: NOTHING, certainty: CERTAIN },
  );
}

function cumulated(postings: readonly Posting[], intervals: number, before: Cumulative): Cumulative[] {
  const own = Array.from({ length: intervals }, (): Posting[] => []);
  for (const posting of postings) if (posting.interval !== null) own[posting.interval]!.push(posting);
  const cumulative: Cumulative[] = [];
  for (const net of own.map(netOf)) {
    const last = cumulative.at(-1) ?? before;
    cumulative.push({
      shown: last.shown + net.shown,
      exact: plus(last.exact, net.exact),
      certainty: together(last.certainty, net.certainty),
    });
  }
  return cumulative;
}

/** Of before the admission everything, of times away what the period has. */
function besides(postings: readonly Posting[]): Beside[] {
  const outside = postings.filter(
    ({ outside, interval }) => outside === "before-admission" || (outside !== null && interval !== null),
  );
  const named = ({ outside }: Posting) => (typeof outside === "string" ? outside : outside!.entry);
  return [...grouped(outside, named).values()].map((own) => {
    const asOne = own.map((posting) => ({ ...posting, interval: 0 }));
    const sides = (of: readonly Posting[]) => ({
      intake: sideOf(of, "intake", 1),
      output: sideOf(of, "output", 1),
    });
    const { intake, output } = sides(asOne.filter(({ counts }) => counts));
    const apart = sides(asOne.filter(({ counts }) => !counts));
    return { outside: own[0]!.outside!, intake, output, net: less(intake.sums, output.sums), apart };
  });
}

function unmeasuredOf(postings: readonly Posting[], intervals: number): Unmeasured[] {
  const rows = grouped(postings, ({ side, category }) => `${side} ${category}`);
  return [...rows.values()].map((own) => {
    const { side, category } = own[0]!;
    const { volumes, total } = figures(
      own.map((posting) => ({ ...posting, shown: posting.leftOut })),
      intervals,
    );
    return { side, category, occurrences: volumes, total };
  });
}
