/**
 * A way to explain a difference: one slip or two, that together make the difference and contradict nothing else
 * that is charted.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { Figure } from "./figure.js";
import type { Sheet } from "./sheet.js";
import type { Slip } from "./slip.js";

export interface Way {
  /** The one that accounts for most comes first. */
  readonly slips: readonly Slip[];
  /** What is left of the difference. */
  readonly remaining: Microlitres;
  readonly rarity: number;
  /** Other figures that differ, and that it explains as well. */
  readonly settles: readonly Figure[];
}

/** What slips add to a figure, together. */
export function effectOn(figure: Figure, slips: readonly Slip[]): Microlitres {
  return slips.reduce((sum, { effects }) => sum + (effects.get(figure) ?? 0), 0);
}

/** Whether two numbers of a figure cannot be told apart. */
export function isNear(a: Microlitres, b: Microlitres, { fit }: Figure): boolean {
  return Math.abs(a - b) <= fit;
}

/** Whether slips make the difference of a figure. */
export function fits(figure: Figure, slips: readonly Slip[]): boolean {
  return isNear(figure.difference, effectOn(figure, slips), figure);
}

export interface Elsewhere {
  readonly settles: readonly Figure[];
  /** Figures in which slips would show and do not. */
  readonly contradicts: readonly Figure[];
}

/** What slips do to figures other than the one in question. */
export function elsewhere(figure: Figure, slips: readonly Slip[], { tolerance }: Sheet): Elsewhere {
  const others = new Set(slips.flatMap(({ effects }) => [...effects.keys()]));
  others.delete(figure);
  const settles: Figure[] = [];
  const contradicts: Figure[] = [];
  for (const other of others) {
    const effect = effectOn(other, slips);
    if (Math.abs(effect) <= other.fit) continue;
    if (!isNear(other.difference, effect, other)) contradicts.push(other);
    else if (Math.abs(other.difference) > tolerance) settles.push(other);
  }
  return { settles, contradicts };
}

/** How much rarer a second slip makes it than both are alone. */
const TOGETHER = 5;
/** How much rarer it is to be off by as much as rounding allows than by nothing. */
const OFF = 2;

export function wayOf(figure: Figure, slips: readonly Slip[], settles: readonly Figure[]): Way {
  const sorted = [...slips].sort(
    (a, b) => Math.abs(effectOn(figure, [b])) - Math.abs(effectOn(figure, [a])) || a.rarity - b.rarity,
  );
  const remaining = figure.difference - effectOn(figure, slips);
  const off = Math.floor((OFF * Math.abs(remaining)) / figure.fit);
  return { slips: sorted, remaining, settles, rarity: rarityOf(slips) + off };
}

/** A way as it is told of a figure: what does nothing there explains nothing there. */
export function shownIn(figure: Figure, way: Way): Way {
  const slips = way.slips.filter((slip) => effectOn(figure, [slip]) !== 0);
  return slips.length === way.slips.length ? way : { ...way, slips };
}

/** How rare it is that slips come together, whatever they explain. */
export function rarityOf(slips: readonly Slip[]): number {
  return slips.reduce((sum, { rarity }) => sum + rarity, TOGETHER * (slips.length - 1));
}
