/**
 * Why a reading may disagree: what would have to have happened for the device to show what it shows.
 * Each kind is one small file that proposes what fits the numbers; `likely.ts` ranks them.
 */

import type { Collected } from "../../infusion/collected.js";
import type { TotalJudged } from "../../infusion/evidence.js";
import type { Volume } from "../../infusion/quantity.js";
import type { State } from "../../infusion/state.js";
import type { Instant } from "../../time/instant.js";
import type { Proposal, Reported, Words } from "../finding.js";
import type { Retelling } from "./retelling.js";

export type ReasonKind =
  | "rate-change-missing"
  | "rate-change-late"
  | "pause-missing"
  | "secondary-missing"
  | "bolus-missing"
  | "bag-missing"
  | "entry-wrong"
  | "clear-missing"
  | "read-before-clear"
  | "other-total"
  | "other-channel"
  | "digits"
  | "time-of-reading"
  | "segments-say";

/** What a reading is explained from: the course since the mark its increment is over, up to the reading. */
export interface Disagreeing {
  readonly reading: TotalJudged;
  /** Flows and the rest on all channels, from the mark to the reading. */
  readonly collected: Collected;
  /** What counts on any channel from the mark to the reading, in order. */
  readonly entries: readonly Reported[];
  /** At the reading, before it. */
  readonly state: State;
  /** What is told again with what a reason proposes. */
  readonly retelling: Retelling;
  /** Now: nothing can have happened later. */
  readonly until: Instant;
  readonly words: Words;
}

export interface Reason {
  readonly kind: ReasonKind;
  /** What the reading would still differ by if this had happened; smaller fits better. */
  readonly remaining: Volume;
  /** How usual it is, how round its numbers are: lower is likelier. A whole number, only compared. */
  readonly unlikeliness: number;
  /** What may have happened, in a sentence with the numbers. */
  readonly sentence: string;
  /** Entries that would settle it, to be recorded together. */
  readonly proposals: readonly Proposal[];
}

/** Reasons in order of likelihood; those that cannot be told apart share a place. */
export interface Ranked {
  readonly place: number;
  readonly tied: boolean;
  readonly reason: Reason;
}
