/** A chart as it is laid out: its rows over its columns, and in each cell what comparing it with the ledger came to. */

import type { ChartDifference, ChartFigure, ChartRow, Reconciliation } from "../api/shapes.js";

export type Mark = "agrees" | "differs" | "empty" | "not-in-use" | "not-begun" | "not-compared";

export interface ChartCell {
  readonly figure: ChartFigure;
  readonly mark: Mark;
  /** What the ledger has; null where nothing was compared. */
  readonly ledger: number | null;
  readonly difference: ChartDifference | null;
  /** The number of the difference, from 1 in reading order; null where there is none. */
  readonly number: number | null;
}

interface Span {
  readonly start: string;
  readonly end: string;
}

export interface LaidOut {
  readonly columns: readonly Span[];
  readonly rows: readonly {
    readonly row: ChartRow;
    /** A cell per column; null where the chart has no figure. */
    readonly cells: readonly (ChartCell | null)[];
  }[];
}

/** Lays a chart out; without an answer nothing of it is compared yet. */
export function laidOut(figures: readonly ChartFigure[], answer: Reconciliation | null): LaidOut {
  const columns = [...new Map(figures.map((one) => [spanKey(one), one])).values()].sort(inOrder);
  const rows = [...new Map(figures.map(({ row }) => [rowKey(row), row])).values()];
  const byKey = new Map(figures.map((figure) => [figureKey(figure), figure]));
  let number = 0;
  const cellOf = (row: ChartRow, column: Span): ChartCell | null => {
    const figure = byKey.get(figureKey({ row, ...pick(column) }));
    if (figure === undefined) return null;
    const cell = marked(figure, answer);
    if (cell.mark === "differs") number += 1;
    return { figure, ...cell, number: cell.mark === "differs" ? number : null };
  };
  return {
    columns: columns.map(pick),
    rows: rows.map((row) => ({ row, cells: columns.map((column) => cellOf(row, column)) })),
  };
}

function marked(
  figure: ChartFigure,
  answer: Reconciliation | null,
): Pick<ChartCell, "mark" | "ledger" | "difference"> {
  const nothing = { ledger: null, difference: null };
  if (answer === null) return { mark: "not-compared", ...nothing };
  const key = figureKey(figure);
  const same = (other: Named) => figureKey(other) === key;
  const difference = answer.differences.find(same);
  if (difference) return { mark: "differs", ledger: difference.ledger, difference };
  const match = answer.matches.find(same);
  if (match) return { mark: "agrees", ledger: match.ledger, difference: null };
  if (answer.notBegun.some(same)) return { mark: "not-begun", ...nothing };
  if (answer.notInUse.some(same)) return { mark: "not-in-use", ...nothing };
  if (figure.volume === null) {
    const missing = answer.notCharted.find(same);
    return { mark: "empty", ledger: missing?.ledger ?? null, difference: null };
  }
  return { mark: "not-compared", ...nothing };
}

interface Named extends Span {
  readonly row: ChartRow;
}

/** One text for a figure, however its instants are written. */
export function figureKey({ row, ...span }: Named): string {
  return `${rowKey(row)} ${spanKey(span)}`;
}

function rowKey(row: ChartRow): string {
  return JSON.stringify(row);
}

function spanKey({ start, end }: Span): string {
  return `${Date.parse(start)} ${Date.parse(end)}`;
}

const pick = ({ start, end }: Span): Span => ({ start, end });

/** Hours in their order, totals after them. */
function inOrder(a: Span, b: Span): number {
  const length = ({ start, end }: Span) => Date.parse(end) - Date.parse(start);
  return length(a) - length(b) || Date.parse(a.start) - Date.parse(b.start);
}
