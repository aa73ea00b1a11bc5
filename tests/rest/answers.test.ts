/** Answers over HTTP: what the schemas promise is what is sent, and a caller need not fetch it twice. */

import { describe, expect, it } from "vitest";
import type { z } from "zod";
import { rolesFor } from "../../src/access/rules.js";
import { type AnyRoute, nameOf } from "../../src/rest/route.js";
import { ROUTES } from "../../src/rest/routes.js";
import { parse } from "../../src/wire/parse.js";
import { at, EAST, ENTRIES, SALINE, STAY, Ward } from "./ward.js";

const STAY_1 = "/v1/encounters/stay-1";
const WHOLE_DAY = "shift=2026-03-04/day&by=whole";

function schemaOf(route: AnyRoute, status: number): z.ZodType {
  const schema = route.answers.find((answer) => answer.status === status)?.schema;
  if (schema === undefined) throw new Error(`${nameOf(route)} promises nothing for ${status}`);
  return schema;
}

/** What a computed answer is asked for; nothing of the others. */
function queriesOf(path: string): string[] {
  const day = "?day=2026-03-04";
  if (/volumes$/.test(path)) {
    return [day, `${day}&per=bag&by=shift`, `?${WHOLE_DAY}&per=category&precision=0.001`];
  }
  if (/balance$/.test(path))
    return [day, `${day}&by=shift&start=2026-03-04T05:00:00-06:00`, `?${WHOLE_DAY}&precision=1`];
  if (/explanation$/.test(path)) return [`${day}&row=forearm`, `${day}&per=bag&row=saline-1`];
  if (/changes$/.test(path)) return ["?since=1", "?since=5&asOf=9"];
  if (/audit$/.test(path)) return ["?shift=2026-03-04/day", "?shift=2026-03-04/day&sort=late-entries"];
  return /(flows|reconciliation|drug-amounts)$/.test(path) ? [day] : [""];
}

