/**
 * The ways to explain one difference, smallest first: what one slip explains is not explained by two, unless the
 * second only mends what the first would contradict elsewhere.
 */

import { BY_CHANCE, chanceIn, type Possible } from "./chance.js";
import type { Figure } from "./figure.js";
import { slipsIn, slipsOfWriting } from "./kinds.js";
import { portionsOf } from "./portions.js";
import type { Sheet } from "./sheet.js";
import type { Slip } from "./slip.js";
import { effectOn, elsewhere, isNear, type Way, wayOf } from "./way.js";

/** Of more than so many slips, two would explain anything. */
const MOST_IN_PAIRS = 150;

/** Everything that may have gone wrong with a figure, as far as it would show. */
export function slipsOf(figure: Figure, sheet: Sheet): Slip[] {
  const portions = portionsOf(figure, sheet.row(figure));
  const right = figure.charted - figure.difference;
  const slips = [...slipsIn({ figure, portions, sheet }), ...slipsOfWriting(figure, right, sheet.step)];
  return slips.filter((slip) => Math.abs(effectOn(figure, [slip])) > figure.fit);
}

/** The ways to explain the difference of a figure; none where nothing does, or only by chance. */
export function waysFor(figure: Figure, sheet: Sheet): Way[] {
  const slips = slipsOf(figure, sheet);
  const judged = slips.map((slip) => ({ slip, ...elsewhere(figure, [slip], sheet.tolerance) }));
  const possible = judged.filter(({ contradicts }) => contradicts.length === 0);
  const fitting = judged.filter(({ slip }) => fits(figure, [slip]));
  const singles = fitting
    .filter(({ contradicts }) => contradicts.length === 0)
    .map(({ slip, settles }) => wayOf(figure, [slip], settles));
  const alone = possible.map(({ slip }) => possibleOf(figure, [slip]));
  const told = likely(figure, singles, alone);
  const mended = fitting
    .filter(({ contradicts }) => contradicts.length === 1)
    .flatMap(({ slip, contradicts }) => mending(figure, slip, contradicts[0]!, sheet));
  if (told.length > 0) return [...told, ...mended];
  const { pairs, both } = inPairs(
    figure,
    possible.map(({ slip }) => slip),
    sheet,
  );
  return [...likely(figure, pairs, [...alone, ...both]), ...mended];
}

function fits(figure: Figure, slips: readonly Slip[]): boolean {
  return isNear(figure.difference, effectOn(figure, slips), figure);
}

function possibleOf(figure: Figure, slips: readonly Slip[]): Possible {
  return { effect: effectOn(figure, slips), rarity: wayOf(figure, slips, []).rarity };
}

/** Those that do not fit by chance. */
function likely(figure: Figure, ways: readonly Way[], possible: readonly Possible[]): Way[] {
  if (ways.length === 0) return [];
  const chance = chanceIn(figure, possible);
  return ways.filter(
    ({ slips, rarity, settles }) =>
      slips.some(({ certain }) => certain) || chance(rarity, settles.length) <= BY_CHANCE,
  );
}

/** Two slips that make the difference together, and what any two would make. */
function inPairs(figure: Figure, slips: readonly Slip[], sheet: Sheet): { pairs: Way[]; both: Possible[] } {
  const pairs: Way[] = [];
  const both: Possible[] = [];
  if (slips.length > MOST_IN_PAIRS) return { pairs, both };
  const consider = (two: readonly Slip[]) => {
    both.push(possibleOf(figure, two));
    if (!fits(figure, two)) return;
    const { settles, contradicts } = elsewhere(figure, two, sheet.tolerance);
    if (contradicts.length === 0) pairs.push(wayOf(figure, two, settles));
  };
  for (const [i, first] of slips.entries()) {
    for (const second of slips.slice(i + 1)) if (areApart(first, second)) consider([first, second]);
    if (first.items.length === 0) continue;
    // The figure was written down wrong after something had already gone wrong with what it holds.
    const right = figure.charted - figure.difference + effectOn(figure, [first]);
    for (const writing of slipsOfWriting(figure, right, sheet.step)) consider([first, writing]);
  }
  return { pairs, both };
}

/** Nothing has two slips at once, and a figure as a whole neither. Writing goes wrong after all else. */
function areApart(a: Slip, b: Slip): boolean {
  const ofWriting = (slip: Slip) => slip.items.length === 0 && slip.kind !== "addition-slip";
  if (ofWriting(a) || ofWriting(b)) return false;
  if (a.items.length === 0 && b.items.length === 0) return false;
  return !a.items.some((item) => b.items.includes(item));
}

/**
 * A slip that explains the difference and would show otherwise in another figure, with one that explains the rest
 * there. Where the other figure matches, two slips would have to cancel out: that is not supposed.
 */
function mending(figure: Figure, slip: Slip, other: Figure, sheet: Sheet): Way[] {
  if (Math.abs(other.difference) <= sheet.tolerance) return [];
  const rest = other.difference - effectOn(other, [slip]);
  return slipsOf(other, sheet).flatMap((second) => {
    if (second.effects.has(figure) || !areApart(slip, second)) return [];
    if (!isNear(rest, effectOn(other, [second]), other)) return [];
    const { settles, contradicts } = elsewhere(figure, [slip, second], sheet.tolerance);
    return contradicts.length === 0 ? [wayOf(figure, [slip, second], settles)] : [];
  });
}
