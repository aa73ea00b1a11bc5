/**
 * The cumulative curves that figures are cut from. A finest row (channel × line × bag × role) is rounded
 * once, on what it gave since the shift began, so that its parts add up however the time is divided. What
 * stands at readings and no flow can hold is a row beside those, and so is what each chamber gained.
 */

import type { Step } from "../conventions/settings.js";
import type { Instant } from "../time/instant.js";
import type { Cell } from "./cells.js";
import { computedOf, type Delivery, givenBy, type Unattributed } from "./delivery.js";
import { named } from "./named.js";
import { minus, NOTHING, plus, shownAs, type Volume } from "./quantity.js";

/** Deliveries by finest row, each in order of time. */
export function finestRows(deliveries: readonly Delivery[]): Delivery[][] {
  const rows = new Map<string, Delivery[]>();
  for (const delivery of deliveries) {
    const name = named(delivery.channel, delivery.line, delivery.bag, delivery.role);
    const row = rows.get(name);
    if (row === undefined) rows.set(name, [delivery]);
    else row.push(delivery);
  }
  return [...rows.values()];
}

/** What stands at readings by finest row, which is of no role. */
export function standingRows(unattributed: readonly Unattributed[]): Unattributed[][] {
  const rows = new Map<string, Unattributed[]>();
  for (const amount of unattributed) {
    const name = named(amount.channel, amount.line, amount.bag);
    rows.set(name, [...(rows.get(name) ?? []), amount]);
  }
  return [...rows.values()];
}

/** What one amount of a finest row shows of it, at the instant at which it stands. */
export interface StandingFigure<One> {
  readonly one: One;
  readonly cell: Cell;
  /** Whole microlitres, a multiple of the step: what the row shows by now, less what it showed before. */
  readonly shown: number;
}

/** The figures of the amounts of one finest row, in order of time; what is charted in no cell has none. */
export function standingFigures<One extends { readonly at: Instant; readonly volume: Volume }>(
  row: readonly One[],
  cellOf: (one: One) => Cell | undefined,
  stepOf: (shift: Instant) => Step,
): StandingFigure<One>[] {
  const curves = new Map<Instant, Curve>();
  return [...row]
    .sort((a, b) => a.at - b.at)
    .flatMap((one) => {
      const cell = cellOf(one);
      if (cell === undefined) return [];
      const curve = curves.get(cell.anchor) ?? new Curve();
      curves.set(cell.anchor, curve);
      curve.add(one.volume);
      return [{ one, cell, shown: curve.shown(stepOf(cell.anchor)) }];
    });
}

/** What a finest row gave in a cell in which it delivered. */
export interface Figure {
  readonly cell: Cell;
  /** The deliveries that meet the cell, at least one. */
  readonly deliveries: readonly Delivery[];
  /** Whole microlitres, a multiple of the step. */
  readonly shown: number;
  /** The same by rate × time alone. */
  readonly shownComputed: number;
  readonly exact: Volume;
}

/**
 * The figures of one finest row in every cell in which it delivers. `takenOff` says what of it did not reach
 * the patient between two instants: it comes off before anything is rounded.
 */
export function* figuresOf(
  deliveries: readonly Delivery[],
  cells: readonly Cell[],
  stepOf: (shift: Instant) => Step,
  takenOff: (from: Instant, to: Instant) => Volume = () => NOTHING,
): Generator<Figure> {
  let first = 0;
  let anchor: Instant | null = null;
  let given = new Curve();
  let computed = new Curve();
  for (const cell of cells) {
    while (first < deliveries.length && deliveries[first]!.end <= cell.start) first++;
    if (first === deliveries.length) return;
    if (cell.anchor !== anchor) [anchor, given, computed] = [cell.anchor, new Curve(), new Curve()];
    const own: Delivery[] = [];
    let exact = NOTHING;
    for (let i = first; i < deliveries.length && deliveries[i]!.start < cell.end; i++) {
      const delivery = deliveries[i]!;
      if (delivery.end <= cell.start) continue;
      own.push(delivery);
      exact = plus(exact, minus(givenBy(delivery, cell.end), givenBy(delivery, cell.start)));
      computed.add(minus(computedOf(delivery, cell.end), computedOf(delivery, cell.start)));
    }
    if (own.length === 0) continue;
    exact = minus(exact, takenOff(cell.start, cell.end));
    given.add(exact);
    const step = stepOf(cell.anchor);
    yield {
      cell,
      deliveries: own,
      shown: given.shown(step),
      shownComputed: computed.shown(step),
      exact,
    };
  }
}

/** A cumulative curve since a shift began, shown step by step so that what is shown adds up. */
class Curve {
  private sum = NOTHING;
  private before = 0;

  add(volume: Volume): void {
    this.sum = plus(this.sum, volume);
  }

  shown(step: Step): number {
    const now = shownAs(this.sum, step);
    const since = now - this.before;
    this.before = now;
    return since;
  }
}
