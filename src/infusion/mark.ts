/**
 * A mark: a moment at which it was known what a running total showed, and what was computed since. What a
 * charted time stands for is a span, so beside what was computed stands what flowed in the spans around it.
 */

import type { Settings } from "../conventions/settings.js";
import { type Instant, later, MINUTE } from "../time/instant.js";
import { delivered, lesser, NOTHING, plus, type Rate, type Volume } from "./quantity.js";

/** A moment at which it is known what the counter showed, and what was computed since. */
export interface Mark {
  /** The entry it stands on: a reading, a clear, or what connected the channel. */
  readonly entry: string;
  /** Whether `base` was read, not merely cleared. */
  readonly read: boolean;
  /** What the counter showed then. */
  readonly base: Volume;
  readonly from: Instant;
  /** The end of the span that the charted time `from` stands for. */
  readonly looseUntil: Instant;
  /** What was computed since. */
  readonly since: Volume;
  /** Of that, what flowed before `looseUntil`: it may have been shown already. */
  readonly early: Volume;
  /** What flowed just before `from`, as long as the charted time stands for: it may have been shown only afterwards. */
  readonly late: Volume;
  /** What the primary would have given since while a secondary ran: when that is over hangs on how exact its rate is. */
  readonly waited: Volume;
  /** Milliseconds of flow since. */
  readonly flowing: number;
  /** Some of it was a bolus: however short, that was given, and did not merely go on flowing. */
  readonly bolus: boolean;
  /** Something flowed since at a rate nobody knows, so `since` is the least it can have been. */
  readonly atLeast: boolean;
}

/** A counter's mark alone. Written out, as below: copying the rest of an object costs more. */
export function markOf(mark: Mark): Mark {
  return {
    entry: mark.entry,
    read: mark.read,
    base: mark.base,
    from: mark.from,
    looseUntil: mark.looseUntil,
    since: mark.since,
    early: mark.early,
    late: mark.late,
    waited: mark.waited,
    flowing: mark.flowing,
    bolus: mark.bolus,
    atLeast: mark.atLeast,
  };
}

/** The longest span that a charted time can stand for. */
export const LONGEST_GRAIN = 5 * MINUTE;

/** Whether nobody knows by far when a mark was made: a clear that was found, at some time before. */
export function isFarFromSure({ from, looseUntil }: Mark): boolean {
  return looseUntil > later(from, LONGEST_GRAIN);
}

/** The end of the span that a charted time stands for: people chart by the minute, or by five. */
export function looseUntil(at: Instant, grain: Settings["chartingGrain"]): Instant {
  if (at % MINUTE !== 0) return at;
  return later(at, at % grain === 0 ? grain : MINUTE);
}

/** A mark; `late` is what flowed within the grain before it. */
export function markAt(
  entry: string,
  at: Instant,
  base: Volume | null,
  grain: Settings["chartingGrain"],
  late: Volume = NOTHING,
): Mark {
  return {
    entry,
    read: base !== null,
    base: base ?? NOTHING,
    from: at,
    looseUntil: looseUntil(at, grain),
    since: NOTHING,
    early: NOTHING,
    late,
    waited: NOTHING,
    flowing: 0,
    bolus: false,
    atLeast: false,
  };
}

/** What was delivered over a span that begins where the counter stands. */
export interface Counted {
  readonly volume: Volume;
  /** Null at a rate nobody knows. */
  readonly rate: Rate | null;
  readonly start: Instant;
  readonly end: Instant;
}

/** Of a flow, what fell into the span that the mark's charted time stands for. */
export function earlyOf({ looseUntil }: Mark, { volume, rate, start, end }: Counted): Volume {
  if (rate === null || start >= looseUntil) return NOTHING;
  return lesser(volume, delivered(rate, Math.min(end, looseUntil) - start));
}

/** What the counter should show by a mark. */
export function expectedBy(mark: Mark): Volume {
  return plus(mark.base, mark.since);
}
