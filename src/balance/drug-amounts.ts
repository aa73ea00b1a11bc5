/**
 * What of each drug was delivered: the volume out of a bag times what was in it over its label volume when it
 * was hung, as a ratio of whole numbers. What was lost on the way is not taken off: this is what left the bag.
 *
 * Invariant: amounts are rounded once, on the curve since the shift began, so that intervals add up as shown.
 */

import type { Step } from "../conventions/settings.js";
import { type Cell, cellOf, cellsOf, type Dividing } from "../infusion/cells.js";
import type { Additive } from "../infusion/concentration.js";
import { figuresOf, finestRows } from "../infusion/cumulative.js";
import type { Delivery, Unattributed } from "../infusion/delivery.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { NOTHING, shownAs, type Volume } from "../infusion/quantity.js";
import { decimal, type Ratio, ratio, sum } from "../infusion/ratio.js";
import { type Instant, latest } from "../time/instant.js";
import { CERTAIN, type Certainty, together } from "./certainty.js";

/** What a bag holds by its label, from when it was hung on. */
export interface Contents {
  readonly bag: string;
  readonly since: Instant;
  readonly label: Volume;
  readonly additives: readonly Additive[];
}

export interface DrugAmounts {
  readonly name: string;
  readonly unit: string;
  /** Per interval: whole millionths of the unit, rounded, and the amount itself in millionths. */
  readonly shown: readonly number[];
  readonly exact: readonly Ratio[];
  /** Whole microlitres of the fluid that carried it, as the volumes show them. */
  readonly volumes: readonly number[];
  readonly certainty: readonly Certainty[];
}

export interface DrugsAsked extends Dividing {
  readonly stepOf: (shift: Instant) => Step;
}

export interface DeliveredDrugs {
  readonly deliveries: readonly Delivery[];
  readonly unattributed: readonly Unattributed[];
  readonly unknown: readonly UnknownSpan[];
  /** In order of time. */
  readonly contents: readonly Contents[];
}

const NONE: Ratio = ratio(0);

/** The amounts per drug and unit, in order of their names. */
export function drugAmounts(delivered: DeliveredDrugs, asked: DrugsAsked): DrugAmounts[] {
  const { contents } = delivered;
  const cells = cellsOf({ ...asked, cuts: contents.map(({ since }) => since) });
  const rows = new Rows(asked.intervals.length);
  for (const deliveries of finestRows(delivered.deliveries)) {
    const { bag } = deliveries[0]!;
    const curves = new Map<string, Curve>();
    for (const { cell, deliveries: own, shown, exact } of figuresOf(deliveries, cells, asked.stepOf)) {
      const from = latest(cell.start, own[0]!.start);
      for (const [additive, amount] of amountsOf(exact, contentsAt(contents, bag, from))) {
        const curve = curves.get(keyOf(additive)) ?? new Curve();
        curves.set(keyOf(additive), curve);
        rows.add(additive, cell.interval, { exact: amount, shown: curve.step(cell, amount), volume: shown });
      }
    }
  }
  for (const { bag, at, volume } of delivered.unattributed) {
    const cell = cellOf({ at, boundary: "ends" }, cells, asked);
    if (cell === undefined) continue;
    for (const [additive, exact] of amountsOf(volume, contentsAt(contents, bag, at))) {
      const shownVolume = shownAs(volume, asked.stepOf(cell.anchor));
      rows.add(additive, cell.interval, { exact, shown: decimal(exact, 0), volume: shownVolume });
    }
  }
  for (const { bag, start, end } of delivered.unknown) {
    for (const cell of cells.filter((one) => one.start < end && start < one.end && one.start < asked.until)) {
      const held = contentsAt(contents, bag, latest(start, cell.start));
      for (const [additive] of amountsOf(NOTHING, held)) rows.doubt(additive, cell.interval);
    }
  }
  return rows.inOrder();
}

/** What the bag held as it was last hung by an instant. */
function contentsAt(all: readonly Contents[], bag: string | null, at: Instant): Contents | undefined {
  return bag === null ? undefined : all.findLast((one) => one.bag === bag && one.since <= at);
}

/** What a volume out of a bag carried of each additive whose concentration is known, in millionths of its unit. */
function amountsOf(volume: Volume, contents: Contents | undefined): [Additive, Ratio][] {
  if (contents === undefined || contents.label <= NOTHING) return [];
  return contents.additives
    .filter(({ amount }) => amount > 0)
    .map((additive) => [additive, ratio(volume * BigInt(additive.amount), contents.label)]);
}

function keyOf({ name, unit }: Additive): string {
  return JSON.stringify([name.trim().toLowerCase(), unit]);
}

/** An amount as it grows since its shift began, shown step by step so that what is shown adds up. */
class Curve {
  private anchor: Instant | null = null;
  private grown = NONE;
  private before = 0;

  step({ anchor }: Cell, amount: Ratio): number {
    if (anchor !== this.anchor) [this.anchor, this.grown, this.before] = [anchor, NONE, 0];
    this.grown = sum(this.grown, amount);
    const now = decimal(this.grown, 0);
    const since = now - this.before;
    this.before = now;
    return since;
  }
}

interface Row {
  readonly name: string;
  readonly unit: string;
  readonly shown: number[];
  readonly exact: Ratio[];
  readonly volumes: number[];
  readonly certainty: Certainty[];
}

class Rows {
  private readonly rows = new Map<string, Row>();

  constructor(private readonly intervals: number) {}

  add(
    additive: Additive,
    interval: number | null,
    { exact, shown, volume }: { readonly exact: Ratio; readonly shown: number; readonly volume: number },
  ): void {
    if (interval === null) return;
    const row = this.row(additive);
    row.shown[interval] = row.shown[interval]! + shown;
    row.exact[interval] = sum(row.exact[interval]!, exact);
    row.volumes[interval] = row.volumes[interval]! + volume;
  }

  /** More may have been delivered than is known. */
  doubt(additive: Additive, interval: number | null): void {
    if (interval === null) return;
    const row = this.row(additive);
    row.certainty[interval] = together(row.certainty[interval]!, { more: true, less: false });
  }

  inOrder(): DrugAmounts[] {
    return [...this.rows].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
  }

  private row(additive: Additive): Row {
    const key = keyOf(additive);
    const known = this.rows.get(key);
    if (known !== undefined) return known;
    const fill = <T>(value: T): T[] => Array<T>(this.intervals).fill(value);
    const row: Row = {
      name: additive.name.trim(),
      unit: additive.unit,
      shown: fill(0),
      exact: fill(NONE),
      volumes: fill(0),
      certainty: fill(CERTAIN),
    };
    this.rows.set(key, row);
    return row;
  }
}
