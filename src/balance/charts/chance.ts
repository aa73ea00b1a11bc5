/**
 * Whether an explanation says anything: where so much may have happened that nearly any difference would be
 * explained, that one of them fits is chance, and to name it would be guessing.
 *
 * Measured as the share of differences about as large as this one that something at least as usual would explain.
 * It is an estimate, and only compared.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { Figure } from "./figure.js";

/**
 * The most that may be explained by chance, by one slip and by two: two are rarer to begin with, so that they have to
 * fit where little else would.
 */
export const BY_CHANCE = { alone: 0.4, together: 0.15 };
/** That an explanation shows in another figure as well makes chance this much less likely. */
const IN_ANOTHER = 0.1;
/** Differences "about as large": up to twice as much, at least within this much. */
const LEAST_ABOUT: Microlitres = 60_000;

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
  const width = 2 * figure.fit + 1;
  const near = possible.filter(({ effect }) => Math.abs(effect - figure.difference) <= about);
  const sorted = [...near].sort((a, b) => a.rarity - b.rarity);
  const windows = new Set<number>();
  const upTo: { rarity: number; share: number }[] = [];
  for (const { effect, rarity } of sorted) {
    windows.add(Math.round((effect - figure.difference) / width));
    upTo.push({ rarity, share: Math.min(1, (windows.size * width) / (2 * about)) });
  }
  return (rarity, others) =>
    (upTo.findLast((one) => one.rarity <= rarity)?.share ?? 0) * IN_ANOTHER ** others;
}
