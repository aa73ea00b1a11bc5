/** What a figure of the shift page is, for who asks why: enough to explain it from the sheet or to ask the API. */

import type { BalanceRow, Certainty, ChannelTotals, RunningTotal } from "../api/shapes.js";

/** A row that a sum is made of. */
export interface Summand {
  readonly name: string;
  readonly value: number;
}

interface Figure {
  readonly name: string;
  readonly value: number;
  /** The period of the figure. */
  readonly from: string;
  readonly to: string;
  /** How sure it is; absent where that is said in another way. */
  readonly certainty?: Certainty;
}

export type Asked =
  /** A volume that the API takes apart: of a line, or of a bag since it was hung. */
  | (Figure & { readonly of: "volume"; readonly per: "line" | "bag"; readonly row: string | null })
  /** A category of the balance in one interval; null for the whole shift. */
  | (Figure & {
      readonly of: "category";
      readonly side: "intake" | "output";
      readonly row: BalanceRow;
      readonly index: number | null;
    })
  | (Figure & { readonly of: "sum"; readonly summands: readonly Summand[] })
  | (Figure & { readonly of: "net"; readonly intake: number; readonly output: number })
  | (Figure & { readonly of: "cumulative"; readonly before: number; readonly beside: number })
  | {
      readonly of: "expected";
      readonly channel: ChannelTotals;
      readonly total: RunningTotal;
    };

/** The same of a figure of the tables. */
export type AskedFigure = Exclude<Asked, { readonly of: "expected" }>;

/** Asks why a figure is what it is. */
export type Ask = (asked: Asked) => void;
