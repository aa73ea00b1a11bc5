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

/** Whether nobody knows by far when a mark was made: a clear that was found, at some time before. */
export function isFarFromSure({ from, looseUntil }: Mark): boolean {
  return looseUntil > later(from, LONGEST_GRAIN);
}

/** A flow at a known rate that a charted time may not be sure to lie after. */
export interface Recent {
  readonly rate: Rate;
  readonly start: Instant;
  readonly end: Instant;
}

export interface Counter extends Mark {
  readonly other: DoubtfulMark | null;
  /** What it counted last, within the longest span that a charted time stands for. */
  readonly recent: readonly Recent[];
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

/** What was delivered over a span that begins where the counter stands. */
export interface Counted {
  readonly volume: Volume;
  /** Null at a rate nobody knows. */
  readonly rate: Rate | null;
  readonly start: Instant;
  readonly end: Instant;
}

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

/** Of a flow, what fell into the span that the mark's charted time stands for. */
function earlyOf({ looseUntil }: Mark, { volume, rate, start, end }: Counted): Volume {
  if (rate === null || start >= looseUntil) return NOTHING;
  return lesser(volume, delivered(rate, Math.min(end, looseUntil) - start));
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

const LONGEST_GRAIN = 5 * MINUTE;

/** The other mark, if it still matters at an instant. */
export function otherAt(other: Counter["other"], at: Instant): Counter["other"] {
  return other?.clear != null && other.clear.at < later(at, -CLOCKS_APART) ? null : other;
}

/** As much of them as still matters at an instant, and no more, so that states that go on alike are alike. */
export function recentAt(recent: readonly Recent[], at: Instant): readonly Recent[] {
  const since = later(at, -LONGEST_GRAIN);
  return recent.filter(({ end }) => end > since).map((one) => ({ ...one, start: latest(one.start, since) }));
}

/**
 * What is recent with one flow more. An entry that changes no flow still cuts it; here the parts are one, so
 * that it leaves no trace. What is no longer recent goes as new flows come.
 */
function joined(recent: readonly Recent[], { rate, start, end }: Counted): readonly Recent[] {
  if (rate === null) return recent;
  const last = recent.at(-1);
  const goesOn = last !== undefined && last.end === start && last.rate === rate;
  const longer = { rate, start: goesOn ? last.start : start, end };
  const before = goesOn ? recent.slice(0, -1) : recent;
  const since = end - LONGEST_GRAIN;
  const gone = before.length > 0 && before[0]!.end <= since;
  return [...(gone ? before.filter((one) => one.end > since) : before), longer];
}

/** What flowed within the span before an instant that a charted time stands for. */
export function flowedBefore({ recent }: Counter, at: Instant, grain: Settings["chartingGrain"]): Volume {
  const from = at - (looseUntil(at, grain) - at);
  return recent
    .filter(({ end }) => end > from)
    .reduce((sum, { rate, start, end }) => plus(sum, delivered(rate, end - Math.max(start, from))), NOTHING);
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

/** What flows within the grain before and after the time of a reading. */
export interface Around {
  readonly behind: Volume;
  readonly ahead: Volume;
}

/** How far a reading may be off: whole per cent of what was computed, and a floor by type of channel. */
export interface Tolerance {
  readonly percent: number;
  readonly pump: Volume;
  readonly syringe: Volume;
}

/**
 * Judges a reading by its increment over a mark: it agrees within the larger of a share and
 * a floor of any value the computed curve takes within the grain of charting, at either end of the span.
 * What was done to the channel is charted as coarsely as when it was read, so at either end the curve may lie
 * a grain earlier or later. The share is also one of what the primary would have given while a secondary ran.
 * Lower than the mark it never agrees.
 */
export function compare(
  mark: Mark,
  value: Volume,
  { behind, ahead }: Around,
  type: ChannelType,
  { percent, pump, syringe }: Tolerance,
): Comparison {
  const increment = minus(value, mark.base);
  const least = minus(mark.since, greater(mark.early, lesser(behind, mark.since)));
  const most = plus(mark.since, greater(mark.late, ahead));
  const nearest = greater(least, lesser(most, increment));
  const gap = increment < nearest ? minus(nearest, increment) : minus(increment, nearest);
  const share = percentOf(plus(nearest, mark.waited), percent);
  const tolerance = greater(share, type === "syringe" ? syringe : pump);
  const free = increment > most && (mark.atLeast || type === "metered" || type === "gravity");
  const agrees = increment >= NOTHING && (gap <= tolerance || free);
  return { increment, computed: mark.since, least, most, gap, tolerance, agrees };
}
