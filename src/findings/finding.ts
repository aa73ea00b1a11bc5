/**
 * What a person should look at. A finding hangs on what caused it, never on times or numbers, so that it
 * is the same one however often everything is computed again.
 *
 * Rules are pure: evidence in, findings out. The words they use for times and volumes are handed in,
 * since those depend on the unit's zone.
 */

import type { ComparedChart } from "../balance/charts/compared.js";
import type { Settings } from "../conventions/settings.js";
import type { Collected } from "../infusion/collected.js";
import type { Entry, Placed, TotalName } from "../infusion/entry.js";
import type { SegmentJudged } from "../infusion/evidence.js";
import type { Rate, Volume } from "../infusion/quantity.js";
import type { State } from "../infusion/state.js";
import type { Instant } from "../time/instant.js";

export type FindingCode =
  | "totals-at-risk"
  | "totals-lost"
  | "unrecorded-clear"
  | "reading-disagrees"
  | "no-reading-at-shift-end"
  | "bag-ran-dry"
  | "bag-overdrawn"
  | "bag-unaccounted"
  | "flow-without-bag"
  | "end-unconfirmed"
  | "pause-not-ended"
  | "flow-unattended"
  | "keep-open-running"
  | "secondary-not-ended"
  | "primary-not-clamped"
  | "line-removed-running"
  | "rate-implausible"
  | "dose-rate-disagrees"
  | "time-implausible"
  | "late-entry"
  | "possible-duplicate"
  | "output-gap"
  | "weight-missing"
  | "weight-implausible"
  | "entry-without-effect"
  | "irrigant-exceeds-output"
  | "chart-differs"
  | "shift-unsigned"
  | "signed-shift-changed";

/** A question waits for an answer, attention for a look, a note for nothing. */
export type Severity = "question" | "attention" | "note";

type Without<E, K extends string> = E extends unknown ? Omit<E, K> : never;

/** An entry that would settle something, as the calculation sees entries; what is to be read off is left out. */
export type Proposal =
  | { readonly do: "record"; readonly entry: Entry }
  /** A reading whose number is to be read off the device or the bag. */
  | { readonly do: "read"; readonly entry: Without<Extract<Entry, { kind: "total-read" }>, "volume"> }
  | { readonly do: "amend"; readonly target: string; readonly replacement: Entry; readonly reason: string }
  | { readonly do: "void"; readonly target: string; readonly reason: string };

export interface Settlement {
  readonly text: string;
  /** Entries that would settle it, to be recorded together. */
  readonly proposals?: readonly Proposal[];
}

export interface Found {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** What its identity hangs on: the id of the original entry, or a shift such as `2026-03-04/day`. */
  readonly subject: string;
  readonly channel: string | null;
  /** Whether more or less was delivered than was computed, of what tells that. */
  readonly says?: "more" | "less";
  /** The running totals it is about, where it is about some. */
  readonly totals?: readonly TotalName[];
  readonly shift?: string;
  readonly start: Instant;
  readonly end?: Instant;
  /** The ids of the entries it is about, the one it hangs on first. */
  readonly entries: readonly string[];
  /** The volume that is in doubt, by whose growth an acknowledged finding opens again; null without one. */
  readonly volume: Volume | null;
  /** Why, in plain words with the numbers. */
  readonly sentence: string;
  readonly settledBy: readonly Settlement[];
}

/** Identity: code, channel and what it hangs on, in characters that an address can hold. */
export function idOfFinding({ code, channel, subject }: Found): string {
  return [code, channel ?? "-", subject].join("~").replaceAll("/", ":");
}

/** How times and volumes are said where the patient was. */
export interface Words {
  /** Such as "09:10", with the date where it is another day than that of the answer. */
  time(at: Instant): string;
  /** The words of a sentence that said the day of an instant already: times of that day carry no date. */
  on(at: Instant): Words;
  /** Such as "137.5 mL". */
  volume(volume: Volume): string;
  /** Such as "75 mL/h". */
  rate(rate: Rate): string;
  /** Such as "2 h 10 min", or "1 d 4 h". */
  duration(milliseconds: number): string;
}

/** An entry that counts, and how it was recorded. */
export interface Reported {
  readonly placed: Placed;
  readonly recordedAt: Instant;
  /** Who recorded it: the id of the account or token. */
  readonly by: string;
}

/** A shift that has ended, as things were at its end. */
export interface ShiftEnd {
  /** Such as `2026-03-04/day`. */
  readonly shift: string;
  readonly start: Instant;
  readonly end: Instant;
  readonly state: State;
}

/** A kept chart, the last of its span, beside the ledger as far as both had come. */
export interface ChartCompared extends ComparedChart {
  readonly chart: string;
  readonly source: string | null;
  readonly start: Instant;
  readonly end: Instant;
  /** The shift it is about, where it is one. */
  readonly shift: string | null;
}

/** Time for which a signature stands, and what became of its figures since. */
export interface SignedSpan {
  /** The id of the signature; of one there may be several spans. */
  readonly entry: string;
  readonly shift: string;
  readonly start: Instant;
  readonly end: Instant;
  readonly signedAt: Instant;
  /** The name of who signed. */
  readonly by: string;
  /** How many of its figures are others now, and by how much the one that moved most; null where none is. */
  readonly moved: { readonly figures: number; readonly most: Volume } | null;
  /** Why it no longer speaks for this time, whatever its figures are, and the unit whose time it is; null where it does. */
  readonly lost: { readonly why: "other-unit" | "hour-cut"; readonly unit: string } | null;
}

/** What rules judge: everything handed out over a span of time, and how things stand at its end. */
export interface Evidence {
  readonly from: Instant;
  readonly until: Instant;
  readonly settingsAt: (at: Instant) => Settings;
  readonly collected: Collected;
  /** Those of `collected`, judged by what flowed in them. */
  readonly segments: readonly SegmentJudged[];
  /** In the order in which they count. */
  readonly entries: readonly Reported[];
  /** At `from`, before any entry at that instant. */
  readonly before: State;
  /** At `until`. */
  readonly state: State;
  readonly shiftEnds: readonly ShiftEnd[];
  /** The shift in which something happened, such as `2026-03-04/day`, whether it has ended or not. */
  readonly shiftAt: (at: Instant) => string;
  /** The shift in which the stay ended, as far as the patient was there; null while the stay lasts. */
  readonly leftIn: Omit<ShiftEnd, "state"> | null;
  /** In order of their spans; none stands twice. */
  readonly signed: readonly SignedSpan[];
  readonly charts: readonly ChartCompared[];
  readonly words: Words;
}

/**
 * One rule. `recording` rules need only what an entry changes, and are run whenever something is recorded;
 * `asking` rules look at how things stand or over whole shifts, and are run when findings are asked for.
 */
export interface Rule {
  readonly code: FindingCode;
  readonly runs: "recording" | "asking";
  find(evidence: Evidence): Found[];
}
