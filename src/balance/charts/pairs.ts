/**
 * Slips two at a time. Nothing has two slips at once, and what a figure as a whole was written down as comes after
 * all else that went wrong with it.
 */

import type { Figure } from "./figure.js";
import { slipsOf, slipsOfWriting } from "./kinds.js";
import type { Sheet } from "./sheet.js";
import type { Slip } from "./slip.js";
import { effectOn, elsewhere, isNear, type Way, wayOf } from "./way.js";

/** Of more than so many slips, two would explain anything. */
const MOST_IN_PAIRS = 150;

/** All pairs of what may have gone wrong with a figure. */
export function* pairsOf(
  figure: Figure,
  possible: readonly { readonly slip: Slip }[],
  sheet: Sheet,
): Iterable<readonly [Slip, Slip]> {
  if (possible.length > MOST_IN_PAIRS) return;
  const slips = possible.map(({ slip }) => slip).filter((slip) => !isOfWriting(slip));
  for (const [i, first] of slips.entries()) {
    for (const second of slips.slice(i + 1)) if (areApart(first, second)) yield [first, second];
    if (first.items.length === 0) continue;
    const right = figure.charted - figure.difference + effectOn(figure, [first]);
    for (const writing of slipsOfWriting(figure, right, sheet.step)) yield [first, writing];
  }
}

/** Whether it is a slip of the figure as a whole; a total can be added up wrong and written down wrong. */
function isOfWriting({ items, kind }: Slip): boolean {
  return items.length === 0 && kind !== "addition-slip";
}

function areApart(a: Slip, b: Slip): boolean {
  if (a.items.length === 0 && b.items.length === 0) return false;
  return !a.items.some((item) => b.items.includes(item));
}

/**
 * A slip that explains the difference and would show otherwise in another figure, with one that explains the rest
 * there. Where the other figure matches, two slips would have to cancel out: that is not supposed.
 */
export function mending(figure: Figure, slip: Slip, other: Figure, sheet: Sheet): Way[] {
  if (Math.abs(other.difference) <= sheet.tolerance) return [];
  const rest = other.difference - effectOn(other, [slip]);
  return slipsOf(other, sheet)
    .filter((second) => !second.effects.has(figure) && areApart(slip, second) && !isOfWriting(second))
    .filter((second) => isNear(rest, effectOn(other, [second]), other))
    .map((second) => ({ slips: [slip, second], ...elsewhere(figure, [slip, second], sheet) }))
    .filter(({ contradicts }) => contradicts.length === 0)
    .map(({ slips, settles }) => wayOf(figure, slips, settles));
}
