/**
 * Entries: the clinical facts of one encounter, as the calculation sees them. Every kind of
 * domain entry is one member of the union `Entry`; nothing here knows how an entry is written down.
 *
 * Volumes are whole microlitres (`Microlitres`), rates whole microlitres per hour (`Rate`), times
 * instants. A dose has already become a rate, and drops per minute too, when the entry was recorded.
 */

import type { Instant } from "../time/instant.js";
import type { BodyWeight } from "./body-weight.js";
import type { Additive } from "./concentration.js";
import type { Rate } from "./quantity.js";

/** A written-down volume in whole microlitres (mL with at most three decimals). */
export type Microlitres = number;

/** How a level was told, from the surest to the vaguest. */
export type LevelMethod = "weighed" | "scale" | "estimate";
export type Role = "primary" | "secondary";
export type TotalName = "primary" | "secondary" | "combined";
export type ClearingEvent = "therapy-change" | "new-secondary" | "disconnect" | "power-off";
export type ChannelType = "pump" | "syringe" | "gravity" | "metered";
export type Route =
  | "intravenous"
  | "arterial"
  | "enteral"
  | "subcutaneous"
  | "epidural"
  | "intraosseous"
  | "irrigation";
export type IntakeCategory =
  | "iv-fluid"
  | "iv-medication"
  | "iv-push"
  | "iv-flush"
  | "blood-product"
  | "parenteral-nutrition"
  | "oral"
  | "enteral-feed"
  | "enteral-water"
  | "other-intake";
export type OutputCategory =
  | "urine"
  | "gastric"
  | "emesis"
  | "stool"
  | "drain"
  | "chest-drain"
  | "blood-loss"
  | "fluid-removal"
  | "other-output";

export interface Fluid {
  readonly name: string;
  readonly category: IntakeCategory;
  readonly code?: string;
}

/** What a flow runs at; `unknown` is a gravity set wide open, or one nobody timed. */
export type FlowRate = Rate | "unknown";

/** How much is to be infused: a volume, `none` for no limit, or `bag` for what the bag holds. */
export type VolumeToInfuse = Microlitres | "none" | "bag";

/** What every entry carries besides its kind. */
interface Happened {
  readonly at: Instant;
  /** Decides first among entries at one instant; 0 unless given. */
  readonly order?: number;
}

interface OnChannel extends Happened {
  readonly channel: string;
}

/** What can clear running totals. */
interface Clearing extends OnChannel {
  /** A reason was given for not reading them first. */
  readonly leaveUncaptured?: boolean;
}

export type StopReason = "by-clinician" | "alarming" | "switching-source" | "not-specified";

export interface LinePlaced extends Happened {
  readonly kind: "line-placed";
  readonly line: string;
  readonly label?: string;
  readonly site?: string;
  readonly route: Route;
}
export interface LineRemoved extends Happened {
  readonly kind: "line-removed";
  readonly line: string;
}
export interface ChannelConnected extends Clearing {
  readonly kind: "channel-connected";
  readonly line: string;
  readonly type: ChannelType;
  readonly totals: "separate" | "combined" | "none";
  readonly clearsOn: readonly ClearingEvent[];
  readonly device?: string;
  /** The step of its rates in whole microlitres per hour. */
  readonly rateStep?: number;
  /** Whole drops per millilitre of a gravity set. */
  readonly dropFactor?: number;
}
export interface ChannelDisconnected extends Clearing {
  readonly kind: "channel-disconnected";
}
export interface BagHung extends OnChannel {
  readonly kind: "bag-hung";
  readonly bag: string;
  readonly role: Role;
  readonly fluid: Fluid;
  /** What the label says. */
  readonly volume: Microlitres;
  readonly remaining?: Microlitres;
  readonly additives?: readonly Additive[];
}
export interface BagTakenDown extends Happened {
  readonly kind: "bag-taken-down";
  readonly bag: string;
  readonly remaining?: Microlitres;
  readonly method?: LevelMethod;
}
export interface BagLevelRead extends Happened {
  readonly kind: "bag-level-read";
  readonly bag: string;
  readonly remaining: Microlitres;
  readonly method?: LevelMethod;
  /** From when on the bag holds so much, where what flowed until then was signed when it was recorded. */
  readonly countsFrom?: Instant;
}
export interface BagAdjusted extends Happened {
  readonly kind: "bag-adjusted";
  readonly bag: string;
  /** Signed: what was added to (or, negative, taken from) the bag's contents. */
  readonly volume: Microlitres;
}
/** A flow told by a rate, perhaps with a dose beside it. */
interface Told extends OnChannel {
  readonly rate: FlowRate;
  /** What the dose alone would come to, where both were told; the rate is what flows. */
  readonly doseRate?: Rate;
}

