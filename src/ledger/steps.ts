/**
 * Which entries moved figures between two states of knowledge: those before and after which they are not the
 * same. Found by halving, the widest stretch first; where that would take too long, what is left of a stretch
 * stands together.
 */

import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import type { Period } from "../time/instant.js";
import type { Coordinates, Moment } from "./coordinates.js";
import { type Figures, figuresOf, figuresOver, type Moved, movedBetween, nameOfRow } from "./figures.js";
import { stayFacts } from "./stay.js";

/** Entries after which figures were others than before them; several where it was not looked at each. */
export interface Step {
  readonly entries: readonly string[];
  readonly moved: readonly Moved[];
}

/** How often figures are worked out in between at most. */
const MOST_LOOKED_AT = 32;

const PAGE = 1_000;

/** The rows recorded after a sequence, up to another, in order. */
export function* rowsBetween(chain: Chain, after: number, upTo: number): Inquiry<Row[]> {
  const rows: Row[] = [];
  for (let last = after; last < upTo; ) {
    const page = yield* ask({ ask: "page", chain, after: last, upTo, limit: PAGE });
    if (page.length === 0) break;
    rows.push(...page);
    last = page.at(-1)!.sequence;
  }
  return rows;
}

interface Stretch {
  /** The places of its first and last row. */
  readonly first: number;
  readonly last: number;
  readonly before: Figures;
  readonly after: Figures;
}

/**
 * The steps by which the figures of some intervals came from what they were, before the first of some rows, to
 * what they are after the last. The rows have none left out between them, so that between the two sides of any one
 * of them there is nothing but that row: none is named that was not seen to move something.
 */
export function* stepsBetween(
  at: Coordinates,
  rows: readonly Row[],
  before: Figures,
  after: Figures,
): Inquiry<Step[]> {
  const changed = new Set(movedBetween(before, after).map(({ interval }) => interval.start));
  const intervals = after.intervals.filter(({ start }) => changed.has(start));
  if (rows.length === 0 || intervals.length === 0) return [];
  const done: Stretch[] = [];
  const whole = { before: figuresOf(before, intervals), after: figuresOf(after, intervals) };
  const open: Stretch[] = [{ first: 0, last: rows.length - 1, ...whole }];
  for (let looks = 0; open.length > 0; ) {
    open.sort((a, b) => a.last - a.first - (b.last - b.first));
    const { first, last, ...figures } = open.pop()!;
    if (first === last || looks === MOST_LOOKED_AT) {
      done.push({ first, last, ...figures });
      continue;
    }
    looks++;
    const middle = (first + last) >> 1;
    const half = yield* figuresAsOf(at, rows[middle]!.sequence, intervals);
    const halves: Stretch[] = [
      { first, last: middle, before: figures.before, after: half },
      { first: middle + 1, last, before: half, after: figures.after },
    ];
    open.push(...halves.filter((one) => movedBetween(one.before, one.after).length > 0));
  }
  return done
    .sort((a, b) => a.first - b.first)
    .map(({ first, last, before, after }) => ({
      entries: rows.slice(first, last + 1).map(({ id }) => id),
      moved: movedBetween(before, after),
    }));
}

/** The figures as they were when a row was the last, computed up to the same instant. */
export function* figuresAsOf(
  at: Coordinates,
  sequence: number,
  intervals: readonly Period[],
): Inquiry<Figures> {
  const then = yield* momentAsOf(at, sequence);
  return then === undefined ? { intervals, rows: [] } : yield* figuresOver(then, intervals);
}

/** The stay as it was known when a row was the last, as far as it has come by the same instant; undefined before its admission. */
export function* momentAsOf({ known, until }: Coordinates, sequence: number): Inquiry<Moment | undefined> {
  const facts = yield* stayFacts(known.chain, sequence);
  return facts && { known: { ...known, upTo: sequence }, until, facts };
}

/** The entries that moved one figure, in order of recording. */
export function causesOf({ row, interval }: Moved, steps: readonly Step[]): string[] {
  const same = (one: Moved) => nameOfRow(one.row) === nameOfRow(row) && one.interval.start === interval.start;
  return steps.filter(({ moved }) => moved.some(same)).flatMap(({ entries }) => entries);
}
