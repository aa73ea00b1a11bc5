/**
 * The blocks of a sheet as the PDF library takes them: plain objects, laid out by it. Sizes in points. Only what is
 * used of its content has a type here.
 */

import type { Block, Cell, Line, Run } from "../sheet.js";
import { svgOf } from "./svg.js";

export type Content = string | readonly Content[] | { readonly [key: string]: unknown };

/** The family under which the typeface is known to the library. */
export const FONT = "Ledger";

export const BODY = 9.5;
const TABLE = 9;
const SMALL = 7;
const HEADING = 11;

/** The style by which the library tells lines of blocks from what stands on every page. */
export const WRITTEN = "written";

/** Beside and above the text of a cell. */
const ACROSS = 2.5;
const DOWN = 1.6;

const STROKES = {
  measured: { decoration: "underline", decorationStyle: "solid", decorationThickness: 1.2 },
  apportioned: { decoration: "underline", decorationStyle: "double", decorationThickness: 0.6 },
  disputed: { decoration: "underline", decorationStyle: "wavy", decorationThickness: 0.8 },
  unknown: { decoration: "underline", decorationStyle: "dotted", decorationThickness: 1.2 },
  computed: {},
} as const;

const HOLDS = {
  text: {},
  value: { alignment: "center" },
  hour: { alignment: "center", verticalAlignment: "bottom" },
} as const;

/** Makes every text one that the typeface can show. */
export type Show = (text: string) => string;

export function contentOf(block: Block, width: number, show: Show): Content {
  switch (block.kind) {
    case "heading":
      // A level by which the library is told not to leave it at the foot of a page.
      return {
        text: show(block.text),
        bold: true,
        fontSize: HEADING,
        margin: [0, 6, 0, 2],
        headlineLevel: 1,
      };
    case "sentences":
      return { stack: block.lines.map((line) => ({ ...lineOf(line, show), margin: [0, 0, 0, 1.5] })) };
    case "facts":
      return factsOf(block.facts, width, show);
    case "table":
      return tableOf(block, width, show);
    case "drawing":
      return { svg: svgOf(block, FONT, show), width, margin: [0, 4, 0, 2] };
    case "room":
      return roomOf(block.label, block.lines, width, show);
    case "signing":
      return signingOf(block.fields, width, show);
  }
}

function lineOf(line: Line, show: Show) {
  return { text: line.map((run) => runOf(run, show)), style: WRITTEN };
}

function runOf({ text, strong, small, whole, basis }: Run, show: Show): Content {
  return {
    text: show(text),
    ...(strong ? { bold: true } : {}),
    ...(small ? { fontSize: SMALL, bold: false } : {}),
    ...(whole ? { noWrap: true } : {}),
    ...(basis ? STROKES[basis] : {}),
  };
}

function cellOf(cell: Cell, how: object, show: Show): Content {
  return { stack: cell.map((line) => lineOf(line, show)), ...how };
}

/** As many side by side as find room. */
function factsOf(facts: Extract<Block, { kind: "facts" }>["facts"], width: number, show: Show): Content {
  const abreast = Math.max(1, Math.floor(width / 105));
  const rows = Array.from({ length: Math.ceil(facts.length / abreast) }, (_, row) =>
    facts.slice(row * abreast, (row + 1) * abreast),
  );
  return {
    stack: rows.map((row) => ({
      columns: Array.from({ length: abreast }, (_, place) => {
        const fact = row[place];
        return fact === undefined
          ? { text: "" }
          : { stack: [{ text: show(fact.name), fontSize: SMALL + 1 }, lineOf(fact.value, show)] };
      }),
      columnGap: 8,
      margin: [0, 0, 0, 3],
    })),
  };
}

function tableOf({ columns, rows }: Extract<Block, { kind: "table" }>, width: number, show: Show): Content {
  const whole = columns.reduce((sum, { share }) => sum + share, 0);
  const how = (place: number) => HOLDS[columns[place]?.holds ?? "text"];
  return {
    fontSize: TABLE,
    table: {
      widths: columns.map(({ share }) => (width * share) / whole - 2 * ACROSS),
      headerRows: 1,
      keepWithHeaderRows: 1,
      dontBreakRows: true,
      body: [
        columns.map(({ head }, place) => cellOf(head, { ...how(place), bold: true }, show)),
        ...rows.map(({ cells, sum }) =>
          cells.map((cell, place) => cellOf(cell, { ...how(place), ...(sum ? { bold: true } : {}) }, show)),
        ),
      ],
    },
    layout: {
      paddingLeft: () => ACROSS,
      paddingRight: () => ACROSS,
      paddingTop: () => DOWN,
      paddingBottom: () => DOWN + 0.8,
      vLineWidth: () => 0,
      // Under the head and around sums the rule is heavier.
      hLineWidth: (index: number) => (index === 1 || rows[index - 2]?.sum ? 1 : 0.4),
    },
  };
}

function roomOf(label: string, lines: number, width: number, show: Show): Content {
  const ruled = Array.from({ length: lines }, () => rule(width, 20));
  return {
    stack: [{ text: show(label), style: WRITTEN, fontSize: SMALL + 1, margin: [0, 8, 0, 0] }, ...ruled],
    unbreakable: true,
  };
}

function signingOf(fields: readonly string[], width: number, show: Show): Content {
  const gap = 16;
  const each = (width - gap * (fields.length - 1)) / fields.length;
  return {
    unbreakable: true,
    columns: fields.map((field) => ({
      width: each,
      stack: [rule(each, 26), { text: show(field), fontSize: SMALL + 1 }],
    })),
    columnGap: gap,
    margin: [0, 4, 0, 4],
  };
}

/** A line to write on, so far below what stands above it. */
function rule(width: number, below: number): Content {
  return {
    canvas: [{ type: "line", x1: 0, y1: below, x2: width, y2: below, lineWidth: 0.5 }],
  };
}
