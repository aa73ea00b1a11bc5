/** The course over a period, from the nearest checkpoint: what it hands out, and the state at its end. */

import { type Collected, collector } from "../infusion/collected.js";
import { comeUpTo, followAll } from "../infusion/course.js";
import { NOWHERE, type Sink } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { type CountingEntry, type Known, stretchBetween } from "./replay.js";

export interface Course {
  /** When the state was read that it begins with. */
  readonly at: Instant;
  readonly collected: Collected;
  readonly entries: readonly CountingEntry[];
  /** At the end, without and with the entries at that very instant. */
  readonly before: State;
  readonly state: State;
}

/** The course over a period, and what counts in it and at its end. */
export function* courseOf(known: Known, { start, end }: Period, settingsAt: SettingsAt): Inquiry<Course> {
  const from = yield* stretchBetween(known, settingsAt, start, later(end, 1));
  const counting = from.entries;
  const collected = collector();
  let state = from.state;
  let next = 0;
  const followUp = (before: Instant, sink: Sink) => {
    const first = next;
    while (next < counting.length && counting[next]!.placed.entry.at < before) next++;
    const told = counting.slice(first, next).map(({ placed }) => placed);
    state = followAll(state, told, settingsAt, sink);
  };
  followUp(start, NOWHERE);
  if (from.at < start) state = comeUpTo(state, start, NOWHERE);
  const first = next;
  followUp(end, collected.sink);
  const before = comeUpTo(state, end, collected.sink);
  state = before;
  followUp(later(end, 1), collected.sink);
  return { at: from.at, collected, entries: counting.slice(first), before, state };
}
