/**
 * Slips two at a time. Nothing has two slips at once, and what a figure as a whole was written down as comes after
 * all else that went wrong with it. Of many slips some two make nearly any difference, so that two are held to more
 * than one is: they have to be usual, and each has to matter.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { type Figure, isBareSum } from "./figure.js";
import { slipsOf, slipsOfWriting } from "./kinds.js";
import type { Sheet } from "./sheet.js";
import type { Slip } from "./slip.js";
import { type Elsewhere, effectOn, elsewhere, isNear, type Way, wayOf } from "./way.js";

export type Pair = readonly [Slip, Slip];
export type Judged = Elsewhere & { readonly slip: Slip };

/** Of more than so many slips, two would explain anything. */
const MOST_IN_PAIRS = 150;
/** Where more figures than this differ it is not for two slips in each, and fewer are gone through. */
const MANY_DIFFER = 400;
const FEWER_IN_PAIRS = 50;
/** Of two slips one is as usual as this, and neither is rarer than that. */
const USUAL = { one: 14, both: 16 };
const DAILY = 10;
/** Each accounts for this much of the difference at least, but what is so many times the tolerance matters anyhow. */
const MATERIAL = { share: 0.1, anyhow: 5 };

/** All pairs of what may have gone wrong with a figure that contradict nothing alone. */
export function* pairsOf(figure: Figure, possible: readonly Slip[], sheet: Sheet): Iterable<Pair> {
  if (possible.length > mostInPairs(sheet)) return;
  const slips = possible.filter((slip) => !isOfWriting(slip));
  for (const [i, first] of slips.entries()) {
    for (const second of slips.slice(i + 1)) {
      if (areApart(first, second) && mayGoTogether(figure, first, second, sheet)) yield [first, second];
    }
    if (first.items.length === 0) continue;
    const right = figure.charted - figure.difference + effectOn(figure, [first]);
    for (const writing of slipsOfWriting(figure, right, sheet.step)) {
      if (mayGoTogether(figure, first, writing, sheet)) yield [first, writing];
    }
  }
}

/**
 * Pairs that are seen in the same other figure, where each alone would be seen otherwise: two amounts in the next
 * hour, say.
 */
export function* pairsAcross(judged: readonly Judged[], sheet: Sheet): Iterable<Pair> {
  const byOther = new Map<Figure, Slip[]>();
  for (const { slip, contradicts } of judged) {
    const [other] = contradicts;
    if (contradicts.length !== 1 || Math.abs(other!.difference) <= sheet.tolerance) continue;
    byOther.set(other!, [...(byOther.get(other!) ?? []), slip]);
  }
  for (const slips of byOther.values()) {
    if (slips.length > mostInPairs(sheet)) continue;
    for (const [i, first] of slips.entries()) {
      for (const second of slips.slice(i + 1)) if (areApart(first, second)) yield [first, second];
    }
  }
}

function mostInPairs({ asked }: Sheet): number {
  return asked.size > MANY_DIFFER ? FEWER_IN_PAIRS : MOST_IN_PAIRS;
}

/** Whether two slips are supposed to have come together in a figure. */
function mayGoTogether(figure: Figure, a: Slip, b: Slip, { tolerance }: Sheet): boolean {
  if (a.certain || b.certain) return true;
  if (isBareSum(figure) && ![a, b].every(isDaily)) return false;
  const [usual, rare] = [Math.min(a.rarity, b.rarity), Math.max(a.rarity, b.rarity)];
  if (usual > USUAL.one || rare > USUAL.both) return false;
  const least: Microlitres = Math.max(
    tolerance,
    Math.min(MATERIAL.share * Math.abs(figure.difference), MATERIAL.anyhow * tolerance),
  );
  return [a, b].every((slip) => Math.abs(effectOn(figure, [slip])) >= least);
}

/** What is seen every day; in a sum, that it is added up wrong. */
function isDaily({ rarity, kind }: Slip): boolean {
  return rarity <= DAILY || kind === "addition-slip";
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
