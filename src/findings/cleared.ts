/**
 * What clears lost. Of one that was found nobody knows when it was: it can have lost all that was counted up to
 * the latest it can have been, less what the total shows when it is read next, since so much was counted
 * after it.
 */

import { comeUpTo } from "../infusion/course.js";
import type { TotalCleared } from "../infusion/evidence.js";
import { NOWHERE } from "../infusion/flow.js";
import type { Mark } from "../infusion/mark.js";
import { greater, lesser, minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { earliest } from "../time/instant.js";
import type { Evidence } from "./finding.js";

/** What came to light of clears and readings up to an instant, and the state then or at the last entry before. */
export type Clearing = Pick<Evidence, "state" | "until"> & {
  readonly collected: Pick<Evidence["collected"], "clears" | "readings">;
};

/** Every clear with the most that it can have lost, as far as is known by now. */
export function clearsIn(clearing: Clearing): TotalCleared[] {
  return clearing.collected.clears.map((clear) =>
    clear.latest <= clear.at ? clear : atTheLatest(clear, clearing),
  );
}

function atTheLatest(clear: TotalCleared, clearing: Clearing): TotalCleared {
  const next = nextLook(clear, clearing);
  if (next === undefined) return clear;
  const { mark, shows } = next;
  const further = greater(NOTHING, lesser(mark.early, minus(mark.since, shows)));
  const longest = clear.latest - clear.at;
  const on = (before: Mark): Mark => ({
    ...before,
    since: plus(before.since, further),
    flowing: before.flowing + (further > NOTHING ? Math.min(mark.flowing, longest) : 0),
    bolus: before.bolus || (further > NOTHING && mark.bolus),
    atLeast: before.atLeast || mark.atLeast,
  });
  return {
    ...clear,
    over: on(clear.over),
    written: on(clear.written),
    expected: plus(clear.expected, further),
    lost: plus(clear.lost, further),
  };
}

/** What was counted since the clear when the total was next read, cleared again, or is asked about now. */
function nextLook(
  { entry, channel, total, latest }: TotalCleared,
  { collected, state, until }: Clearing,
): { readonly mark: Mark; readonly shows: Volume } | undefined {
  const isOver = (one: { readonly channel: string; readonly total: string; readonly over: Mark }) =>
    one.channel === channel && one.total === total && one.over.entry === entry;
  const read = collected.readings.find(isOver);
  if (read !== undefined) return { mark: read.over, shows: read.value };
  const again = collected.clears.find(isOver);
  if (again !== undefined) return { mark: again.over, shows: NOTHING };
  const now = comeUpTo(state, earliest(latest, until), NOWHERE).channels.get(channel);
  const mark = now?.counters[total];
  return mark?.entry === entry ? { mark, shows: NOTHING } : undefined;
}
