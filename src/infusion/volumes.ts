/**
 * Charted volumes: what was delivered per row and interval, rounded so that everything adds up.
 *
 * Rounding happens once, on the cumulative curve of the finest row (channel × bag × role, or one
 * measured amount), anchored at the start of the shift. Every other figure is a sum of those, so
 * hours add up to their shift, shifts to their day, and every grouping to the same total.
 */

import type { Step } from "../conventions/settings.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import type { Anchor } from "./anchor.js";
import { type Cell, cellOf, cellsOf, type Dividing } from "./cells.js";
import { figuresOf, finestRows, standingFigures, standingRows } from "./cumulative.js";
import { BASES, type Basis, type Delivery, type Unattributed } from "./delivery.js";
import type { IntakeCategory } from "./entry.js";
import type { UnknownSpan } from "./flow.js";
import { amountHeading, type Grouping, type Heading, headingOf, unattributedHeading } from "./headings.js";
import { named } from "./named.js";
import { shownAs, type Volume } from "./quantity.js";

/** A volume somebody measured, charted at one instant. */
export interface Amount {
  readonly entry: string;
  readonly at: Instant;
  /** Since when it was taken in, where a span is charted. */
  readonly from: Instant | null;
  readonly category: IntakeCategory;
  readonly line: string | null;
  readonly item: string | null;
  /** What counts of it, and the share of the whole that this is, in thousandths. */
  readonly volume: Volume;
  readonly share: number;
  /** All of it, where it counts for a share: ice, soft foods. */
  readonly whole: Volume;
  /** Whether an amount exactly on a boundary belongs to the interval that ends or the one that starts there. */
  readonly boundary: "ends" | "starts";
}

export interface VolumeRow extends Heading {
  /** Whole microlitres, a multiple of the step; null for an interval that has not begun. */
  readonly volumes: readonly (number | null)[];
  /** The same by rate × time alone, whatever was read; what was measured counts in it too. */
  readonly computed: readonly (number | null)[];
  readonly bases: readonly (Basis | null)[];
  /** Of each interval: since when what was measured or read at one instant in it came, where a span is known. */
  readonly since: readonly (Instant | null)[];
  /** Milliseconds of each interval of which nobody knows what this row delivered. */
  readonly unknown: readonly number[];
  readonly total: number;
}

export interface VolumesAsked extends Dividing {
  /** What figures of the shift that starts at an instant are rounded to. */
  readonly stepOf: (shift: Instant) => Step;
  readonly per: Grouping;
}

export interface Charted {
  readonly deliveries: readonly Delivery[];
  readonly unattributed: readonly Unattributed[];
  /** What stands at readings after all that is charted here, and may have been delivered within it. */
  readonly readAfter?: readonly Unattributed[];
  readonly anchors: readonly Anchor[];
  readonly unknown: readonly UnknownSpan[];
  readonly amounts: readonly Amount[];
}

/** The rows of a grouping over the intervals, sorted by key, those without a key last. */
export function volumeRows(charted: Charted, asked: VolumesAsked): VolumeRow[] {
  const cells = cellsOf(asked);
  const rows = new Map<string, RowSoFar>();
  const rowOf = (heading: Heading): RowSoFar => {
    const name = named(heading.key, heading.without, heading.channel);
    const row = rows.get(name) ?? newRow(heading, asked.intervals.length);
    rows.set(name, row);
    return row;
  };
  const known = knownInstants(charted.anchors);
  for (const deliveries of finestRows(charted.deliveries)) {
    addDeliveries(rowOf(headingOf(deliveries[0]!, asked.per)), deliveries, cells, asked, known);
  }
  for (const amount of charted.amounts) {
    const cell = cellOf(amount, cells, asked);
    if (cell === undefined || cell.interval === null) continue;
    const shown = shownAs(amount.volume, asked.stepOf(cell.anchor));
    add(rowOf(amountHeading(amount, asked.per)), cell.interval, {
      shown,
      computed: shown,
      basis: "measured",
      since: amount.from,
    });
  }
  const cellAt = ({ at }: Unattributed) => cellOf({ at, boundary: "ends" }, cells, asked);
  for (const amounts of standingRows(charted.unattributed)) {
    for (const { one, cell, shown } of standingFigures(amounts, cellAt, asked.stepOf)) {
      if (cell.interval === null) continue;
      const { basis, from: since } = one;
      add(rowOf(unattributedHeading(one, asked.per)), cell.interval, { shown, computed: 0, basis, since });
    }
  }
  for (const amount of countedElsewhere(charted)) {
    const { intervals } = asked;
    const within = intervals.flatMap(({ end }, i) => (amount.from < end && amount.at > end ? [i] : []));
    if (within.length === 0) continue;
    const { bases } = rowOf(unattributedHeading(amount, asked.per));
    for (const i of within) bases[i] = weaker(bases[i] ?? null, amount.basis);
  }
  for (const span of charted.unknown) {
    if (!overlapsAny(span, asked)) continue;
    rowOf(headingOf(span, asked.per)).spans.push(span);
  }
  return [...rows.values()].map((row) => finished(row, asked)).sort(byKey);
}

