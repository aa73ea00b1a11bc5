/**
 * The recent part of an encounter's course, kept in memory between requests: the state at an instant,
 * and every entry since, the last with the state after it, so that an entry near now costs the same on
 * the first day and the ninetieth. Of the states before that some are kept, and the others folded again.
 *
 * A tail is never changed: `withEntries` makes the next one, which the store keeps once it is durable.
 */

import type { Reported } from "../findings/finding.js";
import { comeUpTo, follow, followAll } from "../infusion/course.js";
import type { DoseFault } from "../infusion/dose-fault.js";
import { isDoseFault } from "../infusion/dose-fault.js";
import type { Placed } from "../infusion/entry.js";
import { type Event, listing } from "../infusion/event.js";
import { NOWHERE } from "../infusion/flow.js";
import { inOrder } from "../infusion/order.js";
import type { State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { type Known, stretchBetween } from "./replay.js";

/** One entry in so many keeps the state after it: what lives on is what collecting garbage costs. */
const BETWEEN_STATES = 16;

export interface TailEntry extends Reported {
  /** Always there of the last entry; of those before it, of one in `BETWEEN_STATES` or so. */
  readonly after: State | null;
  readonly events: readonly Event[];
}

export interface Tail {
  readonly from: Instant;
  /** At `from`, before any entry at that instant. */
  readonly base: State;
  readonly entries: readonly TailEntry[];
}

/** An entry to be put in its place: as it counts already, or still to be frozen with the state there. */
export interface Incoming {
  /** The sequence of the row whose content it is: of an amendment, not that of its original. */
  readonly content: number;
  /** Whether it counts; what is corrected in the request that brings it is only frozen in its place. */
  readonly counts: boolean;
  readonly recordedAt: Instant;
  /** The id of who recorded it. */
  readonly by: string;
  /** For the order alone; its rate may be unknown still. */
  readonly provisional: Placed;
  /** What it comes to with the state just before it, or why to nothing. */
  readonly settle: (before: State) => Placed | DoseFault;
}

export interface Placing {
  readonly tail: Tail;
  /** The faults of incoming entries, by the sequence of their content. */
  readonly faults: ReadonlyMap<number, DoseFault>;
  /** The place from which entries differ from the old tail's. */
  readonly firstChanged: number;
  /** Before that place, in either tail. */
  readonly stateBefore: State;
  /** What came to light from there on, in the old tail and in the new one. */
  readonly before: readonly Event[];
  readonly after: readonly Event[];
}

/**
 * The tail with some families taken out (by the sequence of their originals) and some entries put in.
 * All that is changed must happen at or after `tail.from`.
 */
export function withEntries(
  tail: Tail,
  without: ReadonlySet<number>,
  incoming: readonly Incoming[],
  settingsAt: SettingsAt,
): Placing {
  const first = firstChanged(tail.entries, without, incoming);
  const later = tail.entries.slice(first);
  const settling = new Map(incoming.map((one) => [one.provisional, one]));
  const staying = later.filter(({ placed }) => !without.has(placed.sequence));
  const reported = new Map<Placed, Omit<Reported, "placed">>([
    ...staying.map((one) => [one.placed, one] as const),
    ...incoming.map((one) => [one.provisional, one] as const),
  ]);
  const order = inOrder([
    ...staying.map(({ placed }) => placed),
    ...incoming.map(({ provisional }) => provisional),
  ]);
  const faults = new Map<number, DoseFault>();
  const anew: TailEntry[] = [];
  const stateBefore = stateBeforePlace(tail, first, settingsAt);
  let state = stateBefore;
  for (const placed of order) {
    const coming = settling.get(placed);
    const settled = coming?.settle(state) ?? placed;
    if (isDoseFault(settled)) faults.set(coming!.content, settled);
    if (isDoseFault(settled) || coming?.counts === false) continue;
    const { recordedAt, by } = reported.get(placed)!;
    const followed = followedBy(settled, state, settingsAt);
    state = followed.after;
    anew.push({ ...followed, recordedAt, by });
  }
  return {
    tail: { ...tail, entries: joined(tail.entries, first, anew, state) },
    faults,
    firstChanged: first,
    stateBefore,
    before: later.flatMap(({ events }) => events),
    after: anew.flatMap(({ events }) => events),
  };
}

/**
 * The tail from the checkpoint at or before `from`, of what is known to happen before `to`; entries that
 * are `coming` can be put into it.
 */
export function* tailBetween(
  known: Known,
  settingsAt: SettingsAt,
  from: Instant,
  to: Instant,
  coming: readonly Incoming[] = [],
): Inquiry<Tail> {
  const asking = coming.map(({ provisional }) => provisional);
  const start = yield* stretchBetween(known, settingsAt, from, to, asking);
  const entries: TailEntry[] = [];
  let state = start.state;
  for (const { placed, original } of start.entries) {
    const { recordedAt, by } = original;
    const followed = followedBy(placed, state, settingsAt);
    state = followed.after;
    entries.push({ ...followed, recordedAt, by: by.id });
  }
  return { from: start.at, base: start.state, entries: joined([], 0, entries, state) };
}

const NO_EVENTS: readonly Event[] = [];

/** An entry in its place, with the state after it and what it brings to light. */
function followedBy(placed: Placed, state: State, settingsAt: SettingsAt) {
  const events: Event[] = [];
  const after = follow(state, placed, settingsAt, listing(events));
  return { placed, after, events: events.length === 0 ? NO_EVENTS : events };
}

/**
 * The entries before a place with others after them, of which those in between give up their states. Where
 * none come after them the last one that stays has its state again.
 */
function joined(
  before: readonly TailEntry[],
  first: number,
  anew: readonly TailEntry[],
  after: State,
): TailEntry[] {
  // Joined once: adding to a copy one by one would make it twice, and once more with room to grow.
  const entries = (first === before.length ? before : before.slice(0, first)).concat(anew);
  for (let place = Math.max(0, first - 1); place < entries.length - 1; place++) {
    const entry = entries[place]!;
    if (place % BETWEEN_STATES !== 0) entries[place] = { ...entry, after: null };
  }
  const last = entries.at(-1);
  if (last?.after === null) entries[entries.length - 1] = { ...last, after };
  return entries;
}

/** The state before the entry at a place, from the nearest that was kept. */
export function stateBeforePlace({ base, entries }: Tail, place: number, settingsAt: SettingsAt): State {
  let from = place;
  while (from > 0 && entries[from - 1]!.after === null) from--;
  const told = entries.slice(from, place).map(({ placed }) => placed);
  return followAll(from === 0 ? base : entries[from - 1]!.after!, told, settingsAt, NOWHERE);
}

/** The state up to an instant, entries at that very instant left out. */
export function stateAt(tail: Tail, at: Instant, settingsAt: SettingsAt): State {
  const last = tail.entries.findLastIndex(({ placed }) => placed.entry.at < at);
  return comeUpTo(stateBeforePlace(tail, last + 1, settingsAt), at, NOWHERE);
}

/** The tail from a later instant on, worth the memory. */
export function shortened(tail: Tail, from: Instant, settingsAt: SettingsAt): Tail {
  if (from <= tail.from) return tail;
  return {
    from,
    base: stateAt(tail, from, settingsAt),
    entries: tail.entries.filter(({ placed }) => placed.entry.at >= from),
  };
}

/** Everything from the first instant at which anything changes: order at one instant depends on all of it. */
function firstChanged(
  entries: readonly TailEntry[],
  without: ReadonlySet<number>,
  incoming: readonly Incoming[],
): number {
  let earliest = Math.min(...incoming.map(({ provisional }) => provisional.entry.at));
  if (without.size > 0) {
    for (const { placed } of entries) {
      if (without.has(placed.sequence)) earliest = Math.min(earliest, placed.entry.at);
    }
  }
  let low = entries.length;
  while (low > 0 && entries[low - 1]!.placed.entry.at >= earliest) low--;
  return low;
}