export interface FlowStarted extends Told {
  readonly kind: "flow-started";
  readonly volumeToInfuse: VolumeToInfuse;
  readonly keepOpenRate?: Rate;
}
export interface RateChanged extends Told {
  readonly kind: "rate-changed";
  readonly role: Role;
}
export interface VolumeToInfuseSet extends OnChannel {
  readonly kind: "volume-to-infuse-set";
  readonly role: Role;
  readonly volumeToInfuse: VolumeToInfuse;
}
export interface FlowPaused extends OnChannel {
  readonly kind: "flow-paused";
}
export interface FlowResumed extends OnChannel {
  readonly kind: "flow-resumed";
}
export interface FlowStopped extends OnChannel {
  readonly kind: "flow-stopped";
}
export interface SecondaryStarted extends Clearing, Told {
  readonly kind: "secondary-started";
  readonly volumeToInfuse: VolumeToInfuse;
  readonly whenDone: "resume-primary" | "wait";
  /** Whether the primary's tubing was clamped meanwhile, where somebody said so. */
  readonly primaryClamped?: boolean;
}
export interface SecondaryEnded extends OnChannel {
  readonly kind: "secondary-ended";
}
export interface BolusStarted extends OnChannel {
  readonly kind: "bolus-started";
  readonly rate: Rate;
  readonly volume: Microlitres;
  readonly whenDone: "return" | "wait";
}
export interface BolusStopped extends OnChannel {
  readonly kind: "bolus-stopped";
}
export interface DeliveryLost extends OnChannel {
  readonly kind: "delivery-lost";
  /** The span in which it was lost: half-open, not empty. */
  readonly from: Instant;
  readonly to: Instant;
  readonly volume: Microlitres | "unknown";
  readonly reason: "leaked" | "disconnected" | "infiltrated" | "other";
}
export interface TotalRead extends OnChannel {
  readonly kind: "total-read";
  readonly total: TotalName;
  readonly volume: Microlitres;
  readonly position?: "before" | "after";
  /** The device was looked at again. */
  readonly confirmed?: boolean;
  /** What a person decided to use where it disagrees. */
  readonly settled?: "reading" | "computed";
}
export interface TotalsReset extends Clearing {
  readonly kind: "totals-reset";
  readonly totals: readonly TotalName[];
  /** Somebody set them to zero, unless the device was switched off. */
  readonly cause?: "by-hand" | "power-off";
  /** Where nobody knows when: the latest it can have been, `at` being the earliest. */
  readonly latest?: Instant;
}
export interface TherapyChanged extends Clearing {
  readonly kind: "therapy-changed";
}
export interface VarianceSettled extends Happened {
  readonly kind: "variance-settled";
  readonly reading: string;
  readonly use: "reading" | "computed";
}
/** So many of a household measure, whose volume is a convention of the unit. */
export interface HouseholdMeasure {
  readonly name: string;
  /** Thousandths of how many. */
  readonly count: number;
}
export interface IntakeMeasured extends Happened {
  readonly kind: "intake-measured";
  readonly category: IntakeCategory;
  /** Nothing when given as a household measure. */
  readonly volume?: Microlitres;
  readonly measure?: HouseholdMeasure;
  readonly line?: string;
  readonly item?: string;
  /** The start of a period that ends at `at`. */
  readonly from?: Instant;
}
export interface OutputMeasured extends Happened {
  readonly kind: "output-measured";
  readonly category: OutputCategory;
  /** Which drain or tube it came by. */
  readonly site?: string;
  /** Exactly one of the four says how much; occurrences, that nobody measured it. */
  readonly volume?: Microlitres;
  readonly measure?: HouseholdMeasure;
  /** Whole milligrams. */
  readonly weighed?: { readonly wet: number; readonly dry: number };
  readonly occurrences?: number;
  /** What of it was given back. */
  readonly returned?: Microlitres;
  /** The start of a period that ends at `at`. */
  readonly from?: Instant;
}
export interface IrrigantInstilled extends Happened {
  readonly kind: "irrigant-instilled";
  readonly site: string;
  readonly volume: Microlitres;
}
export interface ChamberPlaced extends Happened {
  readonly kind: "chamber-placed";
  readonly chamber: string;
  readonly category: OutputCategory;
  /** What it held when placed; nothing unless given. */
  readonly level?: Microlitres;
}
export interface ChamberRead extends Happened {
  readonly kind: "chamber-read";
  readonly chamber: string;
  readonly category?: OutputCategory;
  readonly level: Microlitres;
  /** The chamber was looked at again. */
  readonly confirmed?: boolean;
}
export interface ChamberEmptied extends Happened {
  readonly kind: "chamber-emptied";
  readonly chamber: string;
  readonly category?: OutputCategory;
  /** What it held; absent, nobody looked. */
  readonly level?: Microlitres;
  /** A reason was given for not reading it first. */
  readonly leaveUncaptured?: boolean;
}
export interface AwayStarted extends Happened {
  readonly kind: "away-started";
  readonly place: string;
  readonly flows: "go-on" | "unknown";
}
export interface AwayEnded extends Happened {
  readonly kind: "away-ended";
}
export interface WeightMeasured extends Happened {
  readonly kind: "weight-measured";
  readonly weight: BodyWeight;
}
export interface SegmentRead extends OnChannel {
  readonly kind: "segment-read";
  readonly start: Instant;
  readonly volume: Microlitres;
  /** The device was looked at again. */
  readonly confirmed?: boolean;
  /** What a person decided to use where it disagrees. */
  readonly settled?: "reading" | "computed";
}

