/** How rules put into words what several of them say. */

import type { TotalName } from "../infusion/entry.js";

/** "primary total", or "primary and secondary totals". */
export function saidTotals(totals: readonly TotalName[]): string {
  const [only, ...more] = totals;
  return more.length === 0 ? `${only} total` : `${totals.join(" and ")} totals`;
}

/** A note's reason, or a clause, as a sentence of its own. */
export function asSentence(why: string): string {
  return `${why.charAt(0).toUpperCase()}${why.slice(1)}.`;
}
