/**
 * An entry that changes time before what is in memory: it is put in its place from the checkpoint
 * before it, and the checkpoints after it are worked out anew, shift by shift, until a state equals the
 * old one and no bag that holds something else now is hung again. So it costs the span back to where
 * its effect ends, however long the stay has gone on.
 */

import type { Reported } from "../findings/finding.js";
import { comeUpTo, followAll } from "../infusion/course.js";
import { type Event, listing } from "../infusion/event.js";
import { NOWHERE } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import { shelvedText, stateText } from "../infusion/state-text.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Chain, type Checkpoint, type Inquiry, type Write } from "../store/store.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { hangingsOf } from "./bag-hangings.js";
import { countingBetween, END_OF_TIME, type Known, reported, withBagsOf } from "./replay.js";
import { sealed, unsealed } from "./seal.js";
import { type Incoming, type Placing, stateAt, type Tail, tailBetween, withEntries } from "./tail.js";

export interface Span {
  /** The first instant anything changes, and the last at which an entry is put in or taken out. */
  readonly from: Instant;
  readonly last: Instant;
}

/** The sequences of the rows that a request adds. */
export interface Range {
  readonly first: number;
  readonly last: number;
}

/**
 * A checkpoint as it stands after a request, in place of the one before. As of the rows in between it
 * is of no use, since they may not have changed it yet, or not back again: there none holds.
 */
export function checkpointAnew(chain: Chain, at: Instant, text: string, { first, last }: Range): Write[] {
  const ending: Write = {
    write: "end-checkpoints",
    chain,
    after: later(at, -1),
    before: later(at, 1),
    validTo: first,
  };
  const checkpoint: Checkpoint = { chain, at, validFrom: last, validTo: null, text: sealed(text) };
  return [ending, { write: "checkpoint", checkpoint }];
}

interface Late {
  /** The stretch of the first change, as it was. */
  readonly tail: Tail;
  readonly placing: Placing;
  readonly writes: readonly Write[];
  /** What counts after that stretch, up to where the effect of the change ends. */
  readonly onwards: readonly Reported[];
  readonly end: Instant;
}

/** Puts entries in their places in the past, and what becomes of the checkpoints after them. */
export function* placeLate(
  known: Known,
  settingsAt: SettingsAt,
  without: ReadonlySet<number>,
  incoming: readonly Incoming[],
  span: Span,
  range: Range,
): Inquiry<Late> {
  const next = yield* checkpointAfter(known, span.last);
  const tail = yield* tailBetween(known, settingsAt, span.from, next?.at ?? END_OF_TIME, incoming);
  const placing = withEntries(tail, without, incoming, settingsAt);
  const writes: Write[] = [];
  const inside = yield* checkpointsAfter(known, span.from, 1_000);
  for (const checkpoint of inside) {
    if (checkpoint.at > span.last) break;
    const state = stateAt(placing.tail, checkpoint.at, settingsAt);
    rewrite(checkpoint, stateText(state, checkpoint.at), range, writes);
  }
  const events: Events = { before: [...placing.before], after: [...placing.after], entries: [] };
  let end: Instant = END_OF_TIME;
  if (next !== undefined) {
    const courses = { from: tail.from, was: lastOf(tail), is: lastOf(placing.tail) };
    end = yield* carryOn(known, settingsAt, next, courses, range, writes, events);
  }
  const { before, after, entries } = events;
  return { tail, placing: { ...placing, before, after }, writes, onwards: entries, end };
}

/** What came to light as things were, and as they are with the change. */
interface Events {
  readonly before: Event[];
  readonly after: Event[];
  /** What counts after the stretch of the change, which is alike on both sides. */
  readonly entries: Reported[];
}

/**
 * The course as it was and as it is with the change, both followed since `from` up to their last entry.
 * What then happens by itself is noted where the next entry comes upon it, as it is without checkpoints.
 */
interface Courses {
  readonly from: Instant;
  readonly was: State;
  readonly is: State;
}

