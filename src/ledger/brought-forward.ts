/**
 * Whether the balance that a span starts from is known, and since when: gone back to the last that is left out
 * or in doubt. The days that were looked at are kept until something recorded since concerns them.
 */

import type { BroughtForward } from "../audit/audited.js";
import { amountOf } from "../infusion/amount.js";
import { CLOCKS_APART } from "../infusion/counter.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { shiftsIn } from "../time/shifts.js";
import { intakesOf } from "./answers.js";
import type { Moment } from "./coordinates.js";
import type { Works } from "./kept-work.js";
import { beginningOf } from "./posted.js";
import { type StayFacts, shiftOf } from "./stay.js";
import { windowOf } from "./window.js";

/** Null where nothing of the stay comes before the span. */
export function* broughtForward(at: Moment, start: Instant, works: Works): Inquiry<BroughtForward | null> {
  const { admittedAt, conventions } = at.facts;
  if (start <= admittedAt) return null;
  // biome-ignore lint/correctness/useYield: what days a stay has follows from its facts, which all work begins with
  const parts = yield* works.of(`parts before ${start}`, admittedAt, function* () {
    return [...partsBefore(at.facts, start)];
  });
  for (const part of parts) {
    const settled = later(part.end, conventions.settingsAt(part.end).endConfirmedWithin + CLOCKS_APART);
    if (isWithout(works, part)) continue;
    const doubt = yield* works.of(`${DOUBT}${part.start} ${part.end}`, settled, () => lastDoubt(at, part));
    if (doubt !== null) return { known: false, since: doubt };
  }
  return { known: true, since: admittedAt };
}

/** How the name of kept work begins that looked for doubt in a part; its start and its end follow. */
const DOUBT = "doubt ";

/** Whether it is known that nothing in a part is in doubt: another shift's part, with nothing in it, holds all of it. */
function isWithout(works: Works, { start, end }: Period): boolean {
  return works.kept<Instant | null>(DOUBT).some(([name, doubt]) => {
    const [from, to] = name.slice(DOUBT.length).split(" ").map(Number) as [number, number];
    return doubt === null && from <= start && end <= to;
  });
}

/** The most days that are looked at in one go: a late entry has no more to be looked at again than that. */
const MOST_DAYS = 16;

/**
 * The time of the stay before an instant in parts, the last first: the day that runs, and before it as many whole
 * days as divide what is left by a power of two. So few parts are looked at, and a new day makes few of them anew.
 */
function* partsBefore(facts: StayFacts, end: Instant): Generator<Period> {
  const days = daysBefore(facts, end);
  const [running, whole] = isWhole(facts, days.at(-1)!)
    ? [undefined, days]
    : [days.at(-1)!, days.slice(0, -1)];
  if (running !== undefined) yield running;
  for (let left = whole.length; left > 0; ) {
    const count = Math.min(left & -left, MOST_DAYS);
    yield { start: whole[left - count]!.start, end: whole[left - 1]!.end };
    left -= count;
  }
}

/** The days of the stay up to an instant, in order; whatever was charted before the admission is of the first. */
function daysBefore(facts: StayFacts, end: Instant): Period[] {
  const days: { start: Instant; end: Instant; day: string }[] = [];
  for (const shift of shiftsIn(facts.conventions.stretches, { start: beginningOf(facts), end })) {
    const last = days.at(-1);
    if (last?.day === shift.day) last.end = earliest(shift.end, end);
    else days.push({ start: shift.start, end: earliest(shift.end, end), day: shift.day });
  }
  return days;
}

/** Whether a day ends where the next one begins. */
function isWhole(facts: StayFacts, { end }: Period): boolean {
  const next = shiftOf(facts, end);
  return next.start === end && next.startsDay;
}

/** When the last ended, in a period, that is left out of its balance or in doubt; null where there is none. */
function* lastDoubt({ known, until, facts }: Moment, { start, end }: Period): Inquiry<Instant | null> {
  const { settingsAt, settingsOfAmount } = facts.conventions;
  const isBefore = (at: Instant) => at < end || settingsOfAmount(at).boundary === "ends";
  const window = yield* windowOf(known, { from: start, to: end, until }, settingsAt);
  const { collected, deliveries, unattributed, unknown, entries } = window;
  const unmeasured = intakesOf(entries).filter(
    (one) => amountOf(one, settingsOfAmount(one.entry.at)) === undefined,
  );
  const lost = entries.flatMap(({ placed: { entry } }) =>
    entry.kind === "delivery-lost" && entry.volume === "unknown" ? [entry.to] : [],
  );
  const ends = [
    ...unknown.map((span) => span.end),
    ...collected.outputs.filter(({ at, leftOut }) => leftOut > 0 && isBefore(at)).map(({ at }) => at),
    ...deliveries.flatMap((one) => (one.basis === "disputed" ? [one.end] : [])),
    ...unattributed.flatMap((one) => (one.basis === "disputed" ? [one.at] : [])),
    ...unmeasured.map(({ entry }) => entry.at).filter(isBefore),
    ...lost,
  ];
  return ends.length === 0 ? null : earliest(end, latest(...ends));
}
