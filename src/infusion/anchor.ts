/**
 * Anchors: spans of which it is known, not computed, what was delivered. A reading anchors the span since
 * the mark it was judged over, a level of a gravity set the span since the level before, a device's
 * segment its own span.
 *
 * Invariant: the anchors of one counter do not overlap, and none ends inside a signed span unless it was
 * recorded before the signature.
 */

import type { Instant } from "../time/instant.js";
import type { Collected } from "./collected.js";
import type { TotalName } from "./entry.js";
import type { LevelJudged, SegmentJudged, TotalJudged } from "./evidence.js";
import { type Signed, withHeld } from "./held.js";
import { isFarFromSure } from "./mark.js";
import { minus, NOTHING, plus, type Volume } from "./quantity.js";
import type { Outcome } from "./reading.js";
import { segmentsJudged } from "./segment.js";
import { decidedBefore } from "./segments-in-totals.js";

export interface Anchor {
  readonly kind: "total" | "level" | "segment";
  readonly channel: string;
  readonly line: string | null;
  /** The running total, of a reading. */
  readonly total: TotalName | null;
  /** The bag, of a level. */
  readonly bag: string | null;
  readonly from: Instant;
  readonly to: Instant;
  /** The reading, and what it was measured from. */
  readonly entry: string;
  readonly over: string;
  readonly sequence: number;
  /** By how much the counter rose, as far as that counts; below nothing where it was read lower than before. */
  readonly increment: Volume;
  /** What was delivered; null where a reading only shows that nobody knows. */
  readonly delivered: Volume | null;
  /** What was computed of the span by rate × time. */
  readonly computed: Volume;
  /** What was read: the total, the level, the segment's volume. */
  readonly shows: Volume;
  readonly basis: "apportioned" | "disputed";
  /** How much more than was read the figures keep: what is signed, or was counted by a segment. Absent: nothing. */
  readonly unplaced?: Volume;
  /** The channel counts without a rate that is known: what a reading adds belongs to its own instant. */
  readonly metered: boolean;
}

/** What of a course says what was delivered, and the flows it is judged by. */
export type Told = Pick<Collected, "readings" | "segments" | "levels" | "flows" | "unknown">;

/** The anchors among what was handed out, in the order of their ends. */
export function anchorsOf(told: Told, signed: readonly Signed[]): Anchor[] {
  const segments = segmentsJudged(told);
  const anchors = [
    ...segments.filter(counts).map(ofSegment),
    ...ofTotals(told.readings, segments, signed),
    ...told.levels.filter((one) => one.anchors).map(ofLevel),
  ];
  return withHeld(withoutLate(anchors, signed), signed).sort((a, b) => a.to - b.to);
}

/** Whether an instant lies in a span that was signed before something was recorded. */
export function signedBefore(signed: readonly Signed[], at: Instant, sequence: number): boolean {
  return signed.some((span) => span.sequence < sequence && span.from < at && at <= span.to);
}

/** Whether what was read is what was delivered: agreed to, decided on or, looked at again, in dispute. */
function counts({ outcome }: { readonly outcome: Outcome | SegmentJudged["outcome"] }): boolean {
  return outcome === "agrees" || outcome === "settled" || outcome === "disputed";
}

function ofTotals(
  readings: readonly TotalJudged[],
  segments: readonly SegmentJudged[],
  signed: readonly Signed[],
): Anchor[] {
  const standing = new Map<string, Anchor>();
  for (const reading of readings) {
    const anchor = ofTotal(reading, segments);
    if (anchor === null) continue;
    const wrong = reading.setsAside === null ? undefined : standing.get(reading.setsAside);
    if (wrong === undefined) standing.set(anchor.entry, anchor);
    else if (signedBefore(signed, wrong.to, reading.sequence)) {
      // What was signed stays; the reading says what was delivered since.
      standing.set(anchor.entry, since(wrong, anchor));
    } else {
      standing.delete(wrong.entry);
      standing.set(anchor.entry, anchor);
    }
  }
  return [...standing.values()];
}