/**
 * From checkpoint to checkpoint as long as the change has an effect; then they only change hands. Returns
 * where the effect ends.
 */
function* carryOn(
  known: Known,
  settingsAt: SettingsAt,
  first: Checkpoint,
  changed: Courses,
  range: Range,
  writes: Write[],
  events: Events,
): Inquiry<Instant> {
  let checkpoint: Checkpoint | undefined = first;
  let courses: Courses | undefined = changed;
  let effectEnds: Instant = END_OF_TIME;
  while (checkpoint !== undefined) {
    const { at }: Checkpoint = checkpoint;
    const text: string =
      courses === undefined ? checkpoint.text : stateText(comeUpTo(courses.is, at, NOWHERE), at);
    if (courses !== undefined && text === checkpoint.text && !(yield* hungLater(known, courses, at))) {
      comeUpTo(courses.was, at, listing(events.before));
      comeUpTo(courses.is, at, listing(events.after));
      courses = undefined;
      effectEnds = at;
    }
    if (courses === undefined && range.first === range.last) return effectEnds;
    rewrite(checkpoint, text, range, writes);
    const following: Checkpoint | undefined = yield* checkpointAfter(known, at);
    if (courses !== undefined) {
      const end = following?.at ?? END_OF_TIME;
      courses = yield* onwards(known, settingsAt, courses, { start: at, end }, events);
    }
    checkpoint = following;
  }
  return effectEnds;
}

/**
 * Whether a bag that came down, and holds something else now, is hung again, however much later. What remains in it
 * may be said then; how strong its drugs are follows from what was before.
 */
function* hungLater(known: Known, { was, is }: Courses, from: Instant): Inquiry<boolean> {
  const bags = [...new Set([...was.shelf.keys(), ...is.shelf.keys()])];
  const changed = bags.filter((bag) => shelvedText(was.shelf.get(bag)) !== shelvedText(is.shelf.get(bag)));
  const hangings = yield* hangingsOf(known, changed);
  const drugged = (bag: string) => [was, is].some(({ shelf }) => (shelf.get(bag)?.contents ?? null) !== null);
  return hangings.some(({ at, bag, remaining }) => at >= from && (remaining === undefined || drugged(bag)));
}

/** Writes a checkpoint anew if its state differs, or if more than one row stands between then and now. */
function rewrite(old: Checkpoint, text: string, range: Range, writes: Write[]): void {
  if (text === old.text && range.first === range.last) return;
  writes.push(...checkpointAnew(old.chain, old.at, text, range));
}

/** Both courses a stretch further. */
function* onwards(
  known: Known,
  settingsAt: SettingsAt,
  { from, was, is }: Courses,
  { start, end }: Period,
  events: Events,
): Inquiry<Courses> {
  const counting = yield* countingBetween(known, start, end);
  const entries = counting.map(({ placed }) => placed);
  events.entries.push(...counting.map(reported));
  const go = function* (course: State, found: Event[]) {
    const opening = yield* withBagsOf(known, settingsAt, { state: course, at: from }, entries);
    return followAll(opening, entries, settingsAt, listing(found));
  };
  return { from, was: yield* go(was, events.before), is: yield* go(is, events.after) };
}

function lastOf(tail: Tail): State {
  return tail.entries.at(-1)?.after ?? tail.base;
}

function* checkpointAfter(known: Known, after: Instant): Inquiry<Checkpoint | undefined> {
  const [next] = yield* checkpointsAfter(known, after, 1);
  return next;
}

/** Checkpoints with their texts unsealed; one that was changed has none, and so differs from any state. */
export function* checkpointsAfter(known: Known, after: Instant, limit: number): Inquiry<Checkpoint[]> {
  const found = yield* ask({ ask: "checkpoints-after", chain: known.chain, after, limit });
  return found.map((checkpoint) => ({ ...checkpoint, text: unsealed(checkpoint.text) ?? "" }));
}
