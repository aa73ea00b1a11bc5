/** A chart as it is laid out: rows over columns, and what comparing came to in each cell. */

import { describe, expect, it } from "vitest";
import type { ChartFigure, Reconciliation } from "../../src/page/api/shapes.js";
import { laidOut } from "../../src/page/chart/marks.js";

const at = (hour: number) => `2026-03-04T${String(hour).padStart(2, "0")}:00:00-06:00`;
const figure = (
  category: "urine" | "oral",
  from: number,
  to: number,
  volume: number | null,
): ChartFigure => ({
  row: { category },
  start: at(from),
  end: at(to),
  volume,
});

/** Only what the layout looks at; its instants in UTC, as another server might write them. */
function answer(parts: Partial<Record<keyof Reconciliation, ChartFigure[]>>): Reconciliation {
  const none = { matches: [], differences: [], notInUse: [], notCharted: [], notBegun: [] };
  const inUtc = (text: string) => new Date(text).toISOString();
  const filled = Object.entries(parts).map(([key, of]) => [
    key,
    of.map(({ row, start, end }) => ({ row, start: inUtc(start), end: inUtc(end), ledger: 7 })),
  ]);
  return { ...none, ...Object.fromEntries(filled) };
}

const CHART = [
  figure("urine", 7, 9, 500),
  figure("urine", 8, 9, 250),
  figure("urine", 7, 8, 250),
  figure("oral", 7, 8, null),
  figure("oral", 8, 9, 120),
];

describe("a chart laid out", () => {
  it("has the hours in their order, totals after them, and no cell where there is no figure", () => {
    const { columns, rows } = laidOut(CHART, null);
    expect(columns.map(({ start, end }) => `${start.slice(11, 13)}–${end.slice(11, 13)}`)).toEqual([
      "07–08",
      "08–09",
      "07–09",
    ]);
    expect(rows.map(({ cells }) => cells.map((cell) => cell?.figure.volume))).toEqual([
      [250, 250, 500],
      [null, 120, undefined],
    ]);
    expect(rows[0]?.cells[0]?.mark).toBe("not-compared");
  });

  it("has what comparing came to in each cell, differences numbered as they are read", () => {
    const [urineTotal, urine8, urine7, oral7, oral8] = CHART as [
      ChartFigure,
      ChartFigure,
      ChartFigure,
      ChartFigure,
      ChartFigure,
    ];
    const compared = answer({
      matches: [urine7],
      differences: [oral8, urineTotal, urine8],
      notCharted: [oral7],
    });
    const { rows } = laidOut(CHART, compared);
    expect(
      rows.map(({ cells }) => cells.map((cell) => cell && [cell.mark, cell.number, cell.ledger])),
    ).toEqual([
      [
        ["agrees", null, 7],
        ["differs", 1, 7],
        ["differs", 2, 7],
      ],
      [["empty", null, 7], ["differs", 3, 7], null],
    ]);
  });

  it("says of an hour still to come that it was not compared", () => {
    const compared = answer({ notBegun: [CHART[1]!], notInUse: [CHART[2]!] });
    const [cells] = laidOut(CHART.slice(1, 3), compared).rows.map((row) => row.cells);
    expect(cells?.map((cell) => cell?.mark)).toEqual(["not-in-use", "not-begun"]);
  });
});
