/** An explanation as it is told: the slips that touch a figure, what each accounts for there, and what is left. */

import type { Microlitres } from "../../infusion/entry.js";
import type { ChartWords } from "./chart.js";
import type { Figure } from "./figure.js";
import { saidBriefly, saidHedged } from "./hedged.js";
import { ranked } from "./ranking.js";
import type { Slip, SlipKind } from "./slip.js";
import { effectOn, type Way } from "./way.js";

/** One slip, and how much of the difference it accounts for. */
export interface Cause {
  readonly kind: SlipKind | "not-known";
  readonly entries: readonly string[];
  readonly accountsFor: Microlitres;
  readonly sentence: string;
}

export interface Explanation extends Cause {
  /** None stands out: it would fit, and is not claimed. */
  readonly hedged: boolean;
  /** What would have happened, in a few words. */
  readonly brief: string;
  /** What is left with this and what stands together with it. */
  readonly remaining: Microlitres;
  /** The other slip, where it takes two. */
  readonly together: readonly Cause[];
  /** From 1; equally good ones share it. */
  readonly place: number;
  readonly tied: boolean;
}

/** The explanations of a figure that differs, by the ways of all that do; best first. */
export function explained(
  figure: Figure,
  ways: ReadonlyMap<Figure, readonly Way[]>,
  words: ChartWords,
): Explanation[] {
  return ranked(figure, ways).map(({ place, tied, hedged, way }) => {
    const [first, ...others] = way.slips.map((slip) => causeOf(slip, figure, hedged, words));
    const brief = way.slips.map((slip) => saidBriefly(slip, figure, words)).join(", and ");
    return { ...first!, remaining: way.remaining, together: others, place, tied, hedged, brief };
  });
}

function causeOf(slip: Slip, figure: Figure, hedged: boolean, words: ChartWords): Cause {
  return {
    kind: slip.kind,
    entries: [...new Set([...slip.items.flatMap(({ entries }) => entries), ...(slip.besides ?? [])])],
    accountsFor: effectOn(figure, [slip]),
    sentence: hedged ? saidHedged(slip, figure, words) : slip.tell(words),
  };
}
