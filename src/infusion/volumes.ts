/**
 * Charted volumes: what was delivered per row and interval, rounded so that everything adds up.
 *
 * Rounding happens once, on the cumulative curve of the finest row (channel × bag × role, or one
 * measured amount), anchored at the start of the shift. Every other figure is a sum of those, so
 * hours add up to their shift, shifts to their day, and every grouping to the same total.
 */

import type { Step } from "../conventions/settings.js";
import type { Instant, Period } from "../time/instant.js";
import type { Fluid, IntakeCategory } from "./entry.js";
import { deliveredBy, type Flow, type FlowRole, type UnknownSpan } from "./flow.js";
import { NOTHING, plus, shownAs, type Volume } from "./quantity.js";

/** A volume somebody measured, charted at one instant. */
export interface Amount {
  readonly entry: string;
  readonly at: Instant;
  readonly category: IntakeCategory;
  readonly line: string | null;
  readonly item: string | null;
  readonly volume: Volume;
  /** Whether an amount exactly on a boundary belongs to the interval that ends or the one that starts there. */
  readonly boundary: "ends" | "starts";
}

/** What a figure rests on, from the strongest to the weakest. */
export const BASES = ["measured", "apportioned", "computed", "disputed", "unknown"] as const;
export type Basis = (typeof BASES)[number];

export type Grouping = "line" | "channel" | "bag" | "category";

export interface VolumeRow {
  /** Null for what has no key of its kind: amounts no line is named for, fluid without a bag. */
  readonly key: string | null;
  /** For rows without a key, what they hold. */
  readonly without: "line" | "channel" | "bag" | "fluid" | null;
  /** The channel of unidentified fluid, where the grouping is by bag. */
  readonly channel: string | null;
  readonly fluid: Fluid | null;
  /** Whole microlitres, a multiple of the step; null for an interval that has not begun. */
  readonly volumes: readonly (number | null)[];
  readonly bases: readonly (Basis | null)[];
  /** Milliseconds of each interval of which nobody knows what this row delivered. */
  readonly unknown: readonly number[];
  readonly total: number;
}

export interface VolumesAsked {
  readonly intervals: readonly Period[];
  /** Starts of all shifts in and the one at or before the start of the first interval, ascending. */
  readonly anchors: readonly Instant[];
  readonly until: Instant;
  readonly admittedAt: Instant;
  /** What figures of the shift that starts at an instant are rounded to. */
  readonly stepOf: (shift: Instant) => Step;
  readonly per: Grouping;
}

export interface Charted {
  readonly flows: readonly Flow[];
  readonly unknown: readonly UnknownSpan[];
  readonly amounts: readonly Amount[];
}

/** The rows of a grouping over the intervals, sorted by key, those without a key last. */
export function volumeRows(charted: Charted, asked: VolumesAsked): VolumeRow[] {
  const cells = cellsOf(asked);
  const rows = new Map<string, RowSoFar>();
  const rowOf = (heading: Heading): RowSoFar => {
    const name = JSON.stringify([heading.key, heading.without, heading.channel]);
    const row = rows.get(name) ?? newRow(heading, asked.intervals.length);
    rows.set(name, row);
    return row;
  };
  for (const flows of finestRows(charted.flows))
    addFlows(rowOf(headingOf(flows[0]!, asked.per)), flows, cells, asked);
  for (const amount of charted.amounts) {
    const cell = cellOf(amount, cells, asked);
    if (cell === undefined || cell.interval === null) continue;
    const row = rowOf(amountHeading(amount, asked.per));
    add(row, cell.interval, shownAs(amount.volume, asked.stepOf(cell.anchor)), "measured");
  }
  for (const span of charted.unknown) {
    if (!overlapsAny(span, asked)) continue;
    rowOf(headingOf(span, asked.per)).spans.push(span);
  }
  return [...rows.values()].map((row) => finished(row, asked)).sort(byKey);
}

/** One piece of the period between two neighbouring cuts, within one shift and at most one interval. */
interface Cell {
  readonly start: Instant;
  readonly end: Instant;
  /** The start of the shift its rounding is anchored at. */
  readonly anchor: Instant;
  /** The index of the interval it belongs to; null for the part of the first shift before the period. */
  readonly interval: number | null;
}

function cellsOf({ intervals, anchors }: VolumesAsked): Cell[] {
  const end = intervals.at(-1)!.end;
  const inside = anchors.filter((anchor) => anchor < end);
  const cuts = [...new Set([...inside, ...intervals.flatMap((i) => [i.start, i.end])])].sort((a, b) => a - b);
  const cells: Cell[] = [];
  let [anchorIndex, intervalIndex] = [0, 0];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [start, end] = [cuts[i]!, cuts[i + 1]!];
    while (anchorIndex + 1 < inside.length && inside[anchorIndex + 1]! <= start) anchorIndex++;
    while (intervalIndex < intervals.length && intervals[intervalIndex]!.end <= start) intervalIndex++;
    const interval = intervals[intervalIndex];
    const within = interval !== undefined && interval.start <= start;
    cells.push({ start, end, anchor: inside[anchorIndex] ?? start, interval: within ? intervalIndex : null });
  }
  return cells;
}

/** The cell an amount is charted in; undefined when it lies outside the period, or beyond `until`. */
function cellOf(
  amount: Amount,
  cells: readonly Cell[],
  { admittedAt, until }: VolumesAsked,
): Cell | undefined {
  const { at } = amount;
  if (amount.boundary === "starts" || at === admittedAt) {
    return at < until ? cells.find(({ start, end }) => start <= at && at < end) : undefined;
  }
  return at <= until ? cells.find(({ start, end }) => start < at && at <= end) : undefined;
}

