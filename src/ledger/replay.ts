/**
 * What is known of an encounter, and its course from the nearest checkpoint on. Everything is an inquiry,
 * pure but for what it asks.
 */

import type { Reported } from "../findings/finding.js";
import { followAll } from "../infusion/course.js";
import type { Placed } from "../infusion/entry.js";
import { NOWHERE } from "../infusion/flow.js";
import { inOrder } from "../infusion/order.js";
import { NOTHING_KNOWN, type State } from "../infusion/state.js";
import { stateFrom } from "../infusion/state-text.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { earliest, type Instant, instant, latest } from "../time/instant.js";
import { bagsUnknown, hangingsOf } from "./bag-hangings.js";
import { type Counting, countingOf, merged, placedOf } from "./families.js";
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

export function reported({ placed, original }: CountingEntry): Reported {
  return { placed, recordedAt: original.recordedAt, by: original.by.id };
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

/** The nearest state at or before an instant that still holds, and the instant it is of. */
export function* stateBefore(known: Known, before: Instant): Inquiry<{ state: State; at: Instant }> {
  const latestUsable = known.stagedFrom === null ? before : earliest(before, known.stagedFrom);
  const sequence = known.upTo;
  const checkpoint = yield* ask({ ask: "checkpoint", chain: known.chain, before: latestUsable, sequence });
  const state = checkpoint === undefined ? undefined : stateOf(checkpoint.text);
  if (checkpoint === undefined || state === undefined) return { state: NOTHING_KNOWN, at: BEFORE_EVERYTHING };
  return { state, at: checkpoint.at };
}

/** Reading a state is pure and takes as long as following many entries, so the last few are remembered. */
const READ = new Map<string, State>();
const MOST_READ = 400;

function stateOf(sealed: string): State | undefined {
  const known = READ.get(sealed);
  if (known !== undefined) return known;
  const text = unsealed(sealed);
  const state = text === undefined ? undefined : stateFrom(text);
  if (state === undefined) return undefined;
  if (READ.size >= MOST_READ) READ.delete(READ.keys().next().value!);
  READ.set(sealed, state);
  return state;
}

/** A stretch of the course yet to be followed: the state before it, and what counts in it, in order. */
export interface Stretch {
  readonly at: Instant;
  /** At `at`, before any entry at that instant; it knows of every bag that is asked for. */
  readonly state: State;
  readonly entries: readonly CountingEntry[];
}

/** From the nearest checkpoint at or before `from` up to `to`. `coming` are entries being put in as well. */
export function* stretchBetween(
  known: Known,
  settingsAt: SettingsAt,
  from: Instant,
  to: Instant,
  coming: readonly Placed[] = [],
): Inquiry<Stretch> {
  const { state, at } = yield* stateBefore(known, from);
  const entries = yield* countingBetween(known, at, to);
  const asking = [...entries.map(({ placed }) => placed), ...coming];
  return { at, entries, state: yield* withBagsOf(known, settingsAt, { state, at }, asking) };
}

/**
 * A state with what the bags hold that entries after it ask for and that came down too long ago for a
 * checkpoint to know: worked out from when such a bag was last hung. `at` is when the state was read;
 * of what it has followed since then nothing is missing.
 */
export function* withBagsOf(
  known: Known,
  settingsAt: SettingsAt,
  { state, at }: { readonly state: State; readonly at: Instant },
  entries: readonly Placed[],
): Inquiry<State> {
  if (at === BEFORE_EVERYTHING) return state;
  const lastHung = new Map<string, Instant>();
  for (const hanging of yield* hangingsOf(known, bagsUnknown(state, entries))) {
    if (hanging.at >= at) continue;
    lastHung.set(hanging.bag, latest(hanging.at, lastHung.get(hanging.bag) ?? hanging.at));
  }
  if (lastHung.size === 0) return state;
  const since = yield* stretchBetween(known, settingsAt, earliest(...lastHung.values()), at);
  const told = since.entries.map(({ placed }) => placed);
  const then = followAll(since.state, told, settingsAt, NOWHERE);
  const shelf = new Map(state.shelf);
  for (const bag of lastHung.keys()) {
    const shelved = then.shelf.get(bag);
    if (shelved !== undefined) shelf.set(bag, shelved);
  }
  return { ...state, shelf };
}
