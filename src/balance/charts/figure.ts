/**
 * A charted figure beside the ledger's, with what the ledger's is made of.
 *
 * Invariant: `difference` is charted less ledger. For a question about a total it is only what the figures
 * charted above it leave open, and `counted` only what none of them covers.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { Instant } from "../../time/instant.js";
import { isUnder, type LedgerItem, type RowName } from "./chart.js";

export type Side = "intake" | "output" | "net";

/** An item as it counts in a figure: negative for an output in the net. */
export interface Counted {
  readonly item: LedgerItem;
  readonly volume: Microlitres;
}

/** How a figure was added up, where it is a total. */
export interface Adding {
  /** What is charted above it, signed as it was added; none where only the total is charted. */
  readonly parts: readonly (Pick<Figure, "row" | "start" | "end" | "under"> & {
    readonly volume: Microlitres;
  })[];
  /** What the ledger counts in it and no charted part covers. */
  readonly uncovered: Microlitres;
}

export interface NamedFigure {
  readonly row: RowName;
  readonly start: Instant;
  readonly end: Instant;
}

export interface Figure extends NamedFigure {
  /** The row as the ledger has it. */
  readonly under: RowName;
  /** Equal for figures of the same row. */
  readonly key: string;
  /** What the row was taken for, where the chart has another name; null otherwise. */
  readonly takenFor: string | null;
  /** The nearest names, where nothing of the row's own was in use; null otherwise. */
  readonly instead: readonly string[] | null;
  /** 0 where the figure was left empty. */
  readonly charted: Microlitres;
  readonly isEmpty: boolean;
  readonly ledger: Microlitres;
  readonly difference: Microlitres;
  readonly side: Side;
  /** Both what was taken in and what came out has its name: the side is what it is nearer to. */
  readonly isOnBothSides: boolean;
  /** All that is in it stands in no total. */
  readonly isApart: boolean;
  /** What the ledger has in it that stands in no total. */
  readonly inNoTotal: Microlitres;
  readonly counted: readonly Counted[];
  /** Within this, numbers cannot be told apart: how finely the chart is written. */
  readonly fit: Microlitres;
  readonly adding?: Adding;
}

/** An item as it would count in a figure. */
export function signedIn(figure: Figure, item: LedgerItem): Counted {
  return { item, volume: figure.side === "net" && item.direction === "output" ? -item.volume : item.volume };
}

/** Whether a row charted above a total has an item: then it shows there what becomes of it, and not in the total. */
export function isChartedAbove({ adding }: Figure, item: LedgerItem): boolean {
  return adding?.parts.some(({ under }) => isUnder(under, item)) ?? false;
}

/** Whether a figure is a sum, or a net, of which nothing else is charted. */
export function isBareSum({ adding }: Figure): boolean {
  return adding !== undefined && adding.parts.length === 0;
}

const behind = new WeakMap<Figure, readonly string[]>();

/** The entries behind a figure; gathered once. */
export function entriesOf(figure: Figure): readonly string[] {
  const known = behind.get(figure) ?? [...new Set(figure.counted.flatMap(({ item }) => item.entries))];
  behind.set(figure, known);
  return known;
}
