/**
 * The figures that a signature covers and that two answers are compared by: what each line delivered, what
 * went in and came out by category, the net, and how often nobody measured. How sure a figure is stands
 * beside it and is no part of it: that changes with time alone.
 */

import { balanceOf } from "../balance/balance.js";
import type { Category } from "../balance/posting.js";
import { volumeRows } from "../infusion/volumes.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest, MINUTE, type Period } from "../time/instant.js";
import { shiftAt, shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { readInstant } from "../wire/instant.js";
import { microlitres, millilitres } from "../wire/quantity.js";
import type { FigureOf, FigureRowText, FiguresText } from "../wire/signed.js";
import type { Coordinates, Moment } from "./coordinates.js";
import { categoryLabel, lineLabels } from "./labels.js";
import { beginningOf, postedOver } from "./posted.js";
import { canonical, digestOf } from "./record.js";
import { shiftOf } from "./stay.js";
import type { Window } from "./window.js";

export interface FigureRow {
  readonly of: FigureOf;
  readonly key: string | null;
  readonly label: string;
  /** Per interval: whole microlitres as shown, or how often nobody measured. */
  readonly values: readonly number[];
}

export interface Figures {
  /** In order; there may be time between them. */
  readonly intervals: readonly Period[];
  /** Rows of which something is not 0. */
  readonly rows: readonly FigureRow[];
}

/** Figures, and what they are made of. */
export interface Figured extends Figures {
  readonly window: Window;
  /** Minutes of the intervals of which nobody knows what flowed, by line. */
  readonly unknown: readonly {
    readonly key: string | null;
    readonly label: string;
    readonly minutes: number;
  }[];
}

/** How far back is looked for what reaches into figures: nobody is away, and nothing is lost, for longer. */
const REACHES = 7 * DAY;

/** The figures of intervals, at least one, as they are known and as far as they have come. */
export function* figuresOver(at: Moment, intervals: readonly Period[]): Inquiry<Figured> {
  const { facts, known, until } = at;
  const { settingsAt, stretches } = facts.conventions;
  const period = { start: intervals[0]!.start, end: intervals.at(-1)!.end };
  const begun = beginningOf(facts);
  const begins = latest(begun, shiftOf(facts, later(period.start, -REACHES)).start);
  const from = earliest(begins, period.start);
  const { postings, window, amounts } = yield* postedOver(at, {
    intervals,
    from,
    since: from,
    lookBack: from,
  });
  const balance = balanceOf(postings, intervals.length);
  const lines = volumeRows(
    { ...window, amounts },
    {
      intervals,
      anchors: shiftsIn(stretches, period).map(({ start }) => start),
      until,
      admittedAt: facts.admittedAt,
      stepOf: (shift) => settingsAt(shift).precision,
      per: "line",
    },
  );
  const labels = yield* lineLabels(
    known,
    lines.flatMap(({ key }) => key ?? []),
  );
  const named = (key: string | null) => (key === null ? "No line named" : (labels.get(key) ?? key));
  const rows: FigureRow[] = [
    ...lines.map(({ key, volumes }) => row("volume", key, named(key), volumes)),
    ...(["intake", "output"] as const).flatMap((side) =>
      balance[side].rows.map(({ category, volumes }) => ofCategory(side, category, volumes)),
    ),
    row("net", null, "Net", balance.net.volumes),
    ...balance.unmeasured.map(({ category, occurrences }) => ofCategory("unmeasured", category, occurrences)),
  ];
  const told = addedUp(rows).filter(({ values }) => values.some((value) => value !== 0));
  const unknown = lines
    .map(({ key, unknown }) => ({
      key,
      label: named(key),
      minutes: minutesOf(unknown.reduce((a, b) => a + b, 0)),
    }))
    .filter(({ minutes }) => minutes > 0);
  return { intervals, rows: told, window, unknown };
}

function row(of: FigureOf, key: string | null, label: string, values: readonly (number | null)[]): FigureRow {
  return { of, key, label, values: values.map((value) => value ?? 0) };
}

/** Rows of one name as one: what has no line may have none for several reasons. */
function addedUp(rows: readonly FigureRow[]): FigureRow[] {
  const sums = new Map<string, FigureRow>();
  for (const one of rows) {
    const name = nameOfRow(one);
    const before = sums.get(name);
    const values = one.values.map((value, i) => value + (before?.values[i] ?? 0));
    sums.set(name, { ...one, values });
  }
  return [...sums.values()];
}

function ofCategory(of: FigureOf, category: Category | null, values: readonly number[]): FigureRow {
  return row(of, category, categoryLabel(category), values);
}

/** Minutes to one decimal, rounded up, so that an unknown second is not shown as none. */
export function minutesOf(milliseconds: number): number {
  return Math.ceil(milliseconds / SHOWN) / 10;
}

/** A tenth of a minute. */
const SHOWN = MINUTE / 10;

/** The milliseconds that minutes are shown of. */
export function shownMilliseconds(milliseconds: number): number {
  return Math.ceil(milliseconds / SHOWN) * SHOWN;
}

/** How often nobody measured what came out, by category. */
export function unmeasuredIn({ rows }: Pick<Figures, "rows">) {
  return rows
    .filter(({ of }) => of === "unmeasured")
    .map(({ key, label, values }) => ({
      key,
      label,
      occurrences: values.reduce((sum, one) => sum + one, 0),
    }));
}

/** What rows are told apart by. */
export function nameOfRow({ of, key }: Pick<FigureRow, "of" | "key">): string {
  return JSON.stringify([of, key]);
}

/** SHA-256 of the canonical JSON of the figures: their intervals as instants, and rows in the order of their names. */
export function digestOfFigures({ intervals, rows }: Figures): string {
  const told = rows
    .map(({ of, key, values }) => [of, key, values] as const)
    .sort(([a, b], [c, d]) => (nameOfRow({ of: a, key: b }) < nameOfRow({ of: c, key: d }) ? -1 : 1));
  const spans = intervals.map(({ start, end }) => [start, end]);
  return digestOf(canonical({ intervals: spans, rows: told }));
}

export function figuresText({ intervals, rows }: Figures, at: Coordinates): FiguresText {
  const { stretches } = at.facts.conventions;
  const time = (instant: Instant) => formatInstant(instant, shiftAt(stretches, instant).zone);
  return {
    intervals: intervals.map(({ start, end }) => ({ start: time(start), end: time(end) })),
    rows: rows.map(({ of, key, label, values }): FigureRowText => {
      return {
        of,
        key,
        label,
        values: values.map((value) => (of === "unmeasured" ? value : millilitres(value))),
      };
    }),
  };
}

export function figuresFrom({ intervals, rows }: FiguresText): Figures {
  return {
    intervals: intervals.map(({ start, end }) => ({ start: readInstant(start), end: readInstant(end) })),
    rows: rows.map(({ of, key, label, values }) => {
      return {
        of,
        key,
        label,
        values: values.map((value) => (of === "unmeasured" ? value : microlitres(value))),
      };
    }),
  };
}

/** A figure that is not the same in two lists over the same intervals. */
export interface Moved {
  readonly row: Pick<FigureRow, "of" | "key" | "label">;
  readonly interval: Period;
  readonly before: number;
  readonly after: number;
}

/** By how many whole microlitres the figure moved that moved most; what nobody measured has no volume. */
export function mostOf(moved: readonly Moved[]): number {
  const volumes = moved.filter(({ row }) => row.of !== "unmeasured");
  return volumes.reduce((most, { before, after }) => Math.max(most, Math.abs(after - before)), 0);
}

const ORDER: readonly FigureOf[] = ["volume", "intake", "output", "net", "unmeasured"];

/** The figures that differ, row by row; what is in one alone is 0 in the other. */
export function movedBetween(before: Figures, after: Figures): Moved[] {
  const was = new Map(before.rows.map((one) => [nameOfRow(one), one]));
  const is = new Map(after.rows.map((one) => [nameOfRow(one), one]));
  const rows = [...new Map([...was, ...is])].sort(
    ([, a], [, b]) => ORDER.indexOf(a.of) - ORDER.indexOf(b.of),
  );
  return rows.flatMap(([name, { of, key, label }]) =>
    after.intervals.flatMap((interval, i): Moved[] => {
      const [then, now] = [was.get(name)?.values[i] ?? 0, is.get(name)?.values[i] ?? 0];
      return then === now ? [] : [{ row: { of, key, label }, interval, before: then, after: now }];
    }),
  );
}

/** The same figures over some of their intervals alone. */
export function figuresOf({ intervals, rows }: Figures, wanted: readonly Period[]): Figures {
  const places = wanted.map(({ start }) => intervals.findIndex((one) => one.start === start));
  const own = rows
    .map((one) => ({ ...one, values: places.map((place) => one.values[place] ?? 0) }))
    .filter(({ values }) => values.some((value) => value !== 0));
  return { intervals: wanted, rows: own };
}
