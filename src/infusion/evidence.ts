/**
 * What readings, levels and clears say about what was delivered, as the course hands it out. Each names
 * the entry it hangs on and the mark it is measured from; what the figures make of it is decided in
 * `apportion.ts`, what a person should hear of it in the findings.
 */

import type { Instant } from "../time/instant.js";
import type { Around, Comparison, Tolerance } from "./comparison.js";
import type { Clear } from "./counter.js";
import type { ChannelType, LevelMethod, OutputCategory, SegmentRead, Source, TotalName } from "./entry.js";
import type { Mark } from "./mark.js";
import type { Volume } from "./quantity.js";
import type { Outcome } from "./reading.js";

interface Evident {
  /** The id of the entry, and when it was recorded. */
  readonly entry: string;
  readonly sequence: number;
  readonly source: Source;
  readonly at: Instant;
  readonly channel: string;
  readonly type: ChannelType;
  readonly line: string | null;
}

/** A running total that was read. */
export interface TotalJudged extends Evident {
  readonly total: TotalName;
  readonly value: Volume;
  /** What the counter was expected to show. */
  readonly expected: Volume;
  readonly outcome: Outcome;
  /** The mark its increment is over. */
  readonly over: Mark;
  readonly comparison: Comparison;
  /** A reading before it that it shows to have been wrong, or whose question it takes over. */
  readonly setsAside: string | null;
  /** The clear before which it was taken, where it is charted after that: it tells what was cleared. */
  readonly before: Clear | null;
  readonly confirmed: boolean;
  /** Somebody decided about it. */
  readonly decided: boolean;
  readonly tolerance: Tolerance;
  /** A sum of totals that the channel keeps apart: it is compared, and moves nothing. */
  readonly checkOnly: boolean;
}

/** What a device counted over a segment of its own, as it was told. What flowed in it is looked up afterwards. */
export interface SegmentTold extends Evident {
  readonly start: Instant;
  readonly value: Volume;
  /** The end of the span that its charted start stands for, and what flows within the grain around its end. */
  readonly looseUntil: Instant;
  readonly around: Around;
  readonly tolerance: Tolerance;
  readonly confirmed: boolean;
  readonly settled: SegmentRead["settled"];
}

/** The same held against what was computed over it. */
export interface SegmentJudged extends SegmentTold {
  /** `looked-again`: another look at the same segment counts instead. */
  readonly outcome:
    | Extract<Outcome, "agrees" | "settled" | "disputed" | "waits" | "not-used">
    | "looked-again";
  readonly comparison: Comparison;
  /** What was computed of it by the running total that counts it. */
  readonly computedIn: Readonly<Partial<Record<TotalName, Volume>>>;
  /** Something flowed in it at a rate nobody knew: what was computed is the least it can have been. */
  readonly atLeast: boolean;
  /** The look that counts instead of this one. */
  readonly instead: string | null;
}

/** A running total that was cleared, with what only the device knew. */
export interface TotalCleared extends Evident {
  readonly total: TotalName;
  /** The latest it can have been: its own instant, unless nobody knows when it was. */
  readonly latest: Instant;
  /** The mark that what is at risk is counted from. */
  readonly over: Mark;
  /** The last one at which anybody wrote down what it showed, whether that counts or not. */
  readonly written: Mark;
  /** What the counter was expected to show. */
  readonly expected: Volume;
  /** What was computed since what was at risk is counted from, and is lost but for the computation. */
  readonly lost: Volume;
  /** Whether a reason was given for not reading it. */
  readonly leftUncaptured: boolean;
}

/** The level of a bag that was read, hanging or taken down. */
export interface LevelJudged extends Evident {
  readonly bag: string;
  readonly level: Volume;
  /** What the bag was said to hold by the computation. */
  readonly expected: Volume;
  readonly method: LevelMethod;
  /** The level (or hanging) before it, what was computed to flow since, and whether at a known rate. */
  readonly over: BagMark;
  /** What the label says, for tolerances. */
  readonly label: Volume;
  /** On a gravity set a level is what was delivered; elsewhere it is compared, and moves nothing. */
  readonly anchors: boolean;
}

/** What a chamber gained between two looks at it. */
export interface Drained {
  readonly entry: string;
  readonly sequence: number;
  readonly source: Source;
  readonly at: Instant;
  readonly chamber: string;
  readonly category: OutputCategory;
  /** The look before, what it held then, and what was read now (null where nobody looked). */
  readonly over: string;
  readonly from: Instant;
  readonly level: Volume;
  readonly shows: Volume | null;
  /** What came out since; null where nobody knows. */
  readonly volume: Volume | null;
  /** It holds less than before: it was emptied and nobody charted it, or it was misread. */
  readonly lower: boolean;
  /** A person confirmed it, or gave a reason for not looking. */
  readonly answered: boolean;
}

/** What came out of the patient, as it was charted: what of it counts is known once irrigant is taken off. */
export interface CameOut {
  readonly entry: string;
  readonly at: Instant;
  readonly category: OutputCategory;
  /** The drain, tube or chamber it came by, as it is called there; null where none is named. */
  readonly site: string | null;
  /** Since when it was collected, where that is known. */
  readonly from: Instant | null;
  /** What came, less what was given back. */
  readonly volume: Volume;
  /** How many times something came out here that nobody measured. */
  readonly leftOut: number;
  /** Its site holds nothing afterwards. */
  readonly emptied: boolean;
  /** What a chamber gained between two looks at it: it counts on, and is no amount of its own. */
  readonly ofChamber: boolean;
}

/** A bag taken down without saying what was left in it. */
export interface BagGone extends Evident {
  readonly bag: string;
  readonly expected: Volume;
  readonly label: Volume;
}

/** When it was last known what a bag held. */
export interface BagMark {
  readonly entry: string;
  readonly from: Instant;
  /** What was computed to flow out of it since. */
  readonly since: Volume;
  readonly atLeast: boolean;
}

/** A programme came to its limit by itself: what it delivered is known, whatever was read. */
export interface Finished {
  readonly channel: string;
  readonly programme: string;
  readonly at: Instant;
}
