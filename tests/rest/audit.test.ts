/** The audit over HTTP: for charge nurses of the unit, as JSON or as a table, sorted and filtered by a closed list. */

import { describe, expect, it } from "vitest";
import { MEASURES } from "../../src/audit/measures.js";
import { UnitAudit } from "../../src/wire/answers/audit.js";
import { parse } from "../../src/wire/parse.js";
import { readBack } from "../wire/csv.js";
import { at, SALINE, STAY, Ward } from "./ward.js";

const AUDIT = "/v1/units/east/audit?shift=2026-03-04/day";

async function ward(): Promise<Ward> {
  const here = await Ward.open();
  await here.record(SALINE);
  const second = { ...STAY, id: "-stay-3", bed: "13", admissionWeight: undefined };
  await here.done("POST", "/v1/encounters", { body: second });
  return here;
}

const asked = { as: "charge-nurse" } as const;

describe("an audit", () => {
  it("is what the description says of it, and of the patients of the unit alone", async () => {
    const here = await ward();
    const { status, body, headers } = await here.get(AUDIT, asked);
    expect([status, headers["content-type"]]).toEqual([200, "application/json; charset=utf-8"]);
    expect(parse(UnitAudit, body).faults).toBeUndefined();
    expect(body).toMatchObject({
      unit: "east",
      shift: "2026-03-04/day",
      start: at("07:00"),
      until: at("14:00"),
    });
    expect(body.encounters.map(({ encounter }: { encounter: string }) => encounter)).toEqual([
      "-stay-3",
      "stay-1",
    ]);
    // Who the patients are stands in one place, and this is not it.
    expect(JSON.stringify(body)).not.toMatch(/P-20417|Imaginary/);
  });

  it("has a tag, and is not sent again to who has it", async () => {
    const here = await ward();
    const { headers } = await here.get(AUDIT, asked);
    const again = (accept: string) =>
      here.get(AUDIT, { ...asked, headers: { "if-none-match": headers.etag!, accept } });
    expect((await again("application/json")).status).toBe(304);
    expect((await again("text/csv")).status).toBe(200);
    expect(headers.vary).toBe("accept");
  });

  it("is for charge nurses of the unit, and stands in the log as a list", async () => {
    const here = await ward();
    const statuses: Record<string, number> = {};
    for (const caller of [
      "nurse",
      "integration",
      "device",
      "administrator",
      "charge-nurse@east",
      "charge-nurse@west",
    ])
      statuses[caller] = (await here.get(AUDIT, { as: caller })).status;
    expect(statuses).toEqual({
      ...{ nurse: 403, integration: 403, device: 403, administrator: 403 },
      ...{ "charge-nurse@east": 200, "charge-nurse@west": 404 },
    });
  });

  it("refuses a measure nobody knows, a shift that is none, and a sequence of no chain", async () => {
    const here = await ward();
    const refusal = async (query: string) => {
      const { status, body } = await here.get(`/v1/units/east/audit?${query}`, asked);
      return [
        status,
        body.errors?.map(({ parameter, code }: Record<string, string>) => `${parameter} ${code}`),
      ];
    };
    const shift = "shift=2026-03-04/day";
    expect(await refusal("")).toEqual([400, ["shift required"]]);
    expect(await refusal("shift=yesterday")).toEqual([400, ["shift wrong-form"]]);
    expect(await refusal("shift=2026-03-05/day")).toEqual([400, ["shift not-there"]]);
    expect(await refusal(`${shift}&sort=kindness`)).toEqual([400, ["sort not-one-of"]]);
    expect(await refusal(`${shift}&counted=kindness&order=sideways`)).toEqual([
      400,
      ["counted not-one-of", "order not-one-of"],
    ]);
    expect(await refusal(`${shift}&asOf=5`)).toEqual([400, ["asOf not-an-instant"]]);
    expect(await refusal(`${shift}&asOf=2026-03-04T15:00:00-06:00`)).toEqual([400, ["asOf in-the-future"]]);
  });

  it("shows whom a measure counts, in the order of another", async () => {
    const here = await ward();
    const shown = async (query: string) =>
      (await here.get(`${AUDIT}&${query}`, asked)).body.encounters.map(
        ({ encounter }: { encounter: string }) => encounter,
      );
    expect(await shown("sort=lines-running")).toEqual(["stay-1", "-stay-3"]);
    expect(await shown("sort=lines-running&order=least-first")).toEqual(["-stay-3", "stay-1"]);
    expect(await shown("counted=weight-missing")).toEqual(["-stay-3"]);
    expect(await shown("notCounted=weight-missing&counted=lines-running")).toEqual(["stay-1"]);
    expect(await shown("counted=weight-missing&counted=lines-running")).toEqual([]);
  });
});

