/**
 * A running total of a device as the ledger sees it: what it was known to show at a mark (a reading or a
 * clear), and what was computed since. Where a reading and the computed volume disagree there are two
 * marks, the one that counts and the other one, until a later reading tells which of them was right.
 *
 * Invariant: `since` of both marks grows by exactly what flows, so what is at risk is never forgotten by
 * anything but a reading or a clear.
 */

import type { Settings } from "../conventions/settings.js";
import { type Instant, later, MINUTE } from "../time/instant.js";
import type { ChannelType } from "./entry.js";
import {
  delivered,
  greater,
  lesser,
  minus,
  NOTHING,
  percentOf,
  plus,
  type Rate,
  type Volume,
} from "./quantity.js";

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
  /** Milliseconds of flow since. */
  readonly flowing: number;
  /** Something flowed since at a rate nobody knows, so `since` is the least it can have been. */
  readonly atLeast: boolean;
}

/** Why there is a second mark. */
export type Doubt =
  /** The mark before a reading that a person confirmed and that disagreed. */
  | "before-disputed"
  /** A reading of a device that disagreed, or a zero: it waits for somebody to decide. */
  | "waiting"
  /** A reading that a person decided not to use: the device may show it all the same. */
  | "not-used";

export interface Counter extends Mark {
  readonly other: (Mark & { readonly doubt: Doubt }) | null;
}

/** The end of the span that a charted time stands for: people chart by the minute, or by five. */
export function looseUntil(at: Instant, grain: Settings["chartingGrain"]): Instant {
  if (at % MINUTE !== 0) return at;
  return later(at, at % grain === 0 ? grain : MINUTE);
}

export function markAt(
  entry: string,
  at: Instant,
  base: Volume | null,
  grain: Settings["chartingGrain"],
): Mark {
  return {
    entry,
    read: base !== null,
    base: base ?? NOTHING,
    from: at,
    looseUntil: looseUntil(at, grain),
    since: NOTHING,
    early: NOTHING,
    flowing: 0,
    atLeast: false,
  };
}

/** The counter after a clear at an instant. */
export function clearedCounter(entry: string, at: Instant, grain: Settings["chartingGrain"]): Counter {
  return { ...markAt(entry, at, null, grain), other: null };
}

/** What was delivered over a span that begins where the counter stands. */
export interface Counted {
  readonly volume: Volume;
  /** Null at a rate nobody knows. */
  readonly rate: Rate | null;
  readonly start: Instant;
  readonly end: Instant;
}

/** The counter after a flow it counts. */
export function counting(counter: Counter, flow: Counted): Counter {
  const { other } = counter;
  return { ...onwards(counter, flow), other: other === null ? null : { ...other, ...onwards(other, flow) } };
}

function onwards(mark: Mark, { volume, rate, start, end }: Counted): Mark {
  const early =
    rate === null || start >= mark.looseUntil
      ? NOTHING
      : lesser(volume, delivered(rate, Math.min(end, mark.looseUntil) - start));
  return {
    ...mark,
    since: plus(mark.since, volume),
    early: plus(mark.early, early),
    flowing: mark.flowing + (end - start),
    atLeast: mark.atLeast || rate === null,
  };
}

/** What the counter should show by a mark. */
export function expectedBy(mark: Mark): Volume {
  return plus(mark.base, mark.since);
}

/** A reading held against what was computed since a mark. */
export interface Comparison {
  readonly increment: Volume;
  /** What was computed at the charted time, and the least and most within what the times stand for. */
  readonly computed: Volume;
  readonly least: Volume;
  readonly most: Volume;
  /** How far the increment lies outside of those; 0 inside. */
  readonly gap: Volume;
  readonly tolerance: Volume;
  readonly agrees: boolean;
}

/**
 * Judges a reading by its increment over a mark (domain.md 6): it agrees within the larger of a share and
 * a floor of any value the computed curve takes within the grain of charting, at either end of the span.
 * Lower than the mark it never agrees. `ahead` is what flows within the grain of the reading's own time.
 */
export function compare(
  mark: Mark,
  value: Volume,
  ahead: Volume,
  type: ChannelType,
  { percent, pump, syringe }: { percent: number; pump: Volume; syringe: Volume },
): Comparison {
  const increment = minus(value, mark.base);
  const least = minus(mark.since, mark.early);
  const most = plus(mark.since, ahead);
  const nearest = greater(least, lesser(most, increment));
  const gap = increment < nearest ? minus(nearest, increment) : minus(increment, nearest);
  const tolerance = greater(percentOf(nearest, percent), type === "syringe" ? syringe : pump);
  const free = increment > most && (mark.atLeast || type === "metered" || type === "gravity");
  const agrees = increment >= NOTHING && (gap <= tolerance || free);
  return { increment, computed: mark.since, least, most, gap, tolerance, agrees };
}
