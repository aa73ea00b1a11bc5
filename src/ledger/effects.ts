/** The figures that differ between two states of knowledge: hour by hour at first, then by the shift. */

import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { hoursIn } from "../time/hours.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import { shiftsIn } from "../time/shifts.js";
import { millilitres } from "../wire/quantity.js";
import type { Appended } from "./append.js";
import type { Coordinates } from "./coordinates.js";
import { figuresOver, type Moved, movedBetween } from "./figures.js";
import { movedFrom } from "./reach.js";
import { placeText } from "./signature-text.js";
import { type StayFacts, shiftOf } from "./stay.js";

export interface Effect {
  /** A line; or, in the balance, a category of output, or the net. */
  readonly row: { readonly line: string | null; readonly label: string; readonly balance?: string };
  readonly start: string;
  readonly end: string;
  readonly before: number | null;
  readonly after: number | null;
}

/** By the hour at first, then by the shift; nobody looks further than half a year. */
const BY_HOUR = 3 * DAY;
const IN_ALL = 180 * DAY;

/** What is compared from the shift on in which the first figure may be another, as far as the answer has come. */
export function intervalsSince(facts: StayFacts, movedFrom: Instant, until: Instant): Period[] {
  const { stretches } = facts.conventions;
  // What is charted exactly at a shift's start may belong to the shift that ends there.
  const { start } = shiftOf(facts, later(movedFrom, -1));
  if (start >= until) return [];
  const end = earliest(shiftOf(facts, later(until, -1)).end, later(start, IN_ALL));
  const turn = earliest(end, shiftOf(facts, later(start, BY_HOUR)).start);
  const hours = hoursIn(stretches, { start, end: turn });
  return turn < end ? [...hours, ...shiftsIn(stretches, { start: turn, end })] : hours;
}

/** Figures per line, and of the balance, that entries would move, before anything is recorded. */
export function* effectsOf(
  before: Coordinates,
  after: Coordinates,
  { changedFrom, sides }: Pick<Appended, "changedFrom" | "sides">,
): Inquiry<Effect[]> {
  if (changedFrom === null || sides === null) return [];
  const from = yield* movedFrom(after, changedFrom, [sides.before, sides.after], sides.end);
  const intervals = intervalsSince(before.facts, from, before.until);
  if (intervals.length === 0) return [];
  const [was, is] = [yield* figuresOver(before, intervals), yield* figuresOver(after, intervals)];
  return movedBetween(was, is).flatMap((one): Effect[] => {
    const row = rowOf(one.row);
    if (row === null) return [];
    const { row: _, ...place } = placeText(one, after);
    const [then, now] = [millilitres(one.before), millilitres(one.after)];
    return [{ row, ...place, before: then, after: now }];
  });
}

/** What went in is told by its line, and what nobody measured has no volume. */
function rowOf({ of, key, label }: Moved["row"]): Effect["row"] | null {
  if (of === "volume") return { line: key, label };
  if (of === "net") return { line: null, label, balance: "net" };
  return of === "output" ? { line: null, label, balance: key! } : null;
}
