/** Charts kept for the record: once, for good, as of any moment; what is refused; and the finding of one that differs. */

import { describe, expect, it } from "vitest";
import { at, SALINE, Ward } from "./ward.js";

const CHARTS = "/v1/encounters/stay-1/charts";
const RECONCILIATION = "/v1/encounters/stay-1/reconciliation";
const FINDINGS = "/v1/encounters/stay-1/findings";

// biome-ignore lint/suspicious/noExplicitAny: answers are JSON, read by the field a test is about
type Json = any;

const cell = (from: string, to: string, volume: number | null, row: object = { category: "iv-fluid" }) => ({
  row,
  start: at(from),
  end: at(to),
  volume,
});
/** Saline at 75 mL/h: right in the first hour, 57 for 75 in the second. */
const FIGURES = [cell("07:00", "08:00", 75), cell("08:00", "09:00", 57)];
const PAPER = { id: "paper", source: "Paper sheet (invented)", from: at("07:00"), to: at("09:00") };
const CHART = { ...PAPER, figures: FIGURES };

async function opened(): Promise<Ward> {
  const ward = await Ward.open();
  await ward.record(SALINE);
  return ward;
}

const keep = (ward: Ward, body: object, more: object = {}) =>
  ward.ask("POST", CHARTS, { as: "charge-nurse", body, ...more });
const reconcile = (ward: Ward, body: object, query = "") =>
  ward.ask("POST", RECONCILIATION + query, { as: "charge-nurse", body });

