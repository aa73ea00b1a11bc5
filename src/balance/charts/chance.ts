/**
 * Whether an explanation says anything: where so much may have happened that nearly any difference would be
 * explained, that one of them fits is chance, and to name it would be guessing.
 *
 * Measured as the share of differences about as large as this one that something at least as usual would explain.
 * It is an estimate, and only compared.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { type Figure, isBareSum } from "./figure.js";
import { isNear } from "./way.js";

/**
 * The most that may be explained by chance, by one slip and by two: two are rarer to begin with, so that they have to
 * fit where little else would. A sum of which nothing else is charted has all of a side in it, and much that would do:
 * there two are only the most usual, and come to less.
 */
const BY_CHANCE = { row: { alone: 0.1, together: 0.17 }, sum: { alone: 0.12, together: 0.25 } };

/** By what chance, at the most, an explanation of a figure is still told, of one slip and of two. */
export function mostByChance(figure: Figure): { readonly alone: number; readonly together: number } {
  return isBareSum(figure) ? BY_CHANCE.sum : BY_CHANCE.row;
}

/** That an explanation shows in another figure as well makes chance this much less likely. */
const IN_ANOTHER = 0.1;
/** Differences "about as large": up to twice as much, at least within this much. */
const LEAST_ABOUT: Microlitres = 60_000;
const GRAINS: readonly Microlitres[] = [10_000, 5_000];

export interface Possible {
  /** What it would make of the difference. */
  readonly effect: Microlitres;
  readonly rarity: number;
}

/** The share explained by what is as usual as a rarity, or more; one call per figure, as many answers as wanted. */
export function chanceIn(
  figure: Figure,
  possible: readonly Possible[],
): (rarity: number, others: number) => number {
  const about = Math.max(Math.abs(figure.difference), LEAST_ABOUT);
  const width = Math.max(2 * figure.fit + 1, grainOf(figure.difference));
  const sorted = possible
    .filter(({ effect }) => Math.abs(effect - figure.difference) <= about)
    .sort((a, b) => a.rarity - b.rarity);
  const windows = new Set<number>();
  const upTo: { rarity: number; share: number }[] = [];
  for (const { effect, rarity } of sorted) {
    const window = Math.round((effect - figure.difference) / width);
    if (!isNear(effect, figure.difference + window * width, figure)) continue;
    windows.add(window);
    upTo.push({ rarity, share: Math.min(1, (windows.size * width) / (2 * about)) });
  }
  return (rarity, others) =>
    (upTo.findLast((one) => one.rarity <= rarity)?.share ?? 0) * IN_ANOTHER ** others;
}

/** How round a difference is: people write round amounts, and sums of those are round, so that they meet more often. */
function grainOf(difference: Microlitres): Microlitres {
  return GRAINS.find((grain) => difference % grain === 0) ?? 1;
}
