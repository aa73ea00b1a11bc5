/** The rows of the two tables of a shift, each figure with what explains it. Pure: nothing is added up here. */

import type { BalanceRow, Basis, Certainty, ShiftFigures, VolumeRow } from "../api/shapes.js";
import { categoryName } from "../picture/sentences.js";
import type { Speech } from "../words/speech.js";
import type { AskedFigure, Summand } from "./asked.js";

export interface Cell {
  readonly value: number;
  readonly certainty: Certainty;
  /** What a volume rests on; null of sums and of the balance, which say how sure they are. */
  readonly basis: Basis | null;
  readonly asked: AskedFigure;
}

export interface TableRow {
  readonly key: string;
  readonly name: string;
  readonly sum: boolean;
  /** Null for an hour that has not begun. */
  readonly cells: readonly (Cell | null)[];
  readonly total: Cell | null;
}

/** Calls `make` for every interval that has a figure, and for the shift. */
function rowOf(
  shift: ShiftFigures,
  { key, name, sum }: Omit<TableRow, "cells" | "total">,
  values: readonly (number | null)[],
  total: number | null,
  make: (index: number | null, figure: { name: string; value: number; from: string; to: string }) => Cell,
): TableRow {
  const sure = (cell: Cell): Cell => ({ ...cell, asked: { ...cell.asked, certainty: cell.certainty } });
  return {
    key,
    name,
    sum,
    cells: shift.volumes.intervals.map(({ start, end }, index) => {
      const value = values[index] ?? null;
      return value === null ? null : sure(make(index, { name, value, from: start, to: end }));
    }),
    total: total === null ? null : sure(make(null, { name, value: total, from: shift.start, to: shift.end })),
  };
}

/** What each line delivered, and their sums. */
export function rowsOfLines(shift: ShiftFigures, { words }: Speech): TableRow[] {
  const { rows, sums, total } = shift.volumes;
  const nameOf = ({ key, label }: VolumeRow) => (key === null ? words.lines.noLine : label);
  const made = rows.map((row) =>
    rowOf(
      shift,
      { key: row.key ?? "", name: nameOf(row), sum: false },
      row.volumes,
      row.total,
      (index, figure) => ({
        value: figure.value,
        certainty: atLeast(index === null ? row.unknown : [row.unknown[index] ?? 0]),
        basis: index === null ? null : (row.basis[index] ?? null),
        asked: { of: "volume", per: "line", row: row.key, ...figure },
      }),
    ),
  );
  const sum = rowOf(
    shift,
    { key: "sum", name: words.table.allLines, sum: true },
    sums,
    total,
    (index, figure) => ({
      value: figure.value,
      certainty: atLeast(rows.flatMap(({ unknown }) => (index === null ? unknown : [unknown[index] ?? 0]))),
      basis: null,
      asked: {
        of: "sum",
        summands: rows.map((row) => summand(nameOf(row), row.volumes, row.total, index)),
        ...figure,
      },
    }),
  );
  return [...made, sum];
}

/** Intake and output by category, their sums, the net and what it comes to since admission. */
export function rowsOfBalance(shift: ShiftFigures, speech: Speech): TableRow[] {
  const { balance } = shift;
  const { words } = speech;
  const sides = (["intake", "output"] as const).flatMap((side): TableRow[] => {
    const { rows, sums, certainty, total, totalCertainty } = balance[side];
    return [
      ...rows.map((row) => categoryRow(shift, side, row, speech)),
      rowOf(shift, { key: side, name: words.balance[side], sum: true }, sums, total, (index, figure) => ({
        value: figure.value,
        certainty: (index === null ? totalCertainty : certainty[index]) ?? "exact",
        basis: null,
        asked: {
          of: "sum",
          summands: rows.map((row) => summand(categoryName(row.key, speech), row.volumes, row.total, index)),
          ...figure,
        },
      })),
    ];
  });
  return [...sides, netRow(shift, speech), cumulativeRow(shift, speech)];
}

function categoryRow(
  shift: ShiftFigures,
  side: "intake" | "output",
  row: BalanceRow,
  speech: Speech,
): TableRow {
  const named = { key: `${side} ${row.key}`, name: categoryName(row.key, speech), sum: false };
  return rowOf(shift, named, row.volumes, row.total, (index, figure) => {
    const certainty = (index === null ? row.totalCertainty : row.certainty[index]) ?? "exact";
    return {
      value: figure.value,
      certainty,
      basis: null,
      asked: { of: "category", side, row, index, ...figure },
    };
  });
}

function netRow(shift: ShiftFigures, { words }: Speech): TableRow {
  const { intake, output, net, netTotal, netCertainty, netTotalCertainty } = shift.balance;
  const named = { key: "net", name: words.balance.net, sum: true };
  return rowOf(shift, named, net, netTotal, (index, figure) => ({
    value: figure.value,
    certainty: (index === null ? netTotalCertainty : netCertainty[index]) ?? "exact",
    basis: null,
    asked: {
      of: "net",
      intake: index === null ? intake.total : (intake.sums[index] ?? 0),
      output: index === null ? output.total : (output.sums[index] ?? 0),
      ...figure,
    },
  }));
}

function cumulativeRow(shift: ShiftFigures, { words }: Speech): TableRow {
  const { cumulative, cumulativeCertainty, broughtForward, net, beside } = shift.balance;
  const named = { key: "cumulative", name: words.table.cumulative, sum: false };
  return rowOf(shift, named, cumulative, null, (index, figure) => {
    const nets = net.slice(0, (index ?? 0) + 1).reduce<number>((sum, one) => sum + (one ?? 0), 0);
    // What stands beside the hours is inside of the cumulative figures: what is left of them is that.
    const apart = Math.round((figure.value - broughtForward - nets) * 1000) / 1000;
    return {
      value: figure.value,
      certainty: cumulativeCertainty[index ?? 0] ?? "exact",
      basis: null,
      asked: { of: "cumulative", before: broughtForward, beside: beside.length > 0 ? apart : 0, ...figure },
    };
  });
}

function summand(
  name: string,
  volumes: readonly (number | null)[],
  total: number,
  index: number | null,
): Summand {
  return { name, value: index === null ? total : (volumes[index] ?? 0) };
}

function atLeast(unknown: readonly number[]): Certainty {
  return unknown.some((minutes) => minutes > 0) ? "at-least" : "exact";
}