describe("a chart that is kept", () => {
  it("is answered with who kept it, read again as it was sent, and stands in the chain", async () => {
    const ward = await opened();
    const kept = await keep(ward, CHART);
    expect(kept.status).toBe(201);
    expect(kept.headers).toMatchObject({ location: `${CHARTS}/paper`, etag: '"6"' });
    expect(kept.body).toMatchObject({
      id: "paper",
      source: "Paper sheet (invented)",
      start: at("07:00"),
      end: at("09:00"),
      latest: true,
      figures: FIGURES,
      recorded: { sequence: 6, by: { id: "charge-nurse", role: "charge-nurse" }, source: "person" },
    });
    const { ledger, ...as } = kept.body;
    expect(ledger).toEqual({ sequence: 6, digest: as.recorded.digest });
    const { asOf, until: _, ...read } = (await ward.get(`${CHARTS}/paper`)).body;
    expect(asOf.sequence).toBe(6);
    expect(read).toEqual(as);
    const { body } = await ward.get("/v1/encounters/stay-1/entries?kind=chart-posted");
    expect(body.entries).toMatchObject([{ id: "paper", kind: "chart-posted", chart: CHART }]);
  });

  it("is a retry under the same id with the same body, and refused with another", async () => {
    const ward = await opened();
    const kept = await keep(ward, CHART);
    const again = await keep(ward, CHART);
    expect([again.status, again.body]).toEqual([200, kept.body]);
    const other = await keep(ward, { ...CHART, source: "Another" });
    expect([other.status, other.body.type, other.body.id]).toEqual([409, "/problems/id-exists", "paper"]);
    // An entry of that name is no chart either.
    expect((await keep(ward, { ...CHART, id: "start" })).status).toBe(409);
    expect((await ward.get(CHARTS)).body.charts).toHaveLength(1);
  });

  it("is kept once for an Idempotency-Key, and under an id of the ledger's without one", async () => {
    const ward = await opened();
    const { id: _, ...body } = CHART;
    const headers = { "idempotency-key": "k-1" };
    const [first, second] = [await keep(ward, body, { headers }), await keep(ward, body, { headers })];
    expect([first.status, second.status, second.body]).toEqual([201, 201, first.body]);
    expect(first.headers.location).toBe(`${CHARTS}/${first.body.id}`);
    expect((await ward.get(CHARTS)).body.charts).toHaveLength(1);
  });

  it("changes no figure", async () => {
    const ward = await opened();
    const volumes = "/v1/encounters/stay-1/volumes?shift=2026-03-04/day&asOf=";
    await keep(ward, CHART);
    const [before, after] = [await ward.get(`${volumes}5`), await ward.get(`${volumes}6`)];
    expect(after.body.rows).toEqual(before.body.rows);
  });

  it("cannot be amended or voided like what happened", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    const voided = { kind: "entry-voided", entry: "paper", reason: "copied wrong" };
    const answer = await ward.record([voided]);
    expect([answer.status, answer.body.errors[0].code]).toEqual([422, "not-correctable"]);
  });

  it("is not there as of before, nor in a list or a reconciliation of then", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    expect((await ward.get(`${CHARTS}/paper?asOf=5`)).status).toBe(404);
    expect((await ward.get(`${CHARTS}?asOf=5`)).body.charts).toEqual([]);
    const { status, body } = await reconcile(ward, { chart: "paper" }, "?asOf=5");
    expect([status, body.errors]).toMatchObject([422, [{ pointer: "#/chart", code: "unknown-chart" }]]);
    expect((await reconcile(ward, { chart: "paper" }, "?asOf=6")).status).toBe(200);
  });

  it("is superseded by a later one of the same span alone", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    await keep(ward, { ...CHART, id: "later" });
    await keep(ward, { id: "other", figures: [FIGURES[0]] });
    const latest = async (query = "") =>
      (await ward.get(CHARTS + query)).body.charts.map((one: Json) => [one.id, one.latest]);
    expect(await latest()).toEqual([
      ["paper", false],
      ["later", true],
      ["other", true],
    ]);
    expect(await latest("?asOf=6")).toEqual([["paper", true]]);
  });

  it("is listed by pages, without its figures", async () => {
    const ward = await opened();
    for (const id of ["a", "b", "c"]) await keep(ward, { ...CHART, id });
    const first = await ward.get(`${CHARTS}?limit=2`);
    expect(first.body.charts.map(({ id, count }: Json) => [id, count])).toEqual([
      ["a", 2],
      ["b", 2],
    ]);
    expect(first.headers.link).toBe(`<${first.body.next}>; rel="next"`);
    const rest = await ward.get(first.body.next);
    expect(rest.body.charts.map(({ id }: Json) => id)).toEqual(["c"]);
    expect(rest.body.next).toBeUndefined();
    expect((await ward.get(`${CHARTS}?after=x`)).body.errors).toMatchObject([{ code: "no-cursor" }]);
  });

  it("is of a shift, a day or the span of its figures", async () => {
    const ward = await opened();
    const span = async (body: object) => {
      const { start, end } = (await keep(ward, { figures: FIGURES, ...body })).body;
      return [start, end];
    };
    expect(await span({ shift: "2026-03-04/day" })).toEqual([at("07:00"), at("19:00")]);
    expect(await span({ day: "2026-03-04" })).toEqual([at("07:00"), "2026-03-05T07:00:00-06:00"]);
    expect(await span({})).toEqual([at("07:00"), at("09:00")]);
  });

  it("is for charge nurses and integrations to keep, and of their unit", async () => {
    const ward = await opened();
    const status = async (as: string) => (await keep(ward, { figures: FIGURES }, { as })).status;
    expect(await Promise.all(["nurse", "device", "administrator"].map(status))).toEqual([403, 403, 403]);
    expect(await Promise.all(["charge-nurse", "integration"].map(status))).toEqual([201, 201]);
    expect(await status("charge-nurse@west")).toBe(404);
  });
});

