/**
 * What a reading of a running total comes to: it agrees and anchors, is disputed and anchors, waits for
 * somebody to decide, or is set aside. Nothing here moves the course; a reading only says what was
 * delivered, and from what mark the next one is judged.
 */

import { type Instant, MINUTE } from "../time/instant.js";
import { type Around, type Comparison, compare } from "./comparison.js";
import { CLOCKS_APART, type Clear, type Counter, counterOf, type DoubtfulMark, doubted } from "./counter.js";
import type { Source } from "./entry.js";
import { type Mark, markOf } from "./mark.js";
import { greater, minus, NOTHING, type Volume } from "./quantity.js";

/**
 * - `agrees`: its increment is what was delivered.
 * - `settled`: it disagreed, and a person decided that the reading counts.
 * - `disputed`: it disagreed, a person looked again; the device comes first, so it counts.
 * - `waits`: it disagreed, and nobody has decided yet: a device's, or a zero.
 * - `follows`: it disagrees only as a device's reading before it does, which still waits.
 * - `not-used`: a person decided that the computed volume counts.
 */
export type Outcome = "agrees" | "settled" | "disputed" | "waits" | "follows" | "not-used";

/** A reading with what became of it. */
export interface Judgement {
  readonly outcome: Outcome;
  /** The mark its increment is over, and how it compares with it. */
  readonly over: Mark;
  readonly comparison: Comparison;
  /** A reading before it that it shows to have been wrong, or whose doubt it takes over. */
  readonly setsAside: string | null;
  /** The clear before which it was taken, where it is charted after that. */
  readonly before: Clear | null;
  /** The counter afterwards. */
  readonly counter: Counter;
}

/** What is asked of a reading: what it says, who read it, and what a person decided about it. */
export interface Reading {
  readonly entry: string;
  readonly at: Instant;
  readonly value: Volume;
  readonly source: Source;
  readonly settled: "reading" | "computed" | undefined;
  /** The mark it makes if it counts. */
  readonly mark: Mark;
}

type Comparing = (mark: Mark) => Comparison;

/** Judges a reading on a counter. `around`, type and tolerances are those of `compare`. */
export function judged(
  counter: Counter,
  reading: Reading,
  how: { around: Around; type: Parameters<typeof compare>[3]; tolerance: Parameters<typeof compare>[4] },
): Judgement {
  const comparing: Comparing = (mark) => compare(mark, reading.value, how.around, how.type, how.tolerance);
  const { other, recent } = counter;
  const main = markOf(counter);
  const comparison = comparing(main);
  const anchored = (before: Counter["other"]): Counter => counterOf(reading.mark, before, recent);
  if (reading.settled === "computed") {
    const notUsed = counterOf(main, doubted(reading.mark, "not-used"), recent);
    return { outcome: "not-used", over: main, comparison, setsAside: null, before: null, counter: notUsed };
  }
  const before = other === null ? null : overTheOneBefore(other, comparison, comparing(other), main);
  if (before !== null) {
    const after = anchored(doubted(before.over, "before-agreed"));
    return { outcome: "agrees", ...before, setsAside: main.entry, before: null, counter: after };
  }
  if (comparison.agrees) {
    const setsAside = other?.doubt === "waiting" ? other.entry : null;
    const after = anchored(isYoungClear(other, reading) ? other : doubted(main, "before-agreed"));
    return { outcome: "agrees", over: main, comparison, setsAside, before: null, counter: after };
  }
  if (isYoungClear(other, reading)) {
    const then = comparing(other);
    const over = markOf(other);
    const counter = counterOf(main, null, recent);
    if (then.agrees) {
      return { outcome: "agrees", over, comparison: then, setsAside: null, before: other.clear, counter };
    }
  }
  const byOther = other === null ? null : byTheOther(other, reading, comparing(other), counter);
  if (byOther !== null) return byOther;
  if (reading.settled === "reading") {
    const setsAside = waiting(other);
    return { outcome: "settled", over: main, comparison, setsAside, before: null, counter: anchored(null) };
  }
  // A zero never answers for what is at risk: it shows that the total was cleared, not what was lost.
  const saysNothing = reading.value <= NOTHING && main.since > NOTHING;
  if (reading.source === "device" || saysNothing) {
    // What a device goes on to say is one question with the first time it disagreed.
    const outcome = other?.doubt === "waiting" ? "follows" : "waits";
    return {
      outcome,
      over: main,
      comparison,
      setsAside: null,
      before: null,
      counter: waitingAt(counter, reading),
    };
  }
  const { behind, ahead } = how.around;
  const near = isMistimed(comparison, greater(behind, ahead), reading.mark);
  const disputed = anchored(doubted(main, near ? "before-mistimed" : "before-disputed"));
  const setsAside = waiting(other);
  return { outcome: "disputed", over: main, comparison, setsAside, before: null, counter: disputed };
}

