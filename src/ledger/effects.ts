/** The figures that entries would move, before anything is recorded. */

import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { type Instant, later } from "../time/instant.js";
import { volumesOver } from "./answers.js";
import type { Coordinates } from "./coordinates.js";
import { intervalsOf } from "./period.js";
import { shiftOf } from "./stay.js";
import type { VolumesText } from "./volumes-text.js";

export interface Effect {
  readonly row: { readonly line: string | null; readonly label: string };
  readonly start: string;
  readonly end: string;
  readonly before: number | null;
  readonly after: number | null;
}

/** By the hour as long as that is readable, then by the shift. */
const BY_HOUR_UP_TO = 3 * DAY;

/** Figures per line that differ between two states of knowledge, from the shift of the first change on. */
export function* effectsOf(before: Coordinates, after: Coordinates, changedFrom: Instant): Inquiry<Effect[]> {
  const { facts, until } = before;
  const start = shiftOf(facts, changedFrom).start;
  if (start >= until) return [];
  const end = shiftOf(facts, later(until, -1)).end;
  const by = end - start > BY_HOUR_UP_TO ? "shift" : "hour";
  const divided = intervalsOf({ start, end }, by, facts.conventions.stretches);
  if (divided.refused) return [];
  const over = (at: Coordinates) =>
    volumesOver(at, { start, end }, divided.done, { per: "line", precision: undefined });
  return differing(yield* over(before), yield* over(after));
}

function differing(before: VolumesText, after: VolumesText): Effect[] {
  const keys = new Map([...before.rows, ...after.rows].map((row) => [row.key, row.label]));
  const row = (text: VolumesText, key: string | null) => text.rows.find((one) => one.key === key);
  return [...keys].flatMap(([line, label]) =>
    after.intervals.flatMap(({ start, end }, i) => {
      const was = row(before, line)?.volumes[i] ?? 0;
      const is = row(after, line)?.volumes[i] ?? 0;
      return was === is ? [] : [{ row: { line, label }, start, end, before: was, after: is }];
    }),
  );
}
