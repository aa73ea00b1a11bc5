/**
 * Whether the balance that a span starts from is known, and since when: gone back day by day to the last that
 * is left out or in doubt. A day that was looked at is kept until something recorded since concerns it.
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
import { windowOf } from "./window.js";

/** Null where nothing of the stay comes before the span. */
export function* broughtForward(at: Moment, start: Instant, works: Works): Inquiry<BroughtForward | null> {
  const { admittedAt, conventions } = at.facts;
  if (start <= admittedAt) return null;
  const days = daysBefore(at, start);
  for (const day of days.reverse()) {
    const settled = later(day.end, conventions.settingsAt(day.end).endConfirmedWithin + CLOCKS_APART);
    const name = `doubt ${day.start} ${day.end}`;
    const doubt = yield* works.of(name, settled, () => lastDoubt(at, day));
    if (doubt !== null) return { known: false, since: doubt };
  }
  return { known: true, since: admittedAt };
}

/** The days of the stay up to an instant, in order; whatever was charted before the admission is of the first. */
function daysBefore({ facts }: Moment, end: Instant): Period[] {
  const days: { start: Instant; end: Instant; day: string }[] = [];
  const shifts = shiftsIn(facts.conventions.stretches, { start: beginningOf(facts), end });
  for (const shift of shifts) {
    const last = days.at(-1);
    if (last?.day === shift.day) last.end = earliest(shift.end, end);
    else days.push({ start: shift.start, end: earliest(shift.end, end), day: shift.day });
  }
  return days;
}

/** When the last ended, in a day, that is left out of its balance or in doubt; null where there is none. */
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