describe("a chart is refused, with everything that is wrong at once", () => {
  it.each<[string, object, [string, string][]]>([
    ["without figures", {}, [["#/figures", "required"]]],
    ["with none", { figures: [] }, [["#/figures", "out-of-range"]]],
    [
      "with more than seven hundred",
      { figures: Array.from({ length: 701 }, (_, i) => cell("07:00", "08:00", i, { item: `Item ${i}` })) },
      [["#/figures", "out-of-range"]],
    ],
    [
      "with figures of no form",
      {
        figures: [
          cell("07:00", "08:00", 75, { category: "tea" }),
          cell("07:00", "08:00", -75, { category: "oral" }),
          cell("07:00", "08:00", -75, { sum: "intake" }),
          cell("07:00", "08:00", -75, { sum: "net" }),
          cell("07:00", "08:00", 0.0001),
          cell("07:00", "08:00", 75, { line: "forearm", item: "Tea" }),
          cell("08:00", "08:00", 75),
          { ...cell("07:00", "08:00", 75), start: "2026-03-04T07:00:00" },
          { ...cell("07:00", "08:00", 75), volume: "75" },
        ],
        sent: 1,
      },
      [
        ["#/figures/0/row/category", "not-one-of"],
        ["#/figures/1/volume", "out-of-range"],
        ["#/figures/2/volume", "out-of-range"],
        ["#/figures/4/volume", "too-many-decimals"],
        ["#/figures/5/row", "exactly-one-of"],
        ["#/figures/6/end", "inconsistent"],
        ["#/figures/7/start", "no-offset"],
        ["#/figures/8/volume", "wrong-type"],
        ["#/sent", "unknown-field"],
      ],
    ],
    [
      "with two spans",
      { shift: "2026-03-04/day", from: at("07:00"), to: at("09:00"), figures: FIGURES },
      [["#/shift", "exactly-one-of"]],
    ],
    ["with half a span", { from: at("07:00"), figures: FIGURES }, [["#/to", "required"]]],
    [
      "with more than 200 different intervals",
      {
        figures: Array.from({ length: 201 }, (_, i) => ({
          ...cell("07:00", "08:00", 0),
          end: new Date(Date.parse(at("08:00")) + i * 60_000).toISOString(),
        })),
      },
      [["#/figures", "too-long"]],
    ],
    [
      "of a shift that is none",
      { shift: "2026-03-04/late", figures: FIGURES },
      [["#/shift", "unknown-span"]],
    ],
    [
      "with figures outside its span, twice, or of what has not begun",
      {
        shift: "2026-03-04/day",
        figures: [
          cell("06:00", "07:00", 75),
          cell("08:00", "09:00", 75, { item: "Tea" }),
          cell("08:00", "09:00", 75, { item: "tea " }),
          cell("15:00", "16:00", 75),
          cell("16:00", "17:00", null),
        ],
      },
      [
        ["#/figures/0", "inconsistent"],
        ["#/figures/2", "repeated-figure"],
        ["#/figures/3/volume", "too-far-ahead"],
      ],
    ],
    [
      "of more than a month",
      { from: at("07:00"), to: "2026-04-05T07:00:00-05:00", figures: FIGURES },
      [["#", "too-long"]],
    ],
    [
      "from long before the stay",
      { figures: [{ ...FIGURES[0], start: "2026-03-01T07:00:00-06:00", end: "2026-03-02T07:00:00-06:00" }] },
      [["#", "too-early"]],
    ],
    [
      "of what is yet to come",
      { figures: [{ ...FIGURES[0], start: at("15:00"), end: at("16:00"), volume: null }] },
      [["#", "too-far-ahead"]],
    ],
  ])("%s", async (_, body, errors) => {
    const ward = await opened();
    const kept = await keep(ward, body);
    expect([kept.status, kept.body.type]).toEqual([422, "/problems/invalid-body"]);
    expect(kept.body.errors.map(({ pointer, code }: Json) => [pointer, code])).toEqual(errors);
    for (const { detail } of kept.body.errors) expect(detail).toMatch(/\.$/);
  });

  it("and what is reconciled is figures or a chart, and one that is there", async () => {
    const ward = await opened();
    const errors = async (body: object) =>
      (await reconcile(ward, body)).body.errors.map(({ pointer, code }: Json) => [pointer, code]);
    expect(await errors({})).toEqual([["#", "exactly-one-of"]]);
    expect(await errors({ figures: FIGURES, chart: "paper" })).toEqual([["#", "exactly-one-of"]]);
    expect(await errors({ chart: "paper", shift: "2026-03-04/late" })).toEqual([
      ["#/chart", "unknown-chart"],
      ["#/shift", "unknown-span"],
    ]);
    const large = await reconcile(ward, { figures: FIGURES, padding: "x".repeat(1_100_000) });
    expect([large.status, large.body.type]).toEqual([413, "/problems/too-large"]);
  });
});