describe("every answer is what the description says", () => {
  const dose = {
    kind: "rate-changed",
    at: at("10:00"),
    channel: "drip",
    dose: { value: 0.1, unit: "ug/kg/min" },
  };
  const pressor = [
    {
      kind: "channel-connected",
      at: at("09:00"),
      channel: "drip",
      line: "forearm",
      type: "syringe",
      totals: "separate",
      rateStep: 0.1,
    },
    {
      kind: "bag-hung",
      at: at("09:00"),
      channel: "drip",
      bag: "nor-1",
      volume: 50,
      fluid: { name: "Norepinephrine in saline", category: "iv-medication" },
      additives: [{ name: "Norepinephrine", amount: 4, unit: "mg" }],
    },
    { kind: "flow-started", at: at("09:00"), channel: "drip", dose: { value: 0.05, unit: "ug/kg/min" } },
    dose,
    { kind: "rate-changed", at: at("10:30"), channel: "nobody-knows-it", rate: 5 },
    { kind: "bolus-started", at: at("11:00"), channel: "drip", volume: 2, over: "PT5M" },
    {
      kind: "secondary-started",
      at: at("11:30"),
      channel: "pump-1",
      rate: 100,
      volumeToInfuse: 50,
      primaryClamped: true,
    },
    {
      kind: "entry-amended",
      entry: "start",
      reason: "Read again.",
      replacement: { ...SALINE[3], id: undefined, rate: 76 },
    },
    { kind: "away-started", at: at("12:00"), place: "Imaging", flows: "unknown" },
    { kind: "output-measured", at: at("12:30"), category: "urine", volume: 300 },
  ];

  /** Something to find of each kind that names entries: a total that is lost, a reading in question. */
  const unasked = [
    {
      kind: "total-read",
      at: at("12:00"),
      channel: "pump-1",
      total: "primary",
      volume: 900,
      id: "misread",
    },
    { kind: "therapy-changed", at: at("12:45"), channel: "drip", id: "therapy" },
  ];
  const drank = { kind: "intake-measured", at: at("09:30"), category: "oral", volume: 120, id: "drank" };
  const lost = "totals-lost~drip~therapy";

  /** Figures that match, differ for a reason and for none, were left empty, and have not begun. */
  const figure = (row: object, from: string, to: string, volume: number | null) => ({
    row,
    start: at(from),
    end: at(to),
    volume,
  });
  const figures = [
    figure({ category: "iv-fluid" }, "07:00", "08:00", 76),
    figure({ category: "iv-fluid" }, "08:00", "09:00", 760),
    figure({ line: "forearm" }, "09:00", "10:00", null),
    figure({ category: "urine" }, "12:00", "13:00", 371),
    figure({ sum: "net" }, "13:00", "14:00", 0),
  ];
  const drip = { kind: "rate-changed", at: at("13:50"), channel: "pump-1", rate: 75 };
  const chart = { id: "sheet", source: "Paper sheet (invented)", shift: "2026-03-04/day", figures };

  // A stream has no body to hold to a schema: what it says has tests of its own.
  const gets = ROUTES.filter(({ method, answers: [first] }) => {
    return method === "GET" && first?.status === 200 && first.media === undefined;
  });

  it.each(gets.map((route) => [nameOf(route), route] as const))("%s", async (name, route) => {
    const ward = await Ward.open();
    await ward.done("POST", ENTRIES, { body: { entries: SALINE } });
    await ward.done("POST", ENTRIES, { body: { entries: pressor } });
    await ward.done("POST", `${ENTRIES}?queued=true`, { body: { entries: unasked } });
    await ward.done("POST", `${STAY_1}/charts`, { as: "charge-nurse", body: chart });
    await ward.done("PATCH", STAY_1, { body: { move: { unit: "west", at: at("13:00") } } });
    const { toSign } = (await ward.get(`${STAY_1}/shifts/2026-03-04/day?until=${at("12:00")}`)).body;
    const signed = { digest: toSign.digest, to: toSign.to, remark: "Looked at." };
    await ward.done("POST", `${STAY_1}/shifts/2026-03-04/day/signature`, { body: signed });
    await ward.done("POST", ENTRIES, { body: { entries: [drank] } });
    const path = route.path
      .replace("{unit}", "east")
      .replace("{encounter}", "stay-1")
      .replace("{entry}", "start")
      .replace("{chart}", "sheet")
      .replace("{date}/{shift}", "2026-03-04/day");
    const queries = queriesOf(path);
    for (const query of queries) {
      const answer = await ward.done("GET", path + query, { as: rolesFor(name)[0] ?? null });
      expect(parse(schemaOf(route, 200), answer.body).faults, path + query).toBeUndefined();
    }
  });

  it("of what is posted and changed, too", async () => {
    const ward = await Ward.open({ empty: true });
    const answers = async (name: string, path: string, body: object, as = "administrator") => {
      const route = ROUTES.find((one) => nameOf(one) === name)!;
      const answer = await ward.done(route.method, path, { as, body });
      expect(parse(schemaOf(route, answer.status), answer.body).faults, name).toBeUndefined();
    };
    await answers("POST /v1/units", "/v1/units", EAST);
    await answers("PATCH /v1/units/{unit}", "/v1/units/east", {
      effectiveFrom: at("07:00"),
      settings: { precision: 1 },
    });
    await answers("POST /v1/encounters", "/v1/encounters", STAY);
    await answers("PATCH /v1/encounters/{encounter}", STAY_1, { bed: "14" });
    const recorded = "POST /v1/encounters/{encounter}/entries";
    await answers(recorded, `${ENTRIES}?dryRun=true`, { entries: SALINE }, "nurse");
    await answers(recorded, ENTRIES, { entries: SALINE }, "nurse");
    await answers(recorded, ENTRIES, { entries: SALINE }, "nurse");
    await answers(recorded, `${ENTRIES}?dryRun=true`, { entries: pressor }, "nurse");
    await answers(recorded, ENTRIES, { entries: pressor }, "nurse");
    await answers(recorded, `${ENTRIES}?dryRun=true`, { entries: [drip] }, "device");
    await answers(recorded, ENTRIES, { entries: [drip] }, "device");
    await answers(recorded, `${ENTRIES}?queued=true`, { entries: unasked }, "nurse");
    const kept = "POST /v1/encounters/{encounter}/charts";
    await answers(kept, `${STAY_1}/charts`, chart, "charge-nurse");
    await answers(kept, `${STAY_1}/charts`, chart, "charge-nurse");
    const reconciled = "POST /v1/encounters/{encounter}/reconciliation";
    await answers(reconciled, `${STAY_1}/reconciliation`, { figures }, "nurse");
    await answers(reconciled, `${STAY_1}/reconciliation`, { chart: "sheet" }, "nurse");
    await answers(reconciled, `${STAY_1}/reconciliation?until=${at("12:30")}`, { chart: "sheet" }, "nurse");
    const acknowledged = "POST /v1/encounters/{encounter}/findings/{finding}/acknowledgement";
    const seen = `${STAY_1}/findings/${lost}/acknowledgement`;
    await answers(acknowledged, seen, { reason: "The syringe had run dry." }, "nurse");
    const shift = `${STAY_1}/shifts/2026-03-04/day`;
    const { digest, to } = (await ward.get(shift)).body.toSign;
    const signing = "POST /v1/encounters/{encounter}/shifts/{date}/{shift}/signature";
    await answers(signing, `${shift}/signature`, { digest, to, remark: "Looked at." }, "nurse");
    await answers("PATCH /v1/encounters/{encounter}", STAY_1, { discharge: { at: at("13:30") } }, "nurse");
  });
});

