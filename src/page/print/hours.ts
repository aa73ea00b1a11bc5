/**
 * The hours as tables: a row per line or category, a column per interval, the shift at the end. Where there are
 * more intervals than a page is wide the table goes on in parts, and the last one has the shift.
 */

import type { ShiftFigures } from "../api/shapes.js";
import { type Cell as Figure, rowsOfBalance, rowsOfLines, type TableRow } from "../shift/table-rows.js";
import type { Speech } from "../words/speech.js";
import { moment } from "../words/wall.js";
import { type Block, type Cell, type Column, heading, type Line, line, type Row } from "./sheet.js";
import type { Source } from "./source.js";

/** A night of twelve hours over a clock change has thirteen. */
const MOST = 13;

/** How wide names and sums are, beside an hour. */
export const NAME_SHARE = 3.4;
export const TOTAL_SHARE = 1.25;

export function hoursOf(source: Source): Block[] {
  const { sheet, speech } = source;
  const { lines, balance } = speech.words.table;
  return [
    ...tableOf(lines, rowsOfLines(sheet.shift, speech), source),
    { kind: "sentences", lines: [strokes(source)] },
    ...tableOf(balance, rowsOfBalance(sheet.shift, speech), source),
  ];
}

/** Each stroke with its meaning, as it stands under the figures of lines. */
function strokes({ speech, words }: Source): Line {
  const { computed, ...bases } = speech.words.bases;
  const shown = (["measured", "apportioned", "disputed", "unknown"] as const).flatMap((basis) => [
    { text: bases[basis], basis },
    { text: "; " },
  ]);
  return [{ text: `${words.strokes}: ` }, ...shown, { text: `${words.noStroke(computed)}.` }];
}

function tableOf(name: string, rows: readonly TableRow[], source: Source): Block[] {
  const { sheet, speech, words } = source;
  const spans = parts(sheet.shift.volumes.intervals.length);
  return spans.flatMap(([from, to], index): Block[] => {
    const last = index === spans.length - 1;
    const part = words.part(String(index + 1), String(spans.length));
    const title = spans.length === 1 ? name : `${name}, ${part}`;
    return [
      heading(`${title}, ${speech.words.table.unit}`),
      {
        kind: "table",
        caption: title,
        columns: columnsOf(sheet.shift, from, to, last, speech),
        rows: rows.map((row) => rowOf(row, from, to, last, speech)),
      },
    ];
  });
}

/** As few parts as there can be, all of about one length: from and up to which interval each one goes. */
export function parts(intervals: number): readonly (readonly [from: number, to: number])[] {
  const count = Math.max(1, Math.ceil(intervals / MOST));
  const edges = Array.from({ length: count + 1 }, (_, index) => Math.round((index * intervals) / count));
  return edges.slice(1).map((to, index) => [edges[index] ?? 0, to] as const);
}

function columnsOf(shift: ShiftFigures, from: number, to: number, last: boolean, speech: Speech): Column[] {
  const { words } = speech;
  const now = moment(shift.until);
  const hours = shift.volumes.intervals.slice(from, to).map(({ start, label, complete }): Column => {
    const [span = "", ...offset] = label.split(" ");
    const [starts = "", ends] = span.split("–");
    const begun = moment(start) < now;
    const until = begun && !complete ? words.table.soFar : ends === undefined ? "" : `–${ends}`;
    const beside = [until, offset.join(" ")];
    return { head: [line(starts), ...small(beside)], share: 1, holds: "hour" };
  });
  const soFar = now < moment(shift.end) ? words.table.soFar : "";
  const total = {
    head: [line(words.table.total), ...small([soFar])],
    share: TOTAL_SHARE,
    holds: "hour",
  } as const;
  return [{ head: [], share: NAME_SHARE, holds: "text" }, ...hours, ...(last ? [total] : [])];
}

function rowOf(row: TableRow, from: number, to: number, last: boolean, speech: Speech): Row {
  const cells = [...row.cells.slice(from, to), ...(last ? [row.total] : [])];
  return {
    sum: row.sum,
    cells: [
      [line(row.name, { strong: row.sum })],
      ...cells.map((figure) => figureCell(figure, row.sum, speech)),
    ],
  };
}

function figureCell(figure: Figure | null, strong: boolean, { words, figure: write }: Speech): Cell {
  if (figure === null) return [];
  const { value, certainty, basis } = figure;
  return [...small([words.certainty[certainty]]), line(write(value), { basis, strong })];
}

function small(texts: readonly string[]) {
  return texts.filter((text) => text !== "").map((text) => line(text, { small: true }));
}
