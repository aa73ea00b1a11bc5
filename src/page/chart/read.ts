/**
 * A chart out of comma-separated text: a heading row of hours or totals, and a row per category, line, item or sum.
 * Every cell that cannot be read is named with why; nothing is guessed and nothing left out silently.
 */

import { CsvError, parse } from "csv-parse/browser/esm/sync";
import type { ChartFigure, ChartRow, Interval } from "../api/shapes.js";
import type { Words } from "../words/en.js";
import { type Column, type ColumnFault, columnsOf, type Heading } from "./columns.js";
import { plain } from "./plain.js";
import { type Lines, rowNamed } from "./rows.js";
import { type VolumeFault, volumeIn } from "./volumes.js";

/** The most figures that the ledger takes of one chart. */
const MOST_FIGURES = 700;

type WholeFault = "broken" | "no-rows" | "too-many";
type RowFault = "no-name" | "total-of-what" | "row-twice" | "too-many-cells";

export interface Fault {
  readonly what: WholeFault | RowFault | ColumnFault | VolumeFault | "refused";
  /** The name of the row, and the line of the text it stands on; null where it is about a column. */
  readonly row: string | null;
  readonly line: number | null;
  /** The heading of the column; null where it is about a row. */
  readonly column: string | null;
  /** What stands there. */
  readonly text: string;
}

/** Where a figure stood, to name it by. */
export interface Cell {
  readonly row: string;
  readonly column: string;
}

export interface ReadChart {
  readonly figures: readonly ChartFigure[];
  /** Of each figure its cell. */
  readonly cells: readonly Cell[];
  readonly faults: readonly Fault[];
}

export interface Around {
  readonly hours: readonly Interval[];
  readonly lines: Readonly<Lines>;
  readonly heading: Heading;
  /** The languages in which categories and sums may be named. */
  readonly languages: readonly Words[];
}

export function readChart(text: string, { hours, lines, heading, languages }: Around): ReadChart {
  const records = recordsOf(text);
  if (!Array.isArray(records)) return { figures: [], cells: [], faults: [faultOf("broken", records)] };
  const [headings, ...rows] = records;
  if (headings === undefined || rows.length === 0) {
    return { figures: [], cells: [], faults: [faultOf("no-rows")] };
  }
  const columns = titled(headings.record.slice(1), rows, hours, heading);
  const faults = columns.flatMap(({ title, column }) =>
    column.fault === undefined ? [] : [faultOf(column.fault, { column: title, text: title })],
  );
  const figures: ChartFigure[] = [];
  const cells: Cell[] = [];
  const seen = new Set<string>();
  for (const { record, info } of rows) {
    const [name = ""] = record;
    const at = { row: name, line: info.lines };
    const row = readRow(name, rowNamed(name, lines, languages), seen);
    if (typeof row === "string") {
      faults.push(faultOf(row, { ...at, text: name }));
      continue;
    }
    const over = record.slice(headings.record.length).find((one) => one.trim() !== "");
    if (over !== undefined) faults.push(faultOf("too-many-cells", { ...at, text: over }));
    for (const { title, place, column } of columns) {
      const content = record[place] ?? "";
      const written = volumeIn(content);
      if (column.fault !== undefined) continue;
      if (written.fault !== undefined) {
        faults.push(faultOf(written.fault, { ...at, column: title, text: content }));
        continue;
      }
      // A total nobody drew is no figure; an hour left empty may be one the ledger has something in.
      if (written.volume === null && (column.total || "sum" in row)) continue;
      figures.push({ row, start: column.start, end: column.end, volume: written.volume });
      cells.push({ row: name, column: title });
    }
  }
  if (figures.length > MOST_FIGURES) faults.push(faultOf("too-many", { text: String(figures.length) }));
  if (figures.length === 0 && faults.length === 0) faults.push(faultOf("no-rows"));
  return { figures, cells, faults };
}

/** What the ledger would not take of a chart that could be read, by the cells it points to. */
export function refusedCells(problem: object, cells: readonly Cell[]): Fault[] {
  const { errors } = problem as { errors?: readonly { pointer?: string; detail?: string }[] };
  return (errors ?? []).map(({ pointer = "", detail = "" }) => {
    const [, place] = /^#?\/figures\/(\d+)/.exec(pointer) ?? [];
    const cell = place === undefined ? undefined : cells[Number(place)];
    return faultOf("refused", { row: cell?.row ?? null, column: cell?.column ?? null, text: detail });
  });
}

function faultOf(what: Fault["what"], about: Partial<Fault> = {}): Fault {
  return { row: null, line: null, column: null, text: "", ...about, what };
}

interface Titled {
  readonly title: string;
  /** Its place in a row's cells. */
  readonly place: number;
  readonly column: Column;
}

/** The columns with what they mean; one that means nothing is not missed where nobody wrote in it. */
function titled(
  titles: readonly string[],
  rows: readonly Lined[],
  hours: readonly Interval[],
  heading: Heading,
): Titled[] {
  const written = (place: number) => rows.some(({ record }) => (record[place] ?? "").trim() !== "");
  return columnsOf(titles, hours, heading)
    .map((column, index) => ({ title: titles[index] ?? "", place: index + 1, column }))
    .filter(({ column, place }) => column.fault === undefined || written(place));
}

function readRow(name: string, row: ChartRow | null, seen: Set<string>): ChartRow | RowFault {
  if (name.trim() === "") return "no-name";
  if (row === null) return "total-of-what";
  const key = plain(JSON.stringify(row));
  if (seen.has(key)) return "row-twice";
  seen.add(key);
  return row;
}

/** A row of cells, and the line of the text that it ends on. */
interface Lined {
  readonly record: string[];
  readonly info: { readonly lines: number };
}

/**
 * Rows of cells, or where the text breaks off. A spreadsheet pastes tabs, and where the comma is the decimal sign
 * a file has semicolons.
 */
function recordsOf(text: string): Lined[] | Pick<Fault, "line"> {
  const first = text.slice(0, text.search(/[\r\n]|$/));
  const count = (sign: string) => first.split(sign).length;
  const delimiter = ["\t", ";", ","].reduce((best, sign) => (count(sign) > count(best) ? sign : best), ",");
  const options = { bom: true, delimiter, relax_column_count: true, skip_records_with_empty_values: true };
  try {
    return parse(text, { ...options, trim: true, info: true }) as unknown as Lined[];
  } catch (cause) {
    const lines = cause instanceof CsvError ? cause.lines : null;
    return { line: typeof lines === "number" ? lines : null };
  }
}
