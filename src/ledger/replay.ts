/**
 * What is known of an encounter, and its course from the nearest checkpoint on. Everything is an inquiry,
 * pure but for what it asks.
 */

import type { Placed } from "../infusion/entry.js";
import { inOrder } from "../infusion/order.js";
import { NOTHING_KNOWN, type State } from "../infusion/state.js";
import { stateFrom } from "../infusion/state-text.js";
import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { earliest, type Instant, instant } from "../time/instant.js";
import { type Counting, countingOf, placedOf } from "./families.js";
import { unsealed } from "./seal.js";

/** What is known: the chain as stored up to a sequence, and rows that are being decided and not yet stored. */
export interface Known {
  readonly chain: Chain;
  readonly upTo: number;
  /** Whole families of every entry being added or corrected, the new rows included. */
  readonly staged: readonly Row[];
  /** No checkpoint after this instant knows of what is staged. */
  readonly stagedFrom: Instant | null;
}

/** The first and last instants that a date can have. */
export const BEFORE_EVERYTHING = instant(-8_640_000_000_000_000);
export const END_OF_TIME = instant(8_640_000_000_000_000);

/** An entry that counts, in its place in the course. */
export interface CountingEntry extends Counting {
  readonly placed: Placed;
}

/** What counts with `from <= at < to`, in the order in which it counts. */
export function* countingBetween(known: Known, from: Instant, to: Instant): Inquiry<CountingEntry[]> {
  const stored = yield* ask({ ask: "span", chain: known.chain, from, to, upTo: known.upTo });
  const counting = countingOf(known.staged.length === 0 ? stored : merged(stored, known.staged));
  const inside = new Map<number, CountingEntry>();
  for (const one of counting) {
    const placed = placedOf(one);
    if (placed !== undefined && from <= placed.entry.at && placed.entry.at < to) {
      inside.set(placed.sequence, { ...one, placed });
    }
  }
  return inOrder([...inside.values()].map(({ placed }) => placed)).map(
    ({ sequence }) => inside.get(sequence)!,
  );
}

/** Families staged and stored together: of a family that is staged, the staged rows are the whole of it. */
export function merged(stored: readonly Row[], staged: readonly Row[]): Row[] {
  const bySequence = new Map<number, Row>();
  for (const row of stored) bySequence.set(row.sequence, row);
  for (const row of staged) bySequence.set(row.sequence, row);
  return [...bySequence.values()];
}

/** The nearest state at or before an instant that still holds, and the instant it is of. */
export function* stateBefore(known: Known, before: Instant): Inquiry<{ state: State; at: Instant }> {
  const latestUsable = known.stagedFrom === null ? before : earliest(before, known.stagedFrom);
  const sequence = known.upTo;
  const checkpoint = yield* ask({ ask: "checkpoint", chain: known.chain, before: latestUsable, sequence });
  const text = checkpoint === undefined ? undefined : unsealed(checkpoint.text);
  const state = text === undefined ? undefined : stateFrom(text);
  if (checkpoint === undefined || state === undefined) return { state: NOTHING_KNOWN, at: BEFORE_EVERYTHING };
  return { state, at: checkpoint.at };
}
