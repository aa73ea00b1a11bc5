/**
 * A running total of a device as the ledger sees it: what it was known to show at a mark (a reading or a
 * clear), and what was computed since. Where a reading and the computed volume disagree there are two
 * marks, the one that counts and the other one, until a later reading tells which of them was right.
 *
 * Invariant: `since` of both marks grows by exactly what flows, so what is at risk is never forgotten by
 * anything but a reading or a clear.
 */

import type { Settings } from "../conventions/settings.js";
import { type Instant, later, latest, MINUTE } from "../time/instant.js";
import { type Counted, earlyOf, type Mark, markAt, markOf } from "./mark.js";
import { delivered, greater, NOTHING, plus, type Volume } from "./quantity.js";
import { joined, type Recent } from "./recent.js";

/** Why there is a second mark. */
export type Doubt =
  /** The mark before a reading that agreed: it may have been a little off all the same. */
  | "before-agreed"
  /** The mark before a reading that a person confirmed and that disagreed. */
  | "before-disputed"
  /** The same, of a reading that would agree had it been taken some minutes from its charted time. */
  | "before-mistimed"
  /** A reading of a device that disagreed, or a zero: it waits for somebody to decide. */
  | "waiting"
  /** A reading that a person decided not to use: the device may show it all the same. */
  | "not-used"
  /** The mark before a clear: read by another clock, what it showed may be charted some minutes after the clear. */
  | "before-clear";

/** The mark that does not count, why there is one, and the clear it stood before, if that is why. */
export interface DoubtfulMark extends Mark {
  readonly doubt: Doubt;
  readonly clear: Clear | null;
}

/** When something cleared a counter. */
export interface Clear {
  readonly entry: string;
  readonly at: Instant;
}

export interface Counter extends Mark {
  readonly other: DoubtfulMark | null;
  /** What it counted last, within the longest span that a charted time stands for. */
  readonly recent: readonly Recent[];
}

/** A counter that stands on a mark; every counter is made here or in `counting`, so that all are of one shape. */
export function counterOf(mark: Mark, other: Counter["other"], recent: Counter["recent"]): Counter {
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
    other,
    recent,
  };
}

/** A second mark, and why there is one. */
export function doubted(mark: Mark, doubt: Doubt, clear: Clear | null = null): DoubtfulMark {
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
    doubt,
    clear,
  };
}

/**
 * The counter after a clear. What it counted before is kept for a while as the other mark: whoever read it did
 * so by a clock of their own, by which the flow may have gone on until then.
 */
export function clearedCounter(
  { entry, at, latest: end }: Clear & { readonly latest: Instant },
  before: Counter | undefined,
  grain: Settings["chartingGrain"],
): Counter {
  const mark = markAt(entry, at, null, grain);
  const loose = { ...mark, looseUntil: latest(mark.looseUntil, end) };
  return counterOf(loose, before === undefined ? null : beforeClear(before, { entry, at }), []);
}

function beforeClear(counter: Counter, clear: Clear): DoubtfulMark {
  const last = counter.recent.at(-1);
  const wentOn = last === undefined || last.end < clear.at ? NOTHING : delivered(last.rate, CLOCKS_APART);
  return doubted({ ...markOf(counter), late: greater(counter.late, wentOn) }, "before-clear", clear);
}

/** How far the clocks of a person and a device may lie apart. */
export const CLOCKS_APART = 3 * MINUTE;

/** The counter after a flow it counts. Written out: this is done for every flow, and spreading costs more. */
export function counting(counter: Counter, flow: Counted, ofBolus: boolean): Counter {
  const { other } = counter;
  return {
    entry: counter.entry,
    read: counter.read,
    base: counter.base,
    from: counter.from,
    looseUntil: counter.looseUntil,
    since: plus(counter.since, flow.volume),
    early: plus(counter.early, earlyOf(counter, flow)),
    late: counter.late,
    waited: counter.waited,
    flowing: counter.flowing + (flow.end - flow.start),
    bolus: counter.bolus || ofBolus,
    atLeast: counter.atLeast || flow.rate === null,
    other: other === null ? null : doubtfulOnwards(other, flow, ofBolus),
    recent: joined(counter.recent, flow),
  };
}

/** What is delivered after a clear the mark before that never counted. */
function doubtfulOnwards(mark: DoubtfulMark, flow: Counted, ofBolus: boolean): DoubtfulMark {
  if (mark.doubt === "before-clear") return mark;
  return {
    entry: mark.entry,
    read: mark.read,
    base: mark.base,
    from: mark.from,
    looseUntil: mark.looseUntil,
    since: plus(mark.since, flow.volume),
    early: plus(mark.early, earlyOf(mark, flow)),
    late: mark.late,
    waited: mark.waited,
    flowing: mark.flowing + (flow.end - flow.start),
    bolus: mark.bolus || ofBolus,
    atLeast: mark.atLeast || flow.rate === null,
    doubt: mark.doubt,
    clear: mark.clear,
  };
}

/** The counter after a time in which a secondary ran and the primary would have given so much. */
export function waiting(counter: Counter, volume: Volume): Counter {
  const { waited, other } = counter;
  return {
    ...counter,
    waited: plus(waited, volume),
    other:
      other === null || other.doubt === "before-clear"
        ? other
        : { ...other, waited: plus(other.waited, volume) },
  };
}

/** The other mark, if it still matters at an instant. */
export function otherAt(other: Counter["other"], at: Instant): Counter["other"] {
  return other?.clear != null && other.clear.at < later(at, -CLOCKS_APART) ? null : other;
}

/**
 * The mark since which nobody has written down what it counted: a reading that counts for nothing, not yet
 * or by a decision, is written down all the same. A zero says that it was cleared, not what it had counted.
 */
export function writtenDown(counter: Counter): Mark {
  const { other } = counter;
  const told = other !== null && (other.doubt === "waiting" || other.doubt === "not-used");
  return markOf(told && other.base > NOTHING ? other : counter);
}
