/**
 * An entry that changes time before what is in memory: it is put in its place from the checkpoint
 * before it, and the checkpoints after it are worked out anew, shift by shift, until a state equals the
 * old one. So it costs the span back to where its effect ends, however long the stay has gone on.
 */

import { comeUpTo, follow } from "../infusion/course.js";
import { NOWHERE, type Note } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import { stateFrom, stateText } from "../infusion/state-text.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Chain, type Checkpoint, type Inquiry, type Write } from "../store/store.js";
import { type Instant, later } from "../time/instant.js";
import { countingBetween, END_OF_TIME, type Known } from "./replay.js";
import { sealed, unsealed } from "./seal.js";
import { type Incoming, type Placing, stateAt, tailBetween, withEntries } from "./tail.js";

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
  readonly placing: Placing;
  readonly writes: readonly Write[];
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
  const tail = yield* tailBetween(known, settingsAt, span.from, next?.at ?? END_OF_TIME);
  const placing = withEntries(tail, without, incoming, settingsAt);
  const writes: Write[] = [];
  const inside = yield* checkpointsAfter(known, span.from, 1_000);
  for (const checkpoint of inside) {
    if (checkpoint.at > span.last) break;
    rewrite(checkpoint, stateText(stateAt(placing.tail, checkpoint.at, settingsAt)), range, writes);
  }
  const notes = { before: [...placing.before], after: [...placing.after] };
  if (next !== undefined) {
    yield* carryOn(known, settingsAt, next, stateAt(placing.tail, next.at, settingsAt), range, writes, notes);
  }
  return { placing: { ...placing, ...notes }, writes };
}

/** From checkpoint to checkpoint as long as the state differs from the old one; then they only change hands. */
function* carryOn(
  known: Known,
  settingsAt: SettingsAt,
  from: Checkpoint,
  changed: State,
  range: Range,
  writes: Write[],
  notes: { before: Note[]; after: Note[] },
): Inquiry<void> {
  let checkpoint: Checkpoint | undefined = from;
  let state: State | undefined = changed;
  while (checkpoint !== undefined) {
    const text: string = state === undefined ? checkpoint.text : stateText(state);
    if (text === checkpoint.text) state = undefined;
    if (state === undefined && range.first === range.last) return;
    rewrite(checkpoint, text, range, writes);
    const following: Checkpoint | undefined = yield* checkpointAfter(known, checkpoint.at);
    if (state !== undefined) {
      const end = following?.at ?? END_OF_TIME;
      const entries = yield* countingBetween(known, checkpoint.at, end);
      const old = checkpoint.text === "" ? undefined : stateFrom(checkpoint.text);
      if (old !== undefined) onwards(old, entries, end, settingsAt, notes.before);
      state = onwards(state, entries, end, settingsAt, notes.after);
    }
    checkpoint = following;
  }
}

/** Writes a checkpoint anew if its state differs, or if more than one row stands between then and now. */
function rewrite(old: Checkpoint, text: string, range: Range, writes: Write[]): void {
  if (text === old.text && range.first === range.last) return;
  writes.push(...checkpointAnew(old.chain, old.at, text, range));
}

function onwards(
  from: State,
  entries: readonly { readonly placed: Parameters<typeof follow>[1] }[],
  end: Instant,
  settingsAt: SettingsAt,
  notes: Note[],
): State {
  const sink = { ...NOWHERE, note: (note: Note) => notes.push(note) };
  let state = from;
  for (const { placed } of entries) state = follow(state, placed, settingsAt, sink);
  return end === END_OF_TIME ? state : comeUpTo(state, end, sink);
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
