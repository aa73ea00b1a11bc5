/** Where amounts are posted: the cells of time that a balance is made over, and what holds in each. */

import { amountSettings } from "../conventions/dated.js";
import type { Settings, Step } from "../conventions/settings.js";
import { type Cell, cellOf, cellsOf, type Dividing } from "../infusion/cells.js";
import type { Instant, Period } from "../time/instant.js";
import type { AwaySpan } from "./away.js";
import type { Posting } from "./posting.js";

export interface BalanceAsked extends Dividing {
  /** From when on everything is inside the cumulative figures; at or before the first interval. */
  readonly since: Instant;
  /** What figures of the shift that starts at an instant are rounded to. */
  readonly stepOf: (shift: Instant) => Step;
  readonly settingsAt: (at: Instant) => Settings;
  /** When conventions change, besides which no cell reaches over one. */
  readonly changes: readonly Instant[];
  /** The time away in which an entry was charted. */
  readonly awayOf: ReadonlyMap<string, AwaySpan>;
}

/** A place in the balance: what a posting needs to know of its cell. */
export type Place = Pick<Posting, "interval" | "outside"> & {
  readonly step: Step;
  readonly settings: Settings;
};

export interface Ground {
  readonly asked: BalanceAsked;
  /** In order, from the start of the first shift. */
  readonly cells: readonly Cell[];
  /** The place of a cell; undefined where it is no part of the balance. */
  placeOf(cell: Cell): Place | undefined;
  /**
   * The place of an amount at an instant, charted by an entry if it may be from a time away; by the unit's rule
   * of the boundary unless another is given. Undefined where it is no part of the balance.
   */
  placeAt(at: Instant, entry: string | null, boundary?: Settings["boundary"]): Place | undefined;
  /** The cell of an amount at an instant, by the same rule; undefined outside of all. */
  cellAt(at: Instant, boundary?: Settings["boundary"]): Cell | undefined;
  /** The places of the cells that a span meets. */
  placesIn(span: Period): readonly Place[];
}

export function groundOf(asked: BalanceAsked): Ground {
  const { since, admittedAt, changes, settingsAt, stepOf } = asked;
  const cells = cellsOf({ ...asked, cuts: [since, admittedAt, ...changes] });
  const placeOf = (cell: Cell): Place | undefined => {
    if (cell.end <= since) return undefined;
    return {
      interval: cell.interval,
      outside: cell.end <= admittedAt ? "before-admission" : null,
      step: stepOf(cell.anchor),
      settings: settingsAt(cell.start),
    };
  };
  const cellAt: Ground["cellAt"] = (at, boundary = amountSettings(settingsAt, at).boundary) =>
    cellOf({ at, boundary }, cells, asked);
  return {
    asked,
    cells,
    placeOf,
    cellAt,
    placeAt(at, entry, boundary) {
      const settings = amountSettings(settingsAt, at);
      const cell = cellAt(at, boundary);
      const place = cell === undefined ? undefined : placeOf(cell);
      if (place === undefined) return undefined;
      const away = entry === null ? undefined : asked.awayOf.get(entry);
      return { ...place, settings, outside: place.outside ?? away ?? null };
    },
    placesIn: ({ start, end }) =>
      cells
        .filter((cell) => cell.start < end && start < cell.end && cell.start < asked.until)
        .flatMap((cell) => placeOf(cell) ?? []),
  };
}
