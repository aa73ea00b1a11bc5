/**
 * Bodies of entries that the ledger writes by itself: what changes figures from outside the list of
 * clinical facts. A station carries all conventions of its unit, so that an encounter's chain alone
 * determines every figure of it.
 */

import type { ChartBody } from "./charts.js";
import type { PostedEntry } from "./entry.js";
import type { SettingsText, ShiftText, SomeSettingsText } from "./settings.js";
import type { ShiftSignedText } from "./signed.js";

export interface ChangeText {
  readonly effectiveFrom: string;
  readonly settings?: SomeSettingsText;
  readonly shifts?: readonly ShiftText[];
}

/** A unit's conventions when the patient arrived, with the changes it had already decided. */
export interface StationText {
  readonly zone: string;
  readonly shifts: readonly ShiftText[];
  readonly settings: SettingsText;
  readonly changes: readonly ChangeText[];
}

export interface AdmittedText extends StationText {
  readonly kind: "admitted";
  readonly at: string;
  readonly unit: string;
  readonly bed?: string;
  readonly weight?: { readonly value: number; readonly unit: "kg" | "g" | "lb" };
  /** A digest of whom the stay is of, made with a salt; absent where an earlier release recorded it. */
  readonly patient?: string;
}

export interface MovedText extends StationText {
  readonly kind: "moved";
  readonly at: string;
  readonly unit: string;
  readonly bed?: string;
}

export interface DischargedText {
  readonly kind: "discharged";
  readonly at: string;
}

/** Somebody has seen a finding and says why it may stand; what they saw is kept. */
export interface AcknowledgedText {
  readonly kind: "finding-acknowledged";
  readonly at: string;
  /** The id of the finding. */
  readonly finding: string;
  readonly reason: string;
  readonly code: string;
  readonly severity: string;
  readonly concerns: {
    readonly shift?: string;
    readonly start: string;
    readonly end?: string;
    readonly channel: string | null;
    readonly entries: readonly string[];
  };
  readonly sentence: string;
  /** The volume that was in doubt, in mL. */
  readonly volume?: number;
}

/** Somebody kept a chart: what another record holds of a span, as it was sent. */
export interface ChartPostedText {
  readonly kind: "chart-posted";
  readonly at: string;
  /** The span it is about, whichever way it was named. */
  readonly start: string;
  readonly end: string;
  readonly chart: ChartBody;
}

export interface UnitOpenedText {
  readonly kind: "unit-opened";
  readonly name: string;
  readonly zone: string;
  readonly shifts: readonly ShiftText[];
  readonly settings: SettingsText;
}

export interface SettingsChangedText extends ChangeText {
  readonly kind: "settings-changed";
  readonly unit: string;
  readonly name?: string;
}

/** Written by the ledger in the chain of an encounter or unit, never posted. */
export type LedgerText =
  | AdmittedText
  | MovedText
  | DischargedText
  | AcknowledgedText
  | ShiftSignedText
  | ChartPostedText
  | UnitOpenedText
  | SettingsChangedText;

export type StoredBody = PostedEntry | LedgerText;

const BY_THE_LEDGER: ReadonlySet<string> = new Set([
  "admitted",
  "moved",
  "discharged",
  "finding-acknowledged",
  "shift-signed",
  "chart-posted",
  "unit-opened",
  "settings-changed",
]);

export function isByTheLedger(body: StoredBody): body is LedgerText {
  return BY_THE_LEDGER.has(body.kind);
}