describe("a kept chart reconciled", () => {
  it("comes to the same as its figures sent along, with the coordinates and conventions of every answer", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    const { body } = await reconcile(ward, { chart: "paper" });
    expect(body).toMatchObject({
      zone: "America/Chicago",
      from: at("07:00"),
      to: at("09:00"),
      asOf: { sequence: 6, calculation: "1" },
      until: at("14:00"),
      chart: { id: "paper", source: "Paper sheet (invented)" },
      tolerance: { note: 10, attention: 50 },
      matches: [{ charted: 75, ledger: 75, certainty: "exact" }],
      differences: [
        { charted: 57, ledger: 75, difference: -18, explanations: [{ kind: "transposed-digits", place: 1 }] },
      ],
      notBegun: [],
      conventions: [{ iceFraction: 0.5, boundary: "ends", gramsPerMillilitre: 1 }],
    });
    const { chart: _, ...rest } = body;
    const { chart, ...sent } = (await reconcile(ward, { figures: FIGURES })).body;
    expect(chart).toBeNull();
    expect(sent).toEqual(rest);
  });

  it("is reconciled in part where a span is named with it", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    const { body } = await reconcile(ward, { chart: "paper", from: at("07:00"), to: at("08:00") });
    expect([body.matches.length, body.differences.length]).toEqual([1, 0]);
  });

  it("is compared with what was known then, as far as it had come", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    await ward.record([{ id: "slower", kind: "rate-changed", at: at("08:00"), channel: "pump-1", rate: 57 }]);
    const differences = async (query: string) =>
      (await reconcile(ward, { chart: "paper" }, query)).body.differences.length;
    expect([await differences("?asOf=6"), await differences("")]).toEqual([1, 0]);
    const early = (await reconcile(ward, { chart: "paper" }, `?until=${at("07:30")}`)).body;
    expect(early.differences).toMatchObject([{ ledger: 37.5, difference: 37.5 }]);
    expect(early.notBegun).toMatchObject([{ start: at("08:00"), charted: 57 }]);
  });

  it("is compared by the unit's own tolerance and precision, or by the one asked for", async () => {
    const ward = await opened();
    await ward.done("PATCH", "/v1/units/east", {
      as: "administrator",
      body: { effectiveFrom: at("06:00"), settings: { chartTolerance: { note: 20 } } },
    });
    const figures = [...FIGURES, cell("09:00", "09:20", 20)];
    const { body } = await reconcile(ward, { figures }, "?precision=10");
    expect(body.tolerance.note).toBe(20);
    expect(body.differences).toEqual([]);
    // 75, 150 and 175 by tens are 80, 150 and 180.
    expect(body.matches.map(({ ledger }: Json) => ledger)).toEqual([80, 70, 30]);
  });
});

