/**
 * Postings: the single amounts that every figure of a balance is a sum of. Each is rounded once, where it is
 * made; so whatever is summed over them, rows, hours, shifts or sides, adds up as it is shown.
 */

import type { Settings } from "../conventions/settings.js";
import type { IntakeCategory, OutputCategory, TotalName } from "../infusion/entry.js";
import type { FlowRole } from "../infusion/flow.js";
import type { Volume } from "../infusion/quantity.js";
import type { Instant } from "../time/instant.js";
import type { AwaySpan } from "./away.js";
import type { Certainty } from "./certainty.js";

export type Side = "intake" | "output";
export type Category = IntakeCategory | OutputCategory;

/** What a posting counts under within its category. */
export interface Part {
  /** Of an intake: the line it went in by, and under what role a channel gave it. */
  readonly line: string | null;
  readonly role: FlowRole | null;
  /** Of an intake: what it was, a fluid or something taken in. */
  readonly item: string | null;
  /** Of an output: the drain, tube or chamber it came by. */
  readonly site: string | null;
  /** Of what no bag or flow accounts for: the channel that gave it. */
  readonly channel: string | null;
  /** Of an intake: the share of what was taken in that counts, in thousandths. */
  readonly share: number;
}

/** Why an amount stands outside the hours: from before the admission, or from a time away. */
export type Outside = "before-admission" | AwaySpan;

/** What a posting rests on, for whoever asks which entries a figure is made of. */
export interface Origin {
  /** The ids of the entries that say so; none where nobody knows. */
  readonly entries: readonly string[];
  /** When it came; of what flowed, when it last did in its cell. */
  readonly at: Instant;
  /** Of what a channel gave: the channel, the running total that counts it, and the bag it drew. */
  readonly channel: string | null;
  readonly total: TotalName | null;
  readonly bag: string | null;
  /** All that came, where less counts: ice before its share, output before what is taken off. */
  readonly whole: Volume | null;
}

export interface Posting {
  readonly side: Side;
  /** Null for fluid of which nobody knows what it is. */
  readonly category: Category | null;
  readonly part: Part;
  /** The index of its interval; null for what came before the period. */
  readonly interval: number | null;
  /** Null for what stands in the hours. */
  readonly outside: Outside | null;
  /** Whole microlitres, rounded; and before that. */
  readonly shown: number;
  readonly exact: Volume;
  readonly certainty: Certainty;
  /** Since when it was collected or given, of what stands at one instant for a span. */
  readonly since: Instant | null;
  /** How many times something is left out here that nobody measured. */
  readonly leftOut: number;
  /** Whether the unit has it inside the totals. */
  readonly counts: boolean;
  readonly origin: Origin;
}

export const NO_PART: Part = { line: null, role: null, item: null, site: null, channel: null, share: 1_000 };

/** The origin of what one entry charts at an instant. */
export function chartedBy(entry: string, at: Instant, whole: Volume | null): Origin {
  return { entries: [entry], at, channel: null, total: null, bag: null, whole };
}

/** Whether a category is inside the totals, by what a unit has set. */
export function isCounted(category: Category | null, { counts }: Settings): boolean {
  if (category === "blood-product") return counts.bloodProducts;
  return category !== "iv-flush" || counts.flushes;
}
