/**
 * A signature as it stands in an encounter's chain: the span it covers, the figures themselves, what they rest
 * on, and what was open, unknown and unmeasured. Like a period, it stands at the end of its span.
 */

/** What a figure is of: a line's volume, a category of intake or output, the net, or what nobody measured. */
export type FigureOf = "volume" | "intake" | "output" | "net" | "unmeasured";

export interface FigureRowText {
  readonly of: FigureOf;
  /** The line or category; null for the net, and where none is known. */
  readonly key: string | null;
  readonly label: string;
  /** Per interval: mL, or how often nobody measured. */
  readonly values: readonly number[];
}

export interface FiguresText {
  readonly intervals: readonly { readonly start: string; readonly end: string }[];
  /** Rows of which something is not 0. */
  readonly rows: readonly FigureRowText[];
}

/** A reading or level that a signed figure rests on; volumes are whole ticks as text. */
export interface AnchorText {
  readonly kind: "total" | "level";
  readonly line: string | null;
  readonly total: "primary" | "secondary" | "combined" | null;
  readonly bag: string | null;
  readonly from: string;
  readonly to: string;
  readonly entry: string;
  readonly over: string;
  readonly sequence: number;
  readonly increment: string;
  readonly delivered: string | null;
  readonly computed: string | null;
  readonly shows: string;
  readonly basis: "apportioned" | "disputed";
  readonly metered: boolean;
}

/** What the figures of one channel rest on. */
export interface RestText {
  readonly channel: string;
  readonly from: string;
  readonly to: string;
  /** SHA-256 of what happened on the channel from `from` to `to`, and of what was read by then. */
  readonly course: string;
  readonly anchors: readonly AnchorText[];
}

export interface OpenText {
  readonly finding: string;
  readonly code: string;
  readonly sentence: string;
}

export interface ShiftSignedText {
  readonly kind: "shift-signed";
  /** Up to when it covers. */
  readonly at: string;
  readonly from: string;
  /** The stay begins there: what is charted at that very instant is covered too. */
  readonly fromAdmission?: true;
  /** Such as `2026-03-04/day`. */
  readonly shift: string;
  /** The unit whose time it was, as of then: a signature covers that of one unit alone. */
  readonly unit: string;
  /** SHA-256 of the figures. */
  readonly digest: string;
  /** The version of the calculation that made them. */
  readonly calculation: string;
  readonly figures: FiguresText;
  /** The conventions in force, one after the other where they change. */
  readonly conventions: readonly object[];
  readonly rests: readonly RestText[];
  /** Findings that were open. */
  readonly open: readonly OpenText[];
  /** Minutes of which nobody knows what flowed, by line. */
  readonly unknown: readonly {
    readonly key: string | null;
    readonly label: string;
    readonly minutes: number;
  }[];
  readonly remark?: string;
}
