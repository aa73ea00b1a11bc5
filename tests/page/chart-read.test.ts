/** A chart out of pasted text: tolerant of how people write, explicit about what could mean two things. */

import { describe, expect, it } from "vitest";
import type { Interval } from "../../src/page/api/shapes.js";
import { type Around, readChart, refusedCells } from "../../src/page/chart/read.js";
import { volumeIn } from "../../src/page/chart/volumes.js";
import { en } from "../../src/page/words/en.js";
import { es } from "../../src/page/words/es.js";

/** Hours from the given ones on, at Chicago's winter offset. */
const hours = (from: number, count: number): Interval[] =>
  Array.from({ length: count }, (_, index) => {
    const at = (hour: number) => `2026-03-04T${String(hour).padStart(2, "0")}:00:00-06:00`;
    const [start, end] = [at(from + index), at(from + index + 1)];
    return { start, end, label: `${start}–${end}`, complete: true };
  });

const AROUND: Around = {
  hours: hours(7, 12),
  lines: [{ key: "forearm", label: "Left forearm 20 G" }],
  heading: "begins",
  languages: [en, es],
};

const read = (text: string, around: Partial<Around> = {}) => readChart(text, { ...AROUND, ...around });
/** "urine 09:00–10:00 250". */
const figures = (text: string, around: Partial<Around> = {}) =>
  read(text, around).figures.map(
    ({ row, start, end, volume }) =>
      `${Object.values(row)[0]} ${start.slice(11, 16)}–${end.slice(11, 16)} ${volume}`,
  );
const faults = (text: string, around: Partial<Around> = {}) =>
  read(text, around).faults.map(({ what, row, column }) => [what, row, column]);

describe("the text of a chart", () => {
  it("is a row of hours and totals over rows of volumes", () => {
    const text = "mL,07:00,08:00,Total\nUrine,250,,250\nTotal intake,,120,120";
    expect(figures(text)).toEqual([
      "urine 07:00–08:00 250",
      "urine 08:00–09:00 null",
      "urine 07:00–09:00 250",
      "intake 08:00–09:00 120",
      "intake 07:00–09:00 120",
    ]);
    expect(faults(text)).toEqual([]);
  });

  it("may have tabs as a spreadsheet pastes them, semicolons, quotation marks, a mark of its encoding", () => {
    const expected = ["urine 07:00–08:00 230.5"];
    expect(figures("mL\t7\nUrine\t230,5")).toEqual(expected);
    expect(figures("\ufeffmL;0700\r\nOrina;230,5\r\n\r\n")).toEqual(expected);
    expect(figures('mL,07:00-08:00\n"Urine (mL)","230.5 mL"')).toEqual(expected);
  });

  it("names rows by category in either language, by line, by sum, else by item", () => {
    const rows = read("mL,07:00\nAgua enteral,1\nleft forearm 20 g,2\nFOREARM-2,3\nBalance,4\nTea,5").figures;
    expect(rows.map(({ row }) => row)).toEqual([
      { category: "enteral-water" },
      { line: "forearm" },
      { item: "FOREARM-2" },
      { sum: "net" },
      { item: "Tea" },
    ]);
    expect(read("mL,07:00\nMicción,1\nOrina,2\niv-fluid,3").figures.map(({ row }) => row)).toEqual([
      { item: "Micción" },
      { category: "urine" },
      { category: "iv-fluid" },
    ]);
  });

  it("takes a heading for the hour that begins or ends then, as it is told", () => {
    expect(figures("mL,08:00\nUrine,5", { heading: "ends" })).toEqual(["urine 07:00–08:00 5"]);
    expect(figures("mL,08:00-10:00\nUrine,5", { heading: "ends" })).toEqual(["urine 08:00–10:00 5"]);
  });

  it("is of the whole shift where it has totals alone", () => {
    expect(figures("mL,Total\nUrine,810")).toEqual(["urine 07:00–19:00 810"]);
  });

  it("does not miss a column nobody wrote in", () => {
    expect(faults("mL,06:00,07:00,Remarks\nUrine,,5,")).toEqual([]);
  });
});

describe("a cell that cannot be read", () => {
  it("is named with its row, its heading and why", () => {
    const text = "mL,07:00,7 pm,19:00,Total\nUrine,2 L,1,1,1.250\nTotal,5\n,5\nUrine,5\nOral,a lot,,,,9";
    expect(faults(text)).toEqual([
      ["no-heading", null, "7 pm"],
      ["not-of-the-shift", null, "19:00"],
      ["other-unit", "Urine", "07:00"],
      ["two-readings", "Urine", "Total"],
      ["total-of-what", "Total", null],
      ["no-name", "", null],
      ["row-twice", "Urine", null],
      ["too-many-cells", "Oral", null],
      ["not-a-number", "Oral", "07:00"],
    ]);
    expect(read(text).faults[2]).toMatchObject({ line: 2, text: "2 L" });
  });

  it("may be all of them", () => {
    expect(faults("")).toEqual([["no-rows", null, null]]);
    expect(faults("mL,07:00")).toEqual([["no-rows", null, null]]);
    expect(faults('mL,07:00\n"Urine,5')).toEqual([["broken", null, null]]);
  });

  it("is asked about in the hour that the clock shows twice", () => {
    const [first, second] = hours(7, 2);
    const again = { ...second!, start: "2026-03-04T07:00:00-07:00", end: "2026-03-04T08:00:00-07:00" };
    expect(faults("mL,07:00\nUrine,5", { hours: [first!, again] })).toEqual([["hour-twice", null, "07:00"]]);
    const both = read("mL,07:00,07:00\nUrine,5,6", { hours: [first!, again] });
    expect(both.figures.map(({ start }) => start)).toEqual([first!.start, again.start]);
    expect(faults("mL,07:00,07:00\nUrine,5,6")).toEqual([
      ["heading-twice", null, "07:00"],
      ["heading-twice", null, "07:00"],
    ]);
  });

  it("may be one that the ledger does not take", () => {
    const { cells } = read("mL,07:00,08:00\nUrine,1,2");
    const problem = { errors: [{ pointer: "#/figures/1/volume", detail: "must be 0 at least." }] };
    expect(refusedCells(problem, cells)).toEqual([
      { what: "refused", row: "Urine", line: null, column: "08:00", text: "must be 0 at least." },
    ]);
  });
});

describe("a volume", () => {
  it.each([
    ["250", 250],
    [" 250 mL", 250],
    ["0.5", 0.5],
    ["0,5", 0.5],
    ["0,125", 0.125],
    ["0.125", 0.125],
    ["\u2212265", -265],
    ["1,234.5", 1234.5],
    ["1.234,5", 1234.5],
    ["1 234,5", 1234.5],
    ["1234", 1234],
    ["12,345,678", 12345678],
  ])("%s is %d mL", (text, volume) => {
    expect(volumeIn(text)).toEqual({ volume });
  });

  it.each([
    ["", null],
    ["-", null],
    ["–", null],
  ])("%s is an empty cell", (text, volume) => {
    expect(volumeIn(text)).toEqual({ volume });
  });

  it.each([
    ["1,250", "two-readings"],
    ["1.250", "two-readings"],
    ["-12.500", "two-readings"],
    ["0.1234", "decimals"],
    ["2 L", "other-unit"],
    ["30 cc", "other-unit"],
    ["x 2", "not-a-number"],
    ["1-2", "not-a-number"],
    ["1e3", "not-a-number"],
  ])("%s is none: %s", (text, fault) => {
    expect(volumeIn(text)).toEqual({ fault });
  });
});
