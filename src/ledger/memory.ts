/**
 * What the ledger remembers of an encounter that is being written to. It can be lost at any time and
 * made again from the store; it saves an entry near now from reading anything.
 */

import { stateText } from "../infusion/state-text.js";
import type { Chain, Inquiry, Write } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import type { ShiftSpan } from "../time/shifts.js";
import { bagsUnknown, hangingsOf } from "./bag-hangings.js";
import type { Declared } from "./declarations.js";
import { checkpointAnew, checkpointsAfter, type Range, type Span } from "./late.js";
import { BEFORE_EVERYTHING, END_OF_TIME, type Known } from "./replay.js";
import { type StayFacts, shiftOf } from "./stay.js";
import { type Incoming, shortened, stateAt, type Tail, tailBetween } from "./tail.js";

export interface Memory {
  readonly facts: StayFacts;
  /** Reaches to the last entry known. */
  readonly tail: Tail;
  /** The checkpoints at or after the start of the tail, by their instants: their states as text. */
  readonly marks: ReadonlyMap<Instant, string>;
  /** The shift of the last entry, so that the calendar is asked once a shift. */
  readonly shift: ShiftSpan;
  readonly declared: Declared;
}

/** Memory made from the store: everything since the last checkpoint at or before now, for what is coming. */
export function* recalled(
  known: Known,
  facts: StayFacts,
  coming: readonly Incoming[],
  now: Instant,
): Inquiry<Memory> {
  const tail = yield* tailBetween(known, facts.conventions.settingsAt, now, END_OF_TIME, coming);
  const later = yield* checkpointsAfter(known, tail.from, 10);
  const marks = new Map(later.map(({ at, text }) => [at, text]));
  if (tail.from > BEFORE_EVERYTHING) marks.set(tail.from, stateText(tail.base, tail.from));
  return { facts, tail, marks, shift: shiftOf(facts, now), declared: new Map() };
}

/** Whether a tail knows what the bags hold that entries put into it ask for: it may not know of old ones. */
export function* knowsBags(
  known: Known,
  { from, base }: Tail,
  coming: readonly Incoming[],
): Inquiry<boolean> {
  const asking = coming.map(({ provisional }) => provisional);
  const hangings = yield* hangingsOf(known, bagsUnknown(base, asking));
  return hangings.every(({ at }) => at >= from);
}

/**
 * The memory with a new tail, and its checkpoints brought in line: those after the first change are
 * compared and, where the state differs, written anew; a shift that has begun gets its own.
 */
export function settled(
  chain: Chain,
  memory: Memory,
  tail: Tail,
  change: Span,
  range: Range,
  now: Instant,
): { readonly memory: Memory; readonly writes: readonly Write[] } {
  const { settingsAt } = memory.facts.conventions;
  const writes: Write[] = [];
  const marks = new Map(memory.marks);
  for (const [at, text] of [...memory.marks].sort(([a], [b]) => a - b)) {
    if (at <= change.from) continue;
    const anew = stateText(stateAt(tail, at, settingsAt), at);
    if (anew === text && range.first === range.last) continue;
    marks.set(at, anew);
    writes.push(...checkpointAnew(chain, at, anew, range));
  }
  const last = tail.entries.findLast(({ placed }) => placed.entry.at <= now)?.placed.entry.at ?? tail.from;
  const inShift = memory.shift.start <= last && last < memory.shift.end;
  const shift = inShift ? memory.shift : shiftOf(memory.facts, last);
  if (shift.start > tail.from && !marks.has(shift.start)) {
    const text = stateText(stateAt(tail, shift.start, settingsAt), shift.start);
    marks.set(shift.start, text);
    writes.push(...checkpointAnew(chain, shift.start, text, range));
  }
  return { memory: trimmed({ ...memory, tail, marks, shift }), writes };
}

/** The memory without what is older than the shift before the running one. */
function trimmed(memory: Memory): Memory {
  const from = [...memory.marks.keys()].sort((a, b) => a - b).at(-2);
  if (from === undefined || from <= memory.tail.from) return memory;
  return {
    ...memory,
    tail: shortened(memory.tail, from, memory.facts.conventions.settingsAt),
    marks: new Map([...memory.marks].filter(([at]) => at >= from)),
  };
}
