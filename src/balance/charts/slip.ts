/**
 * A slip: one thing that may have gone wrong when the chart was written, and what it does to which figures.
 *
 * Invariant: a slip is made of what the ledger knows, never of the difference it is to explain. Only where a
 * total and the figures above it are both charted does the chart itself say how far the addition is off.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { ChartWords, LedgerItem } from "./chart.js";
import type { Figure } from "./figure.js";
import type { Portion } from "./portions.js";
import type { Sheet } from "./sheet.js";

export type SlipKind =
  | "left-out"
  | "carrier-left-out"
  | "counted-twice"
  | "neighbouring-interval"
  | "other-side"
  | "bag-for-delivered"
  | "ice-whole"
  | "output-whole"
  | "secondary-in-primary"
  | "unit-slip"
  | "transposed-digits"
  | "reading-not-differenced"
  | "addition-slip"
  | "outside-hours"
  | "not-in-totals"
  | "other-row"
  | "sign-turned"
  | "brought-forward";

export interface Slip {
  readonly kind: SlipKind;
  /** The items it happened to; none for a slip of the figure as a whole. No item has two slips at once. */
  readonly items: readonly LedgerItem[];
  /** Entries besides those of its items. */
  readonly besides?: readonly string[];
  /** What it adds to charted figures, in µL; figures it leaves alone are absent. */
  readonly effects: ReadonlyMap<Figure, Microlitres>;
  /** Tenths on a scale of rarity: 10 is what is seen daily. Estimates, only compared. */
  readonly rarity: number;
  /** The figures of the chart alone show it: it cannot be there by chance. */
  readonly certain?: true;
  /** Something quite other may look the same and is as usual: alone it is named, and never claimed. */
  readonly doubtful?: true;
  readonly tell: (words: ChartWords) => string;
}

/** What a kind of slip is looked for in. */
export interface Asked {
  readonly figure: Figure;
  /** What may be left out, doubled or moved as one. */
  readonly portions: readonly Portion[];
  readonly sheet: Sheet;
}

/** All slips of a kind that would change the figure. */
export type FindSlips = (asked: Asked) => Iterable<Slip>;

/** The effects of a slip that shows in one figure. */
export function oneEffect(figure: Figure, effect: Microlitres): ReadonlyMap<Figure, Microlitres> {
  return new Map([[figure, effect]]);
}

/** The effects of a portion's volumes, times a factor. */
export function times(volumes: ReadonlyMap<Figure, Microlitres>, factor: number): Map<Figure, Microlitres> {
  return new Map([...volumes].map(([figure, volume]) => [figure, factor * volume]));
}

/** Whether items are one number on a chart: one alone, or what a channel gave of one kind. */
export function isWrittenAsOne(items: readonly LedgerItem[]): boolean {
  const { channel, category } = items[0]!;
  if (items.length === 1) return true;
  return (
    channel !== undefined && items.every((item) => item.channel === channel && item.category === category)
  );
}

/** Whether two would be one and the same slip. */
export function isSame(a: Slip, b: Slip): boolean {
  if (a === b) return true;
  if (a.kind !== b.kind || a.items.length !== b.items.length || a.effects.size !== b.effects.size)
    return false;
  const areEqual = [...a.effects].every(([figure, effect]) => b.effects.get(figure) === effect);
  return areEqual && a.items.every((item) => b.items.includes(item));
}