/**
 * What metered channels counted up to a reading: all of it belongs to the interval of that, so the ones before it
 * show none of it. Those rest on the reading too, inside of its span, and are no computed zeros.
 */
export function countedElsewhere({ unattributed, readAfter = [], anchors }: Charted): Unattributed[] {
  const metered = new Set(anchors.filter((one) => one.metered).map(({ entry }) => entry));
  return [...unattributed, ...readAfter].filter(({ entry }) => metered.has(entry));
}

/** Adds the deliveries of one finest row, rounded on its own cumulative curve in every cell. */
function addDeliveries(
  row: RowSoFar,
  deliveries: readonly Delivery[],
  cells: readonly Cell[],
  asked: VolumesAsked,
  known: ReadonlyMap<string, KnownAt>,
): void {
  for (const { cell, deliveries: own, shown, shownComputed } of figuresOf(deliveries, cells, asked.stepOf)) {
    if (cell.interval === null) continue;
    const bases = own.map((delivery) => basisWithin(delivery, cell, known));
    const basis = bases.reduce(weaker);
    add(row, cell.interval, { shown, computed: shownComputed, basis, since: null });
  }
}

function counterOf({ channel, total }: Pick<Delivery, "channel" | "total">): string {
  return named(channel, total);
}

/** When it is known what a counter showed: at the marks its anchors begin at, and at their readings. */
interface KnownAt {
  readonly from: Set<Instant>;
  readonly to: Set<Instant>;
}

function knownInstants(anchors: readonly Anchor[]): Map<string, KnownAt> {
  const known = new Map<string, KnownAt>();
  for (const anchor of anchors) {
    const own = known.get(counterOf(anchor)) ?? { from: new Set(), to: new Set() };
    own.from.add(anchor.from);
    own.to.add(anchor.to);
    known.set(counterOf(anchor), own);
  }
  return known;
}

/** What was read at both ends of an interval is measured; within a longer span it is apportioned. */
function basisWithin(delivery: Delivery, { start, end }: Cell, known: ReadonlyMap<string, KnownAt>): Basis {
  if (delivery.basis !== "apportioned") return delivery.basis;
  const own = known.get(counterOf(delivery));
  const begins = own !== undefined && (own.from.has(start) || own.to.has(start));
  return begins && own.to.has(end) ? "measured" : "apportioned";
}

interface RowSoFar {
  readonly heading: Heading;
  readonly volumes: number[];
  readonly computed: number[];
  readonly bases: (Basis | null)[];
  readonly since: (Instant | null)[];
  readonly spans: UnknownSpan[];
}

function newRow(heading: Heading, intervals: number): RowSoFar {
  const zeros = () => Array<number>(intervals).fill(0);
  const none = () => Array<null>(intervals).fill(null);
  return { heading, volumes: zeros(), computed: zeros(), bases: none(), since: none(), spans: [] };
}

/** A figure that is added to those of its row. */
interface Addition {
  readonly shown: number;
  readonly computed: number;
  readonly basis: Basis;
  readonly since: Instant | null;
}

function add(row: RowSoFar, interval: number, { shown, computed, basis, since }: Addition): void {
  row.volumes[interval] = row.volumes[interval]! + shown;
  row.computed[interval] = row.computed[interval]! + computed;
  row.bases[interval] = weaker(row.bases[interval] ?? null, basis);
  const before = row.since[interval] ?? null;
  row.since[interval] = before === null || since === null ? (before ?? since) : earliest(before, since);
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
    computed: row.computed.map((volume, i) => (begun[i] ? volume : null)),
    bases: row.bases.map((basis, i) => {
      if (!begun[i]) return null;
      return unknown[i]! > 0 ? "unknown" : (basis ?? "computed");
    }),
    since: row.since,
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