/** Whether a clear stands so shortly before a reading that this may have been taken before it, by another clock. */
function isYoungClear(other: Counter["other"], { at }: Reading): other is DoubtfulMark {
  return other?.clear != null && at - other.clear.at <= CLOCKS_APART;
}

/**
 * The mark before the last reading, where the new one agrees over that and the last reading is the one to set
 * aside: it was wrong, or the two lie only so far apart that some minutes at the time of one of them explain
 * it, and then what was delivered over both spans is known better than where one ends. Something that
 * happened and nobody charted is too large for that, and stays off.
 */
function overTheOneBefore(
  other: NonNullable<Counter["other"]>,
  onLast: Comparison,
  onBefore: Comparison,
  last: Mark,
): { over: Mark; comparison: Comparison } | null {
  const wrong = onBefore.agrees && lastWasWrong(other, onLast, onBefore, last);
  return wrong ? { over: markOf(other), comparison: onBefore } : null;
}

function lastWasWrong(
  before: NonNullable<Counter["other"]>,
  onLast: Comparison,
  onBefore: Comparison,
  last: Mark,
): boolean {
  const { doubt } = before;
  switch (doubt) {
    case "before-agreed":
      // One that shows just what was computed stays: what came after it is what is off.
      if (onLast.agrees || isExact(last, before)) return false;
      return onBefore.gap <= onLast.tolerance || isMistimed(onLast, greater(last.late, last.early), last);
    case "before-mistimed":
      return !onLast.agrees || isNearer(onBefore, onLast) || apart(onBefore) <= onBefore.tolerance;
    case "before-disputed":
      return !onLast.agrees || isNearer(onBefore, onLast);
    case "waiting":
    case "not-used":
    case "before-clear":
      return false;
    default:
      return doubt satisfies never;
  }
}

const EXACTLY = 2_000n;

/** Whether what a reading gained over the mark before is what was computed, to a two-thousandth: no coincidence. */
function isExact(last: Mark, before: Mark): boolean {
  const computed = minus(before.since, last.since);
  const off = minus(minus(last.base, before.base), computed);
  return (off < NOTHING ? minus(NOTHING, off) : off) <= computed / EXACTLY;
}

/** Much nearer than the longer span alone would make it: as a share, and within what the shorter one allows. */
function isNearer(one: Comparison, other: Comparison): boolean {
  return one.gap <= other.tolerance && apart(one) * other.tolerance < apart(other) * one.tolerance;
}

/** How far the increment is from what was computed at the charted times. */
function apart({ increment, computed }: Comparison): Volume {
  return increment < computed ? minus(computed, increment) : minus(increment, computed);
}

/** A reading is charted now and then some minutes from when it was taken (common observation). */
const MINUTES_OFF = 3 * MINUTE;

/**
 * Whether a comparison would agree had the reading at one of its ends been taken some minutes earlier or
 * later; `around` is what flows there within the span that its charted time stands for. A time to the second,
 * such as a device's, stands for itself.
 */
function isMistimed({ gap, tolerance }: Comparison, around: Volume, { from, looseUntil }: Mark): boolean {
  if (looseUntil === from) return false;
  return (gap - tolerance) * BigInt(looseUntil - from) <= around * BigInt(MINUTES_OFF);
}

/** Where the reading agrees with the other mark only: that one was right, or the device stays with what it said. */
function byTheOther(
  other: NonNullable<Counter["other"]>,
  reading: Reading,
  comparison: Comparison,
  counter: Counter,
): Judgement | null {
  const { doubt } = other;
  if (!comparison.agrees || doubt === "before-clear") return null;
  const over = markOf(other);
  const { recent } = counter;
  const anchored = counterOf(reading.mark, null, recent);
  // A zero that was in question: what is read after it bears out that the total had been cleared. One that was
  // followed by a reading is past, and on a channel whose rate nobody knows anything would agree with it.
  const zero = doubt === "waiting" && over.read && over.base <= NOTHING;
  if (doubt === "not-used" || zero) {
    return { outcome: "agrees", over, comparison, setsAside: null, before: null, counter: anchored };
  }
  if (reading.source !== "device") return null;
  const waits = waitingAt(counter, reading);
  return { outcome: "follows", over, comparison, setsAside: null, before: null, counter: waits };
}

function waitingAt(counter: Counter, { mark }: Reading): Counter {
  return counterOf(counter, doubted(mark, "waiting"), counter.recent);
}

/** A reading that waits is taken over by the next one a person confirms: one cause, one question. */
function waiting(other: Counter["other"]): string | null {
  return other?.doubt === "waiting" ? other.entry : null;
}