describe("the finding of a chart that differs", () => {
  const found = async (ward: Ward, query = "") => {
    const { body } = await ward.get(FINDINGS + query);
    return body.findings.filter(({ code }: Json) => code === "chart-differs");
  };

  it("hangs on the chart, with the largest difference and what settles it", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    expect(await found(ward)).toMatchObject([
      {
        id: "chart-differs~-~paper",
        severity: "note",
        state: "open",
        concerns: { start: at("07:00"), end: at("09:00"), channel: null, entries: ["paper"] },
        sentence:
          'The chart "Paper sheet (invented)" of 07:00 to 09:00 differs from the ledger in 1 of 2 figures, most in iv fluid, 08:00 to 09:00: 18 mL less is charted (57 mL) than the ledger has (75 mL).',
      },
    ]);
    expect(await found(ward, "?asOf=5")).toEqual([]);
  });

  it("needs attention above the unit's tolerance, and names its shift", async () => {
    const ward = await opened();
    const totals = [cell("07:00", "09:00", 75), cell("07:00", "09:00", 75, { sum: "intake" })];
    const figures = [cell("07:00", "08:00", 75), cell("08:00", "09:00", 0), ...totals];
    await keep(ward, { ...CHART, from: undefined, to: undefined, shift: "2026-03-04/day", figures });
    const [one] = await found(ward);
    expect(one).toMatchObject({ severity: "attention", concerns: { shift: "2026-03-04/day" } });
    // The cell, not the totals that show it again.
    expect(one.sentence).toContain(
      "in 1 of 4 figures, and so in 2 totals of them, most in iv fluid, 08:00 to 09:00: 75 mL less",
    );
  });

  it("asked for on another day, gives the date once", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    ward.itIs("2026-03-05T14:00:00-06:00");
    const [one] = await found(ward);
    expect(one.sentence.match(/2026-03-04/g)).toHaveLength(1);
  });

  it("goes away when the ledger or a later chart of the span is right, and is the later chart's when it is not", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    const wrong = { ...CHART, id: "wrong", figures: [FIGURES[0], cell("08:00", "09:00", 60)] };
    await keep(ward, wrong);
    expect((await found(ward)).map(({ id }: Json) => id)).toEqual(["chart-differs~-~wrong"]);
    await keep(ward, { ...CHART, id: "right", figures: [FIGURES[0], cell("08:00", "09:00", 75)] });
    expect(await found(ward)).toEqual([]);
    await ward.record([{ kind: "rate-changed", at: at("08:00"), channel: "pump-1", rate: 57 }]);
    expect((await found(ward)).map(({ id }: Json) => id)).toEqual(["chart-differs~-~right"]);
    await keep(ward, { ...CHART, id: "as-it-is" });
    expect(await found(ward)).toEqual([]);
  });

  it("is named by what settles it, changes it or raises it, and by a rehearsal of that", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    const slower = { id: "slower", kind: "rate-changed", at: at("08:00"), channel: "pump-1", rate: 60 };
    const named = async (entry: object, query = "") => {
      const { body } = await ward.ask("POST", `/v1/encounters/stay-1/entries${query}`, {
        body: { entries: [entry] },
      });
      return body.findings.map(({ code, state }: Json) => [code, state]);
    };
    expect(await named(slower, "?dryRun=true")).toEqual([["chart-differs", "settled"]]);
    expect(await found(ward)).toHaveLength(1);
    expect(await named(slower)).toEqual([["chart-differs", "settled"]]);
    expect(await found(ward)).toEqual([]);
    expect(await named({ kind: "entry-voided", entry: "slower", reason: "Another pump." })).toEqual([
      ["chart-differs", "open"],
    ]);
    expect(await found(ward)).toHaveLength(1);
    // What happens after the chart has nothing to do with it.
    expect(await named({ ...slower, id: "later", at: at("09:30") })).toEqual([]);
  });

  it("says that it was, once it is settled", async () => {
    const ward = await opened();
    await keep(ward, CHART);
    await ward.ask("POST", `${FINDINGS}/chart-differs~-~paper/acknowledgement`, { body: { reason: "seen" } });
    await ward.record([{ kind: "rate-changed", at: at("08:00"), channel: "pump-1", rate: 57 }]);
    const [settled] = await found(ward, "?state=settled");
    expect(settled.sentence).toMatch(
      /^The figures agree now, or the chart was kept again. Before that: The chart/,
    );
  });

  it("stays acknowledged until the differences grow beyond the tolerance", async () => {
    const ward = await opened();
    // The total and the sum show the same again, and weigh nothing.
    const again = [cell("07:00", "09:00", 132), cell("07:00", "09:00", 132, { sum: "intake" })];
    await keep(ward, { ...CHART, figures: [...FIGURES, ...again] });
    const seen = await ward.ask("POST", `${FINDINGS}/chart-differs~-~paper/acknowledgement`, {
      body: { reason: "the sheet was copied in a hurry" },
    });
    expect(seen.status).toBe(201);
    const states = async () => (await found(ward, "?state=all")).map(({ state }: Json) => state);
    expect(await states()).toEqual(["acknowledged"]);
    const rate = (id: string, volume: number) => ({
      id,
      kind: "rate-changed",
      at: at("08:00"),
      channel: "pump-1",
      rate: volume,
    });
    // Eight more than 18 is no news, eleven is.
    await ward.record([rate("a-little", 83)]);
    expect(await states()).toEqual(["acknowledged"]);
    await ward.record([rate("more", 86)]);
    expect(await states()).toEqual(["open"]);
  });

  it("is not made of intervals that have not ended", async () => {
    const ward = await opened();
    await keep(ward, { figures: [cell("13:00", "14:30", 0)] });
    expect(await found(ward)).toEqual([]);
    ward.itIs("14:30");
    expect(await found(ward)).toHaveLength(1);
  });
});
