/**
 * A charted figure beside the ledger's, with what the ledger's is made of.
 *
 * Invariant: `difference` is charted less ledger. For a question about a total it is only what the figures
 * charted above it leave open, and `counted` only what none of them covers.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { Instant } from "../../time/instant.js";
import type { LedgerItem, RowName } from "./chart.js";

export type Side = "intake" | "output" | "net";

/** An item as it counts in a figure: negative for an output in the net. */
export interface Counted {
  readonly item: LedgerItem;
  readonly volume: Microlitres;
}

/** How a figure was added up, where it is a total. */
export interface Adding {
  /** The volumes charted above it, signed as they were added; none where only the total is charted. */
  readonly parts: readonly { readonly row: RowName; readonly volume: Microlitres }[];
  /** What the ledger counts in it and no charted part covers. */
  readonly uncovered: Microlitres;
}

export interface Figure {
  readonly row: RowName;
  readonly start: Instant;
  readonly end: Instant;
  readonly charted: Microlitres;
  readonly ledger: Microlitres;
  readonly difference: Microlitres;
  readonly side: Side;
  readonly counted: readonly Counted[];
  /** Within this, numbers cannot be told apart: how finely the chart is written. */
  readonly fit: Microlitres;
  readonly adding?: Adding;
}

/** An item as it would count in a figure. */
export function signedIn(figure: Figure, item: LedgerItem): Counted {
  return { item, volume: figure.side === "net" && item.direction === "output" ? -item.volume : item.volume };
}