function ofTotal(reading: TotalJudged, segments: readonly SegmentJudged[]): Anchor | null {
  const { outcome, over, comparison, checkOnly } = reading;
  if (checkOnly || !counts(reading)) return null;
  // Since a clear that was found nobody knows what was delivered: the reading agrees, and says no more.
  if (isFarFromSure(over)) return null;
  const decided = outcome === "disputed" ? decidedBefore(reading, segments) : null;
  const increment = minus(comparison.increment, decided?.ignored ?? NOTHING);
  return {
    kind: "total",
    channel: reading.channel,
    line: reading.line,
    total: reading.total,
    bag: null,
    from: over.from,
    to: reading.before?.at ?? reading.at,
    entry: reading.entry,
    over: over.entry,
    sequence: reading.sequence,
    increment,
    delivered: known(increment),
    computed: comparison.computed,
    shows: reading.value,
    basis: outcome === "disputed" && decided === null ? "disputed" : "apportioned",
    metered: reading.type === "metered",
  };
}

/** The later anchor measured from the earlier one, which was to be set aside. */
function since(earlier: Anchor, later: Anchor): Anchor {
  const computed = minus(later.computed, earlier.computed);
  const increment = minus(later.increment, earlier.increment);
  return { ...later, from: earlier.to, over: earlier.entry, increment, delivered: increment, computed };
}

/**
 * A reading recorded after its own time was signed, or between two that a signed figure rests on, is known
 * and moves no figure: the next one takes over its span.
 */
function withoutLate(anchors: readonly Anchor[], signed: readonly Signed[]): Anchor[] {
  if (signed.length === 0) return [...anchors];
  const next = new Map(anchors.map((anchor) => [anchor.over, anchor]));
  const divides = (anchor: Anchor): boolean =>
    signed.some(
      ({ to, sequence }) =>
        sequence < anchor.sequence && anchor.from < to && recordedBefore(sequence, anchor, next),
    );
  const kept: Anchor[] = [];
  const passedOn = new Map<string, Anchor>();
  for (const anchor of anchors) {
    const before = anchor.kind === "segment" ? undefined : passedOn.get(anchor.over);
    const whole = before === undefined ? anchor : together(before, anchor);
    if (signedBefore(signed, anchor.to, anchor.sequence) || divides(whole)) passedOn.set(anchor.entry, whole);
    else kept.push(whole);
  }
  return kept;
}

/** Whether a reading that goes on from an anchor was recorded before a signature. */
function recordedBefore(signature: number, anchor: Anchor, next: ReadonlyMap<string, Anchor>): boolean {
  const following = anchor.kind === "segment" ? undefined : next.get(anchor.entry);
  if (following === undefined) return false;
  return following.sequence < signature || recordedBefore(signature, following, next);
}

/** Two spans as one, whatever lies between: read lower at first and then as expected, nothing was wrong. */
function together(a: Anchor, b: Anchor): Anchor {
  const computed = plus(a.computed, b.computed);
  const increment = plus(a.increment, b.increment);
  return { ...b, from: a.from, over: a.over, increment, delivered: known(increment), computed };
}

/** A counter that was read lower than before says that nobody knows what it counted. */
function known(increment: Volume): Volume | null {
  return increment < NOTHING ? null : increment;
}

function ofLevel(level: LevelJudged): Anchor {
  const { over, expected } = level;
  const gone = plus(over.since, minus(expected, level.level));
  return {
    kind: "level",
    channel: level.channel,
    line: level.line,
    total: null,
    bag: level.bag,
    from: over.from,
    to: level.at,
    entry: level.entry,
    over: over.entry,
    sequence: level.sequence,
    increment: gone,
    // Nothing flows back into a bag: what it gained was added, or it was misread.
    delivered: known(gone),
    computed: over.since,
    shows: level.level,
    basis: gone < NOTHING ? "disputed" : "apportioned",
    metered: false,
  };
}

function ofSegment({
  entry,
  sequence,
  channel,
  line,
  start,
  at,
  value,
  outcome,
  comparison,
}: SegmentJudged): Anchor {
  return {
    kind: "segment",
    channel,
    line,
    total: null,
    bag: null,
    from: start,
    to: at,
    entry,
    over: entry,
    sequence,
    increment: value,
    delivered: value,
    computed: comparison.computed,
    shows: value,
    basis: outcome === "disputed" ? "disputed" : "apportioned",
    metered: false,
  };
}
