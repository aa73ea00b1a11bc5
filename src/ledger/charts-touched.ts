/** The kept charts that a request may move figures of, beside the ledger as it was and as it is with it. */

import type { ChartCompared } from "../findings/finding.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import type { Appended } from "./append.js";
import type { Side } from "./change.js";
import { chartsCompared } from "./compared-charts.js";
import type { Known } from "./replay.js";

/** How long after a change's effect something may be emptied that holds what was changed. */
const EMPTIED_WITHIN = 2 * DAY;

/** The same of both sides of a change. */
export interface Both<T> {
  readonly before: T;
  readonly after: T;
}

export function* chartsTouched(
  before: Known,
  appended: Appended,
  now: Instant,
): Inquiry<Both<readonly ChartCompared[]>> {
  const { staged, changedFrom, facts } = appended;
  const none = { before: [], after: [] };
  const touching = spanOf(appended, now);
  if (touching === null) return none;
  const was = yield* chartsCompared({ known: before, until: now, facts }, touching);
  if (was.length === 0) return none;
  const after = { ...before, staged, stagedFrom: changedFrom };
  return { before: was, after: yield* chartsCompared({ known: after, until: now, facts }, touching) };
}

/**
 * The span in which a change may move figures: from where what is read or measured in it began, and beyond its
 * effect as long as what is emptied later may be. Null where nothing changes.
 */
function spanOf({ sides, changedFrom }: Appended, now: Instant): Period | null {
  if (sides === null || changedFrom === null) return null;
  const began = [sides.before, sides.after].flatMap((side) => [...beginnings(side)]);
  return { start: earliest(changedFrom, ...began), end: later(earliest(now, sides.end), EMPTIED_WITHIN) };
}

function* beginnings({ events, entries }: Side): Generator<Instant> {
  for (const { event, what } of events) if (event === "read" || event === "level") yield what.over.from;
  for (const { placed } of entries) {
    const { entry } = placed;
    if ("from" in entry && entry.from !== undefined) yield entry.from;
    if (entry.kind === "segment-read") yield entry.start;
  }
}