/** Flows by finest row, each in order of time. */
function finestRows(flows: readonly Flow[]): Flow[][] {
  const rows = new Map<string, Flow[]>();
  for (const flow of flows) {
    const name = JSON.stringify([flow.channel, flow.line, flow.bag, flow.role]);
    const row = rows.get(name);
    if (row === undefined) rows.set(name, [flow]);
    else row.push(flow);
  }
  return [...rows.values()];
}

/** Adds the flows of one finest row, rounded on its own cumulative curve in every cell. */
function addFlows(row: RowSoFar, flows: readonly Flow[], cells: readonly Cell[], asked: VolumesAsked): void {
  let first = 0;
  let anchor: Instant | null = null;
  let [sinceAnchor, shownBefore] = [NOTHING, 0];
  for (const cell of cells) {
    if (cell.anchor !== anchor) [anchor, sinceAnchor, shownBefore] = [cell.anchor, NOTHING, 0];
    while (first < flows.length && flows[first]!.end <= cell.start) first++;
    let delivers = false;
    for (let i = first; i < flows.length && flows[i]!.start < cell.end; i++) {
      const flow = flows[i]!;
      const part = (deliveredBy(flow, cell.end) - deliveredBy(flow, cell.start)) as Volume;
      sinceAnchor = plus(sinceAnchor, part);
      delivers = true;
    }
    const shown = shownAs(sinceAnchor, asked.stepOf(cell.anchor));
    if (cell.interval !== null && delivers) add(row, cell.interval, shown - shownBefore, "computed");
    shownBefore = shown;
  }
}

interface Heading {
  readonly key: string | null;
  readonly without: VolumeRow["without"];
  readonly channel: string | null;
  readonly fluid: Fluid | null;
}

type Origin = {
  channel: string;
  line: string | null;
  bag: string | null;
  fluid: Fluid | null;
  role: FlowRole;
};

function headingOf(origin: Origin, per: Grouping): Heading {
  const { channel, line, bag, fluid } = origin;
  switch (per) {
    case "line":
      return { key: line, without: line === null ? "line" : null, channel: null, fluid: null };
    case "channel":
      return { key: channel, without: null, channel: null, fluid: null };
    case "bag":
      return {
        key: bag,
        without: bag === null ? "bag" : null,
        channel: bag === null ? channel : null,
        fluid,
      };
    case "category":
      return {
        key: fluid?.category ?? null,
        without: fluid === null ? "fluid" : null,
        channel: null,
        fluid: null,
      };
    default:
      return per satisfies never;
  }
}

function amountHeading(amount: Amount, per: Grouping): Heading {
  const none = { channel: null, fluid: null };
  if (per === "category") return { key: amount.category, without: null, ...none };
  if (per === "line" && amount.line !== null) return { key: amount.line, without: null, ...none };
  return { key: null, without: per === "line" ? "line" : "channel", ...none };
}

interface RowSoFar {
  readonly heading: Heading;
  readonly volumes: number[];
  readonly bases: (Basis | null)[];
  readonly spans: UnknownSpan[];
}

function newRow(heading: Heading, intervals: number): RowSoFar {
  return { heading, volumes: Array(intervals).fill(0), bases: Array(intervals).fill(null), spans: [] };
}

function add(row: RowSoFar, interval: number, microlitres: number, basis: Basis): void {
  row.volumes[interval] = row.volumes[interval]! + microlitres;
  row.bases[interval] = weaker(row.bases[interval] ?? null, basis);
}

function weaker(a: Basis | null, b: Basis): Basis {
  return a === null || BASES.indexOf(b) > BASES.indexOf(a) ? b : a;
}

function finished(row: RowSoFar, { intervals, until }: VolumesAsked): VolumeRow {
  const begun = intervals.map(({ start }) => start < until);
  const unknown = intervals.map((interval) => covered(row.spans, interval));
  return {
    ...row.heading,
    volumes: row.volumes.map((volume, i) => (begun[i] ? volume : null)),
    bases: row.bases.map((basis, i) => {
      if (!begun[i]) return null;
      return unknown[i]! > 0 ? "unknown" : (basis ?? "computed");
    }),
    unknown,
    total: row.volumes.reduce((sum, volume, i) => sum + (begun[i] ? volume : 0), 0),
  };
}

/** How many milliseconds of an interval the spans cover together, overlaps counted once. */
function covered(spans: readonly UnknownSpan[], { start, end }: Period): number {
  let [sum, reached] = [0, start];
  for (const span of [...spans].sort((a, b) => a.start - b.start)) {
    const [from, to] = [Math.max(span.start, reached), Math.min(span.end, end)];
    if (to > from) {
      sum += to - from;
      reached = to as Instant;
    }
  }
  return sum;
}

function overlapsAny(span: Period, { intervals }: VolumesAsked): boolean {
  return span.start < intervals.at(-1)!.end && span.end > intervals[0]!.start;
}

function byKey(a: VolumeRow, b: VolumeRow): number {
  if (a.key !== null && b.key !== null) return a.key < b.key ? -1 : 1;
  if (a.key === null && b.key === null) return (a.channel ?? "~") < (b.channel ?? "~") ? -1 : 1;
  return a.key === null ? 1 : -1;
}
