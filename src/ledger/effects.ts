/** The figures that entries would move, before anything is recorded. */

import type { Balance } from "../balance/balance.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import { millilitres } from "../wire/quantity.js";
import { volumesOver } from "./answers.js";
import { balanceOver } from "./balance.js";
import type { Coordinates } from "./coordinates.js";
import { categoryLabel } from "./labels.js";
import { type By, intervalsOf } from "./period.js";
import { shiftOf } from "./stay.js";
import type { VolumesText } from "./volumes-text.js";

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

/** Figures per line, and of the balance, that differ between two states of knowledge, from the shift of the first change on. */
export function* effectsOf(before: Coordinates, after: Coordinates, changedFrom: Instant): Inquiry<Effect[]> {
  const { facts, until } = before;
  const { start } = shiftOf(facts, changedFrom);
  if (start >= until) return [];
  const end = earliest(shiftOf(facts, later(until, -1)).end, later(start, IN_ALL));
  const turn = earliest(end, shiftOf(facts, later(start, BY_HOUR)).start);
  const effects = yield* differing(before, after, { start, end: turn }, "hour");
  if (turn < end) effects.push(...(yield* differing(before, after, { start: turn, end }, "shift")));
  return effects;
}

function* differing(before: Coordinates, after: Coordinates, period: Period, by: By): Inquiry<Effect[]> {
  const divided = intervalsOf(period, by, before.facts.conventions.stretches);
  if (divided.refused) return [];
  const over = (at: Coordinates) =>
    volumesOver(at, period, divided.done, { per: "line", precision: undefined });
  const [was, is] = [yield* over(before), yield* over(after)];
  const rows = new Map([...was.rows, ...is.rows].map((row) => [row.key, row.label]));
  const volume = (text: VolumesText, line: string | null, i: number) =>
    text.rows.find(({ key }) => key === line)?.volumes[i] ?? 0;
  const moved = (row: Effect["row"], then: (i: number) => number, now: (i: number) => number): Effect[] =>
    is.intervals.flatMap(({ start, end }, i) => {
      const [of, to] = [then(i), now(i)];
      return of === to ? [] : [{ row, start, end, before: of, after: to }];
    });
  const { intervals } = divided.done;
  const balanceAt = function* (at: Coordinates) {
    return (yield* balanceOver(at, period, intervals, {})).balance;
  };
  const [then, now] = [yield* balanceAt(before), yield* balanceAt(after)];
  const categories = new Set([...then.output.rows, ...now.output.rows].map(({ category }) => category));
  return [
    ...[...rows].flatMap(([line, label]) =>
      moved(
        { line, label },
        (i) => volume(was, line, i),
        (i) => volume(is, line, i),
      ),
    ),
    ...[...categories].flatMap((category) => {
      const came = ({ output }: Balance, i: number) =>
        millilitres(output.rows.find((row) => row.category === category)?.volumes[i] ?? 0);
      const row = { line: null, label: categoryLabel(category), balance: category! };
      return moved(
        row,
        (i) => came(then, i),
        (i) => came(now, i),
      );
    }),
    ...moved(
      { line: null, label: "Net", balance: "net" },
      (i) => millilitres(then.net.volumes[i]!),
      (i) => millilitres(now.net.volumes[i]!),
    ),
  ];
}