describe("its table", () => {
  const table = async (here: Ward, accept = "text/csv") => {
    const { text, headers } = await here.get(AUDIT, { ...asked, headers: { accept } });
    return { rows: text.split("\r\n"), type: headers["content-type"] };
  };

  it("has a row for each encounter, and every measure with its unit in the header", async () => {
    const { rows, type } = await table(await ward());
    expect(type).toBe("text/csv; charset=utf-8; header=present");
    const [header = "", first = "", second = ""] = rows;
    const end = rows.at(-1);
    expect(header).toMatch(
      /^row,unit,shift,encounter,from,to,sequence,digest,until,signed-within-10 \(yes\/no\),/,
    );
    expect(header.split(",")).toHaveLength(9 + MEASURES.length);
    expect(end).toBe("");
    const cell = (row: string, name: string) => row.split(",")[header.split(",").indexOf(name)];
    // An id that a spreadsheet would take for a formula is kept from being one.
    expect([cell(first, "encounter"), cell(second, "encounter")]).toEqual(["'-stay-3", "stay-1"]);
    expect([cell(first, "weight-missing (yes/no)"), cell(second, "weight-missing (yes/no)")]).toEqual([
      "yes",
      "no",
    ]);
    expect(cell(second, "longest-without-entry (min)")).toBe("420");
    expect(cell(second, "signed-furthest (mL)")).toBe("");
    expect(cell(second, "brought-forward-since (instant)")).toBe(at("06:00"));
  });

  it("says below them what each measure is, what of it is counted, and n and N", async () => {
    const here = await ward();
    const { measures } = (await here.get(AUDIT, asked)).body;
    const { text } = await here.get(AUDIT, { ...asked, headers: { accept: "text/csv" } });
    const [header, ...rows] = readBack(text);
    expect(rows.map(([row]) => row)).toEqual([
      ...["encounter", "encounter", "n", "N", "unit", "n of N", "definition"],
    ]);
    for (const row of rows) expect(row).toHaveLength(header!.length);
    const below = Object.fromEntries(rows.slice(2).map(([row, ...cells]) => [row, cells.slice(8)]));
    for (const [i, { n, of, value, counting, definition }] of measures.entries()) {
      const cells = ["n", "N", "unit", "n of N", "definition"].map((row) => below[row]![i]);
      const numbers = [n, of, value ?? ""].map(String);
      expect(cells).toEqual([...numbers, counting, definition]);
    }
    // Of a measure that is one of two, and of one that is told of both.
    const column = (key: string) => measures.findIndex((one: { key: string }) => one.key === key);
    expect([below.n![column("weight-missing")], below.N![column("weight-missing")]]).toEqual(["1", "2"]);
    expect(below.definition![column("weight-missing")]).toMatch(
      /^Nobody has written down what the patient weighs/,
    );
  });

  it.each([
    ["*/*", false],
    ["text/*", true],
    ["text/csv;q=0.5, application/json;q=0.4", true],
    ["text/csv, application/json", false],
    ["application/json;q=0.9, text/csv", true],
    ["text/csv;q=0", false],
    ["image/png", false],
    ["nonsense", false],
    ["text/html, text/csv;q=0.9, */*;q=0.1", true],
  ])("is sent for Accept: %s: %s", async (accept, isTable) => {
    expect((await table(await ward(), accept)).type!.startsWith("text/csv")).toBe(isTable);
  });
});
