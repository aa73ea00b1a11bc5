/** Who was in a unit in a shift, and for what part of it: read off the stays' own chains, as far as was recorded. */

import { ask, type Inquiry, type Stay } from "../store/store.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { chainOf } from "./acknowledgements.js";
import type { StayFacts } from "./stay.js";

/** The stays that may have been in a unit in a shift, so far as was recorded by an instant; the directory only narrows it down. */
export function* staysAround(
  unit: string,
  { start, end }: Period,
  recordedBy: Instant | undefined,
): Inquiry<Stay[]> {
  const after = start;
  const stays = yield* ask({ ask: "stays-since", unit, after, recordedBy: recordedBy ?? null });
  const around: Stay[] = [];
  for (const stay of stays) {
    if (stay.admittedAt >= end) continue;
    const isEnded = stay.unit === unit && stay.dischargedAt !== null && stay.dischargedAt <= start;
    // Of who has left by now that may have been recorded later.
    if (isEnded && recordedBy !== undefined) {
      const { recordedAt } = yield* ask({ ask: "head", chain: chainOf(stay.encounter) });
      if (recordedAt <= recordedBy) continue;
    }
    around.push(stay);
  }
  return around;
}

/** When a patient was in a unit within a shift, as far as that has come. */
export function spansIn(facts: StayFacts, unit: string, shift: Period, until: Instant): Period[] {
  const { admittedAt, dischargedAt, conventions } = facts;
  const { stretches } = conventions;
  const over = earliest(shift.end, until, dischargedAt ?? until);
  const spans: { start: Instant; end: Instant }[] = [];
  for (const [i, stretch] of stretches.entries()) {
    if (stretch.unit !== unit) continue;
    const from = i === 0 ? admittedAt : latest(stretch.from, admittedAt);
    const start = latest(from, shift.start);
    const end = earliest(stretches[i + 1]?.from ?? over, over);
    if (start >= end) continue;
    const last = spans.at(-1);
    if (last?.end === start) last.end = end;
    else spans.push({ start, end });
  }
  return spans;
}
