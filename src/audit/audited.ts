/**
 * What is known of one encounter's part of a shift: all that any measure of the audit is taken from, gathered
 * once. Measures are pure: this in, a value out.
 */

import type { LedgerItem } from "../balance/charts/chart.js";
import type { ComparedFigure } from "../balance/charts/compared.js";
import type { Irrigation } from "../balance/irrigation.js";
import type { Posting } from "../balance/posting.js";
import type { Settings } from "../conventions/settings.js";
import type { Reported } from "../findings/finding.js";
import type { Apportioned } from "../infusion/apportion.js";
import type { Collected } from "../infusion/collected.js";
import type { SegmentJudged } from "../infusion/evidence.js";
import type { State } from "../infusion/state.js";
import type { Instant, Period } from "../time/instant.js";

export interface Audited {
  /** The part of the shift in which the patient was in the unit, as far as it has come. */
  readonly span: Period;
  /** Those at the start of the span. */
  readonly settings: Settings;
  readonly settingsAt: (at: Instant) => Settings;
  /** Whether what is charted at an instant belongs to the span, by the unit's rule of the boundary. */
  readonly has: (at: Instant) => boolean;
  /** What counts of what happened in the span, in order. */
  readonly entries: readonly Reported[];
  /** The corrections there are of what happened in it. */
  readonly corrections: readonly ("amended" | "voided")[];
  /** What the course handed out over the span and a few minutes after it, in which a clear may still be read. */
  readonly collected: Collected;
  /** What devices told in segments since the totals cleared in it were last read. */
  readonly segments: readonly SegmentJudged[];
  /** When that ends, and how things stand then. */
  readonly until: Instant;
  readonly state: State;
  /** The spans of which nobody knows what flowed, once what was read is allowed for. */
  readonly unknown: Apportioned["unknown"];
  /** What counts in the balance of the span. */
  readonly postings: readonly Posting[];
  readonly irrigation: readonly Irrigation[];
  /** How often a site was emptied of less than had been put in. */
  readonly exceeding: number;
  readonly signed: readonly SignedPart[];
  /** The last chart kept of every span that lies in this one. */
  readonly charts: readonly ChartBeside[];
  /** Whether nobody wrote down what the patient weighs by the end of the span. */
  readonly weightMissing: boolean;
  readonly broughtForward: BroughtForward | null;
}

/** A span that somebody signed, and by how much its figures are others now. */
export interface SignedPart extends Period {
  /** How many figures are others now. */
  readonly moved: number;
  /** By how many whole microlitres the one that moved most. */
  readonly most: number;
}

/** A kept chart beside what the ledger has. */
export interface ChartBeside {
  readonly figures: readonly ComparedFigure[];
  /** What the ledger's side is made of. */
  readonly items: readonly LedgerItem[];
}

/** What the span's balance starts from; null where the stay begins in the span. */
export interface BroughtForward {
  /** Whether nothing of it is left out or in doubt. */
  readonly known: boolean;
  /** From when on, up to the start of the span, that is so. */
  readonly since: Instant;
}

/** How much of a period lies in the span, in milliseconds. */
export function within({ span }: Pick<Audited, "span">, { start, end }: Period): number {
  return Math.max(0, Math.min(span.end, end) - Math.max(span.start, start));
}
