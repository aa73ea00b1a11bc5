/**
 * Reads `src/infusion/course-table.md`: its states, its entries and every cell, as text. A table whose
 * header does not name each state once, or a row with too few or too many cells, is an error here.
 */

import { readFileSync } from "node:fs";

export interface StateOnPage {
  readonly state: string;
  readonly course: string;
  /** Expected totals in mL: primary, secondary. */
  readonly totals: readonly [number, number];
  /** What each known bag holds, in mL. */
  readonly bags: ReadonlyMap<string, number>;
}

export interface EntryOnPage {
  readonly entry: string;
  readonly brings: string;
  readonly besides: readonly string[];
}

interface Page {
  readonly states: readonly StateOnPage[];
  readonly entries: readonly EntryOnPage[];
  /** By entry, then by state. */
  readonly cells: ReadonlyMap<string, ReadonlyMap<string, string>>;
}

export function readPage(): Page {
  const text = readFileSync(new URL("../../src/infusion/course-table.md", import.meta.url), "utf8");
  const states = tablesUnder(text, "States").flatMap(({ rows }) => rows.map(stateOf));
  const entries = tablesUnder(text, "Entries").flatMap(({ rows }) =>
    rows.map(([entry = "", , brings = "", besides = ""]) => ({ entry, brings, besides: listOf(besides) })),
  );
  const cells = new Map<string, ReadonlyMap<string, string>>();
  for (const { header, rows } of tablesUnder(text, "Cells")) {
    for (const [entry = "", ...row] of rows) {
      if (cells.has(entry)) throw new Error(`two rows for ${entry}`);
      if (row.length !== header.length - 1) throw new Error(`${entry}: ${row.length} cells`);
      cells.set(entry, new Map(row.map((cell, i) => [header[i + 1]!, cell])));
    }
  }
  return { states, entries, cells };
}

interface Table {
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** The tables under a heading of the second level; a table ends where a line does not begin with a bar. */
function tablesUnder(text: string, heading: string): Table[] {
  const section = text.split(/^## /m).find((part) => part.startsWith(`${heading}\n`));
  if (section === undefined) throw new Error(`no heading ${heading}`);
  return section
    .split(/\n(?!\|)/)
    .filter((block) => block.startsWith("|") || block.includes("\n|"))
    .map((block) => block.split("\n").filter((line) => line.startsWith("|")))
    .map(([header, , ...rows]) => ({ header: cellsOf(header!), rows: rows.map(cellsOf) }));
}

const cellsOf = (line: string): string[] =>
  line
    .replace(/^\|/, "")
    .replace(/\|$/, "")
    .split("|")
    .map((cell) => cell.trim());

const listOf = (text: string): string[] => (text === "" || text === "none" ? [] : text.split(/, */));

function stateOf([state = "", , course = "", totals = "", bags = ""]: readonly string[]): StateOnPage {
  const [primary, secondary] = totals.split(" / ").map(Number);
  return {
    state,
    course,
    totals: [primary!, secondary!],
    bags: new Map(
      listOf(bags).map((held) => {
        const [bag, volume] = held.split(" ");
        return [bag!, Number(volume)];
      }),
    ),
  };
}
