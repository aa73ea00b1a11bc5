/**
 * One side of the balance as a table: a row per category with its parts beneath, per interval, with sums.
 *
 * Invariant: every figure is a sum of postings; parts add up to their row, rows to the sums, intervals to the
 * totals.
 */

import { earliest, type Instant } from "../time/instant.js";
import { CERTAIN, type Certainty, together } from "./certainty.js";
import type { Category, Part, Posting } from "./posting.js";

/** Figures per interval, in whole microlitres, and how sure each is. */
export interface Figures {
  readonly volumes: readonly number[];
  readonly certainty: readonly Certainty[];
  readonly total: number;
  readonly totalCertainty: Certainty;
}

export interface PartRow extends Figures, Part {
  /** Per interval: since when what stands at one instant in it was collected or given, where that is charted. */
  readonly since: readonly (Instant | null)[];
}

export interface CategoryRow extends Figures {
  readonly category: Category | null;
  readonly parts: readonly PartRow[];
}

export interface Table {
  readonly rows: readonly CategoryRow[];
  readonly sums: Figures;
}

/** The table of postings that all stand in an interval; rows in the order of `order`, unknown ones last. */
export function tableOf(postings: readonly Posting[], intervals: number, order: readonly Category[]): Table {
  const rows = [...grouped(postings, ({ category }) => category ?? "").values()].map((own): CategoryRow => {
    const { category } = own[0]!;
    const parts = [...grouped(own, ({ part }) => nameOf(part)).values()].map((ofPart) => ({
      ...ofPart[0]!.part,
      ...figures(ofPart, intervals),
      since: sinces(ofPart, intervals),
    }));
    return {
      category,
      ...figures(own, intervals),
      parts: parts.sort((a, b) => compare(nameOf(a), nameOf(b))),
    };
  });
  const place = ({ category }: CategoryRow) => (category === null ? order.length : order.indexOf(category));
  return { rows: rows.sort((a, b) => place(a) - place(b)), sums: figures(postings, intervals) };
}

function sinces(postings: readonly Posting[], intervals: number): (Instant | null)[] {
  const first = Array<Instant | null>(intervals).fill(null);
  for (const { interval, since } of postings) {
    if (interval === null || since === null) continue;
    const before = first[interval] ?? null;
    first[interval] = before === null ? since : earliest(before, since);
  }
  return first;
}

/** The sums of postings per interval. */
export function figures(postings: readonly Posting[], intervals: number): Figures {
  const volumes = Array<number>(intervals).fill(0);
  const certainty = Array<Certainty>(intervals).fill(CERTAIN);
  for (const { interval, shown, certainty: own } of postings) {
    if (interval === null) continue;
    volumes[interval] = volumes[interval]! + shown;
    certainty[interval] = together(certainty[interval]!, own);
  }
  return {
    volumes,
    certainty,
    total: volumes.reduce((sum, volume) => sum + volume, 0),
    totalCertainty: certainty.reduce(together, CERTAIN),
  };
}

export function grouped<T>(all: readonly T[], nameOf: (one: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const name = nameOf(one);
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [one]);
    else group.push(one);
  }
  return groups;
}

function nameOf({ line, role, item, site, channel, share }: Part): string {
  return JSON.stringify([line, site, item, role, channel, share]);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
