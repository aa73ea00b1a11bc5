/**
 * What of each drug was delivered: the volume out of a bag times its concentration then, as a ratio of whole numbers.
 * What was lost on the way is not taken off, as it is not off the volumes that stand beside: this is what left the
 * bag, and where something was lost that is the most that can have reached the patient.
 *
 * Invariant: amounts are rounded once, on the curve since the shift began, so that intervals add up as shown.
 */

import type { Step } from "../conventions/settings.js";
import { type Cell, cellOf, cellsOf, type Dividing } from "../infusion/cells.js";
import { type Additive, drugKey } from "../infusion/concentration.js";
import { type Contents, carriedBy } from "../infusion/contents.js";
import { figuresOf, finestRows, standingFigures, standingRows } from "../infusion/cumulative.js";
import type { Delivery, Unattributed } from "../infusion/delivery.js";
import type { DeliveryLost } from "../infusion/entry.js";
import type { UnknownSpan } from "../infusion/flow.js";
import { NOTHING } from "../infusion/quantity.js";
import { decimal, type Ratio, ratio, sum } from "../infusion/ratio.js";
import { respelled } from "../infusion/ucum.js";
import type { Instant, Period } from "../time/instant.js";
import { CERTAIN, type Certainty, together } from "./certainty.js";

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
  readonly lost: readonly DeliveryLost[];
}

const NONE: Ratio = ratio(0);
const MORE: Certainty = { more: true, less: false };
const LESS: Certainty = { more: false, less: true };

/** The amounts per drug and unit, in order of their names. */
export function drugAmounts(delivered: DeliveredDrugs, asked: DrugsAsked): DrugAmounts[] {
  const finest = finestRows(delivered.deliveries);
  const cells = cellsOf({ ...asked, cuts: finest.flatMap(changesOf) });
  const rows = new Rows(asked.intervals.length);
  for (const deliveries of finest) {
    const curves = new Map<string, Curve>();
    for (const { cell, deliveries: own, shown, exact } of figuresOf(deliveries, cells, asked.stepOf)) {
      const { contents } = own[0]!;
      if (contents === null) continue;
      const certainty = together(sureOf(contents), isLost(delivered.lost, own, cell) ? LESS : CERTAIN);
      for (const [additive, amount] of carriedBy(exact, contents)) {
        const curve = curves.get(keyOf(additive)) ?? new Curve();
        curves.set(keyOf(additive), curve);
        const shownAmount = curve.step(cell, amount);
        rows.add(additive, cell.interval, { exact: amount, shown: shownAmount, volume: shown });
        rows.doubt(additive, cell.interval, certainty);
      }
    }
  }
  const cellAt = ({ at }: Unattributed) => cellOf({ at, boundary: "ends" }, cells, asked);
  for (const amounts of standingRows(delivered.unattributed)) {
    const curves = new Map<string, Curve>();
    for (const { one, cell, shown: shownVolume } of standingFigures(amounts, cellAt, asked.stepOf)) {
      const { bag, volume, contents } = one;
      const last = contents.at(-1);
      if (last === undefined) continue;
      if (bag === null) {
        // Nobody knows which bag gave it: of the drugs of any of them it may be more.
        for (const [additive] of contents.flatMap((drawn) => carriedBy(NOTHING, drawn))) {
          rows.doubt(additive, cell.interval, MORE);
        }
        continue;
      }
      for (const [additive, exact] of carriedBy(volume, last)) {
        const curve = curves.get(keyOf(additive)) ?? new Curve();
        curves.set(keyOf(additive), curve);
        rows.add(additive, cell.interval, { exact, shown: curve.step(cell, exact), volume: shownVolume });
        rows.doubt(additive, cell.interval, sureOf(last));
      }
    }
  }
  for (const { start, end, contents } of delivered.unknown) {
    if (contents === null) continue;
    for (const cell of cells.filter((one) => one.start < end && start < one.end && one.start < asked.until)) {
      for (const [additive] of carriedBy(NOTHING, contents)) rows.doubt(additive, cell.interval, MORE);
    }
  }
  return rows.inOrder();
}

/** When what a finest row gives begins to hold something else. */
function changesOf(row: readonly Delivery[]): Instant[] {
  return row
    .filter(({ contents }, i) => i > 0 && contents !== row[i - 1]!.contents)
    .map(({ start }) => start);
}

/** What was added to a bag may have held drug; what it gives beyond all that was put in may hold none. */
function sureOf({ topped, spent }: Contents): Certainty {
  return { more: topped, less: spent };
}

/** Whether something of what was delivered in a cell did not reach the patient. */
function isLost(lost: readonly DeliveryLost[], deliveries: readonly Delivery[], cell: Period): boolean {
  return lost.some(({ channel, volume, from, to }) => {
    if (volume === 0 || from >= cell.end || cell.start >= to) return false;
    return deliveries.some((one) => one.channel === channel && one.start < to && from < one.end);
  });
}

function keyOf({ name, unit }: Additive): string {
  return JSON.stringify([drugKey(name), respelled(unit)]);
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

  doubt(additive: Additive, interval: number | null, certainty: Certainty): void {
    if (interval === null) return;
    const row = this.row(additive);
    row.certainty[interval] = together(row.certainty[interval]!, certainty);
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
      unit: respelled(additive.unit),
      shown: fill(0),
      exact: fill(NONE),
      volumes: fill(0),
      certainty: fill(CERTAIN),
    };
    this.rows.set(key, row);
    return row;
  }
}
