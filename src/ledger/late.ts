/**
 * An entry that changes time before what is in memory: it is put in its place from the checkpoint
 * before it, and the checkpoints after it are worked out anew, shift by shift, until a state equals the
 * old one. So it costs the span back to where its effect ends, however long the stay has gone on.
 */

import { comeUpTo, follow } from "../infusion/course.js";
import { NOWHERE } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import { stateText } from "../infusion/state-text.js";
import type { SettingsAt } from "../infusion/step.js";
import { ask, type Checkpoint, type Inquiry, type Write } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { countingBetween, END_OF_TIME, type Known } from "./replay.js";
import { type Incoming, type Placing, stateAt, tailBetween, withEntries } from "./tail.js";

export interface Span {
  /** The first instant anything changes, and the last at which an entry is put in or taken out. */
  readonly from: Instant;
  readonly last: Instant;
}

/** Puts entries in their places in the past, and what becomes of the checkpoints after them. */
export function* placeLate(
  known: Known,
  settingsAt: SettingsAt,
  without: ReadonlySet<number>,
  incoming: readonly Incoming[],
  span: Span,
  sequence: number,
): Inquiry<{ placing: Placing; writes: Write[] }> {
  const next = yield* checkpointAfter(known, span.last);
  const tail = yield* tailBetween(known, settingsAt, span.from, next?.at ?? END_OF_TIME);
  const placing = withEntries(tail, without, incoming, settingsAt);
  const writes: Write[] = [];
  const inside = yield* ask({ ask: "checkpoints-after", chain: known.chain, after: span.from, limit: 1_000 });
  for (const checkpoint of inside) {
    if (checkpoint.at > span.last) break;
    rewrite(checkpoint, stateAt(placing.tail, checkpoint.at), sequence, writes);
  }
  let checkpoint = next;
  let state = checkpoint === undefined ? undefined : stateAt(placing.tail, checkpoint.at);
  while (checkpoint !== undefined && state !== undefined) {
    if (!rewrite(checkpoint, state, sequence, writes)) break;
    const following: Checkpoint | undefined = yield* checkpointAfter(known, checkpoint.at);
    if (following === undefined) break;
    state = yield* onwards(known, settingsAt, state, checkpoint.at, following.at);
    checkpoint = following;
  }
  return { placing, writes };
}

/** Writes a checkpoint anew if its state differs; tells whether it did. */
function rewrite(old: Checkpoint, state: State, sequence: number, writes: Write[]): boolean {
  const text = stateText(state);
  if (text === old.text) return false;
  const { chain, at } = old;
  writes.push({ write: "checkpoint", checkpoint: { chain, at, validFrom: sequence, validTo: null, text } });
  return true;
}

function* onwards(
  known: Known,
  settingsAt: SettingsAt,
  from: State,
  start: Instant,
  end: Instant,
): Inquiry<State> {
  let state = from;
  for (const { placed } of yield* countingBetween(known, start, end)) {
    state = follow(state, placed, settingsAt, NOWHERE);
  }
  return comeUpTo(state, end, NOWHERE);
}

function* checkpointAfter(known: Known, after: Instant): Inquiry<Checkpoint | undefined> {
  const [next] = yield* ask({ ask: "checkpoints-after", chain: known.chain, after, limit: 1 });
  return next;
}
