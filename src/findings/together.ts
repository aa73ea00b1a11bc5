/** Looks of which each agrees, held together against what was computed over all of them: floors are for one look. */

import { compare } from "../infusion/comparison.js";
import type { SegmentJudged, TotalJudged } from "../infusion/evidence.js";
import { markAt } from "../infusion/mark.js";
import { greater, minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { MINUTE } from "../time/instant.js";

type Look = Pick<SegmentJudged | TotalJudged, "entry" | "at" | "type" | "tolerance" | "comparison">;

/** Whether looks that follow one another disagree as one look over all of them would. */
export function strayTogether(looks: readonly Look[]): boolean {
  const [first, last] = [looks[0]!, looks.at(-1)!];
  const { entry, at, type, tolerance } = first;
  const sum = (of: (one: Look) => Volume) => looks.map(of).reduce(plus, NOTHING);
  const most = (of: (one: Look) => Volume) => greater(of(first), of(last));
  const mark = {
    ...markAt(entry, at, null, MINUTE),
    since: sum(({ comparison }) => comparison.computed),
    early: most(({ comparison }) => minus(comparison.computed, comparison.least)),
    late: most(({ comparison }) => minus(comparison.most, comparison.computed)),
  };
  const increment = sum(({ comparison }) => comparison.increment);
  return !compare(mark, increment, { behind: NOTHING, ahead: NOTHING }, type, tolerance).agrees;
}

/** What a look is off in a direction beyond the share it may be, in hundredths of a tick. */
export function beyondShare({ comparison, tolerance }: Look, direction: "more" | "less"): Volume {
  const { increment, computed } = comparison;
  const off = direction === "more" ? minus(increment, computed) : minus(computed, increment);
  return (off * 100n - computed * BigInt(tolerance.percent)) as Volume;
}
