/**
 * What a reading of a running total comes to: it agrees and anchors, is disputed and anchors, waits for
 * somebody to decide, or is set aside. Nothing here moves the course; a reading only says what was
 * delivered, and from what mark the next one is judged.
 */

import type { Instant } from "../time/instant.js";
import { type Comparison, type Counter, compare, type Mark } from "./counter.js";
import type { Source } from "./entry.js";
import { NOTHING, type Volume } from "./quantity.js";

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

/** Judges a reading on a counter. `ahead`, type and tolerances are those of `compare`. */
export function judged(
  counter: Counter,
  reading: Reading,
  how: { ahead: Volume; type: Parameters<typeof compare>[3]; tolerance: Parameters<typeof compare>[4] },
): Judgement {
  const comparing: Comparing = (mark) => compare(mark, reading.value, how.ahead, how.type, how.tolerance);
  const { other, ...main } = counter;
  const comparison = comparing(main);
  const anchored = { ...reading.mark, other: null };
  if (reading.settled === "computed") {
    const notUsed: Counter = { ...main, other: { ...reading.mark, doubt: "not-used" } };
    return { outcome: "not-used", over: main, comparison, setsAside: null, counter: notUsed };
  }
  if (comparison.agrees) {
    const setsAside = other?.doubt === "waiting" ? other.entry : null;
    return { outcome: "agrees", over: main, comparison, setsAside, counter: anchored };
  }
  const byOther = other === null ? null : byTheOther(other, reading, comparing(other), counter);
  if (byOther !== null) return byOther;
  if (reading.settled === "reading") {
    return { outcome: "settled", over: main, comparison, setsAside: waiting(other), counter: anchored };
  }
  // A zero never answers for what is at risk: it shows that the total was cleared, not what was lost.
  const saysNothing = reading.value <= NOTHING && main.since > NOTHING;
  if (reading.source === "device" || saysNothing) {
    // What a device goes on to say is one question with the first time it disagreed.
    const outcome = other?.doubt === "waiting" ? "follows" : "waits";
    return { outcome, over: main, comparison, setsAside: null, counter: waitingAt(main, reading) };
  }
  const before = { ...main, doubt: "before-disputed" as const };
  const disputed = { ...reading.mark, other: before };
  return { outcome: "disputed", over: main, comparison, setsAside: waiting(other), counter: disputed };
}

/** Where the reading agrees with the other mark only: that one was right, or the device stays with what it said. */
function byTheOther(
  other: NonNullable<Counter["other"]>,
  reading: Reading,
  comparison: Comparison,
  counter: Counter,
): Judgement | null {
  if (!comparison.agrees) return null;
  const { doubt, ...over } = other;
  const anchored = { ...reading.mark, other: null };
  if (doubt === "before-disputed") {
    return { outcome: "agrees", over, comparison, setsAside: counter.entry, counter: anchored };
  }
  const zero = over.read && over.base <= NOTHING;
  if (doubt === "not-used" || zero) {
    return { outcome: "agrees", over, comparison, setsAside: null, counter: anchored };
  }
  if (reading.source !== "device") return null;
  return { outcome: "follows", over, comparison, setsAside: null, counter: waitingAt(counter, reading) };
}

function waitingAt(main: Mark, { mark }: Reading): Counter {
  return { ...main, other: { ...mark, doubt: "waiting" } };
}

/** A reading that waits is taken over by the next one a person confirms: one cause, one question. */
function waiting(other: Counter["other"]): string | null {
  return other?.doubt === "waiting" ? other.entry : null;
}