describe("computed answers", () => {
  it("say what was delivered, line by line and hour by hour", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const { body } = await ward.get(`${STAY_1}/volumes?shift=2026-03-04/day`);
    // 75 mL/h from 07:00; it is 14:00, and five hours of the shift are to come.
    expect(body.rows).toEqual([
      expect.objectContaining({ key: "forearm", label: "Left forearm", total: 525 }),
    ]);
    expect(body.sums).toEqual([75, 75, 75, 75, 75, 75, 75, null, null, null, null, null]);
    expect([body.total, body.asOf.sequence, body.until]).toEqual([525, 5, at("14:00")]);
  });

  it("can be had as of an earlier moment, by its sequence or its time", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    ward.itIs("15:00");
    await ward.record([{ kind: "rate-changed", at: at("13:00"), channel: "pump-1", rate: 95 }]);
    const total = async (query: string) =>
      (await ward.get(`${STAY_1}/volumes?${WHOLE_DAY}${query}`)).body.total;
    // 6 h at 75 and 2 h at 95; 8 h at 75; 7 h at 75.
    expect(await total("")).toBe(640);
    expect(await total("&asOf=5")).toBe(600);
    expect(await total(`&asOf=${at("14:30")}&until=${at("14:00")}`)).toBe(525);
    expect(await total(`&until=${at("08:00")}`)).toBe(75);
  });

  it("show running totals, flow by flow", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const { body } = await ward.get(`${STAY_1}/totals?at=${at("09:00")}`);
    expect(body.channels[0]).toMatchObject({ channel: "pump-1", delivering: "primary" });
    expect(body.channels[0].totals[0]).toMatchObject({
      total: "primary",
      expected: 150,
      lastReading: null,
      atRisk: 150,
    });
    const flows = (await ward.get(`${STAY_1}/flows?shift=2026-03-04/day`)).body.flows;
    expect(flows).toMatchObject([
      { bag: "saline-1", rate: 75, volume: 525, start: at("07:00"), end: at("14:00") },
    ]);
  });

  it.each(["volumes?shift=2026-03-04/day", "flows?day=2026-03-04", "totals"])(
    "are not sent again while they stay the same: %s",
    async (answer) => {
      const ward = await Ward.open();
      await ward.record(SALINE);
      const path = `${STAY_1}/${answer}`;
      const first = await ward.get(path);
      const { etag = "" } = first.headers;
      expect(etag).toMatch(/^"[\w-]{43}"$/);
      for (const tags of [etag, `"other", W/${etag}`, "*"]) {
        const again = await ward.get(path, { headers: { "if-none-match": tags } });
        expect([again.status, again.headers.etag, again.text]).toEqual([304, etag, ""]);
      }
      await ward.record([{ kind: "rate-changed", at: at("13:00"), channel: "pump-1", rate: 80 }]);
      const changed = await ward.get(path, { headers: { "if-none-match": etag } });
      expect(changed.status).toBe(200);
      expect(changed.headers.etag).not.toBe(etag);
      const bad = await ward.get(path, { headers: { "if-none-match": etag.slice(1) } });
      expect([bad.status, bad.body.errors[0].parameter]).toEqual([400, "If-None-Match"]);
    },
  );
});

describe("lists", () => {
  it("come in pages, each with the address of the next", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const seen: string[] = [];
    let path: string | undefined = `${ENTRIES}?order=at&limit=2`;
    for (let pages = 0; path !== undefined && pages < 5; pages++) {
      const page: { body: { entries: { id: string }[]; next?: string }; headers: Record<string, string> } =
        await ward.get(path);
      seen.push(...page.body.entries.map(({ id }) => id));
      path = page.body.next;
      expect(page.headers.link).toBe(path === undefined ? undefined : `<${path}>; rel="next"`);
    }
    // The admission lies at 06:00; at 07:00 they stand in the order in which they were recorded.
    expect(seen.slice(1)).toEqual(["line-1", "pump", "bag", "start"]);
    expect(seen).toHaveLength(5);
  });

  it("of units and encounters go on after an id, with the rest of the query", async () => {
    const ward = await Ward.open();
    const units = await ward.get("/v1/units?limit=1");
    expect([units.body.units[0].id, units.body.next]).toEqual(["east", "/v1/units?limit=1&after=east"]);
    const more = await ward.get(units.body.next);
    expect([more.body.units[0].id, more.body.next]).toEqual(["west", undefined]);
    const stays = await ward.get("/v1/encounters?open=true&limit=1");
    expect(stays.body.next).toBe("/v1/encounters?open=true&limit=1&after=stay-1");
  });

  it("of encounters tell those that last from those that have ended", async () => {
    const ward = await Ward.open();
    await ward.done("PATCH", STAY_1, { body: { discharge: { at: at("13:00") } } });
    const ids = async (query: string) =>
      (await ward.get(`/v1/encounters?${query}`)).body.encounters.map(({ id }: { id: string }) => id);
    expect(await ids("open=true")).toEqual(["stay-2"]);
    expect(await ids("open=false")).toEqual(["stay-1"]);
    expect(await ids("unit=east")).toEqual(["stay-1"]);
  });
});