/** Written by the ledger itself: the stay begins, changes unit, ends. */
export interface Admitted extends Happened {
  readonly kind: "admitted";
  readonly weight?: BodyWeight;
}
export interface Moved extends Happened {
  readonly kind: "moved";
}
export interface Discharged extends Happened {
  readonly kind: "discharged";
}

export type Entry =
  | LinePlaced
  | LineRemoved
  | ChannelConnected
  | ChannelDisconnected
  | BagHung
  | BagTakenDown
  | BagLevelRead
  | BagAdjusted
  | FlowStarted
  | RateChanged
  | VolumeToInfuseSet
  | FlowPaused
  | FlowResumed
  | FlowStopped
  | SecondaryStarted
  | SecondaryEnded
  | BolusStarted
  | BolusStopped
  | DeliveryLost
  | TotalRead
  | TotalsReset
  | TherapyChanged
  | VarianceSettled
  | IntakeMeasured
  | OutputMeasured
  | IrrigantInstilled
  | ChamberPlaced
  | ChamberRead
  | ChamberEmptied
  | AwayStarted
  | AwayEnded
  | WeightMeasured
  | SegmentRead
  | Admitted
  | Moved
  | Discharged;

export type EntryKind = Entry["kind"];

export type Source = "person" | "device";

/**
 * An entry that counts (not voided, with its last amendment applied) and what places it among
 * others: `sequence` is that of the original, so an amended entry keeps its place among ties.
 */
export interface Placed<E extends Entry = Entry> {
  readonly id: string;
  readonly sequence: number;
  readonly source: Source;
  readonly entry: E;
}
