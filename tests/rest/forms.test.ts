/** The form of requests: media types, sizes, queries and addresses, and how each mistake is told. */

import { describe, expect, it } from "vitest";
import { at, ENTRIES, SALINE, Ward } from "./ward.js";

interface ParameterFault {
  readonly parameter: string;
  readonly code: string;
}

describe("a body", () => {
  it.each([
    ["text/plain", '{"entries":[]}'],
    ["application/x-www-form-urlencoded", "entries=1"],
    ["application/json; charset=iso-8859-1", "{}"],
    ["application/merge-patch+json", "{}"],
    ["multipart/form-data; boundary=x", "--x--"],
    ["json", "{}"],
    ["", "{}"],
  ])("is not taken as %s", async (type, body) => {
    const ward = await Ward.open();
    const answer = await ward.ask("POST", ENTRIES, { body, headers: { "content-type": type } });
    expect([answer.status, answer.body.type]).toEqual([415, "/problems/media-type"]);
  });

  it.each(["application/json", "application/json; charset=utf-8", 'Application/JSON;charset="UTF-8"'])(
    "is taken as %s",
    async (type) => {
      const ward = await Ward.open();
      const body = JSON.stringify({ entries: SALINE });
      expect((await ward.ask("POST", ENTRIES, { body, headers: { "content-type": type } })).status).toBe(201);
    },
  );

  it.each([
    ['{"entries":[', "The body is not JSON."],
    ['{"entries":[],"entries":[]}', 'The member "entries" stands twice in one object.'],
    ["", "The body is empty."],
  ])("must be JSON, which %j is not", async (body, detail) => {
    const ward = await Ward.open();
    const answer = await ward.ask("POST", ENTRIES, { body, headers: { "content-type": "application/json" } });
    expect(answer.body).toEqual({ type: "/problems/not-json", title: "Not JSON", status: 400, detail });
  });

  it("is needed", async () => {
    const ward = await Ward.open();
    expect((await ward.ask("POST", ENTRIES)).body).toMatchObject({
      status: 400,
      detail: "The body is empty.",
    });
  });

  it("may have a mebibyte and not a byte more", async () => {
    const ward = await Ward.open();
    const headers = { "content-type": "application/json" };
    const of = (bytes: number) => `{"entries":"${"x".repeat(bytes - 14)}"}`;
    const most = await ward.ask("POST", ENTRIES, { body: of(1_048_576), headers });
    expect(most.status).toBe(422);
    const more = await ward.ask("POST", ENTRIES, { body: of(1_048_577), headers });
    expect([more.status, more.body.type]).toEqual([413, "/problems/too-large"]);
  });
});

describe("a query", () => {
  const volumes = "/v1/encounters/stay-1/volumes";
  const period = "day=2026-03-04";

  it.each<[string, ParameterFault[]]>([
    [
      `${volumes}?${period}&colour=red&unit=east`,
      [
        { parameter: "colour", code: "unknown-parameter" },
        { parameter: "unit", code: "unknown-parameter" },
      ],
    ],
    [
      `${volumes}?${period}&by=minute&per=bed&precision=0.2`,
      [
        { parameter: "by", code: "not-one-of" },
        { parameter: "per", code: "not-one-of" },
        { parameter: "precision", code: "not-one-of" },
      ],
    ],
    [`${volumes}?${period}&by=hour&by=day`, [{ parameter: "by", code: "wrong-type" }]],
    [volumes, [{ parameter: "shift", code: "exactly-one-of" }]],
    [`${volumes}?shift=2026-03-04/day&${period}`, [{ parameter: "shift", code: "exactly-one-of" }]],
    [`${volumes}?${period}&to=2026-03-04T08:00:00Z`, [{ parameter: "day", code: "exactly-one-of" }]],
    [`${volumes}?from=2026-03-04T08:00:00Z`, [{ parameter: "to", code: "required" }]],
    [`${volumes}?to=2026-03-04T08:00:00Z`, [{ parameter: "from", code: "required" }]],
    [
      `${volumes}?from=2026-03-04T08:00:00Z&to=2026-03-04T08:00:00Z`,
      [{ parameter: "to", code: "inconsistent" }],
    ],
    [
      `${volumes}?from=2026-03-04T08:00:00&to=2026-03-04`,
      [
        { parameter: "from", code: "no-offset" },
        { parameter: "to", code: "not-an-instant" },
      ],
    ],
    [`${volumes}?shift=2026-03-04`, [{ parameter: "shift", code: "wrong-form" }]],
    [`${volumes}?shift=2026-03-04/late`, [{ parameter: "shift", code: "not-there" }]],
    [`${volumes}?${period}&asOf=-1`, [{ parameter: "asOf", code: "wrong-form" }]],
    [`${volumes}?${period}&asOf=99`, [{ parameter: "asOf", code: "beyond-the-head" }]],
    [`${volumes}?${period}&asOf=2026-03-04T14:00:01-06:00`, [{ parameter: "asOf", code: "in-the-future" }]],
    [`${volumes}?${period}&until=2026-03-04T14:00:01-06:00`, [{ parameter: "until", code: "in-the-future" }]],
    [`${volumes}?from=2026-03-04T00:00:00Z&to=2026-04-05T00:00:00Z`, [{ parameter: "to", code: "too-long" }]],
    ["/v1/units?limit=0", [{ parameter: "limit", code: "out-of-range" }]],
    ["/v1/units?limit=1001", [{ parameter: "limit", code: "out-of-range" }]],
    ["/v1/units?limit=1e2", [{ parameter: "limit", code: "wrong-type" }]],
    ["/v1/units?limit=1.5", [{ parameter: "limit", code: "too-many-decimals" }]],
    ["/v1/encounters?open=yes", [{ parameter: "open", code: "wrong-type" }]],
    [`${ENTRIES}?kind=flow-started&kind=bolus`, [{ parameter: "kind", code: "not-one-of" }]],
    [`${ENTRIES}?after=x`, [{ parameter: "after", code: "no-cursor" }]],
    ["/v1/me?verbose=1", [{ parameter: "verbose", code: "unknown-parameter" }]],
    ["/v1/units?__proto__=1", [{ parameter: "__proto__", code: "unknown-parameter" }]],
  ])("%s is refused, every fault at once", async (path, faults) => {
    const ward = await Ward.open();
    const answer = await ward.get(path);
    expect([answer.status, answer.body.type]).toEqual([400, "/problems/bad-parameter"]);
    const found = answer.body.errors.map(({ parameter, code }: ParameterFault) => ({ parameter, code }));
    expect(found).toEqual(faults);
  });

  it("says of a fault what is wrong, in a sentence", async () => {
    const ward = await Ward.open();
    const { errors } = (await ward.get(`${volumes}?${period}&by=minute`)).body;
    expect(errors[0].detail).toBe('"by" must be one of "hour", "shift", "day", "whole".');
    const none = (await ward.get(volumes)).body.errors;
    expect(none[0].detail).toBe(
      '"shift" must stand alone: a period is a shift, a day, or from and to, exactly one of the three.',
    );
  });

  it("may write the plus sign of an offset as it is", async () => {
    const ward = await Ward.open();
    const answer = await ward.get(`${volumes}?from=2026-03-04T14:00:00+01:00&to=2026-03-04T15:00:00%2B01:00`);
    expect([answer.status, answer.body.from]).toEqual([200, at("07:00")]);
  });

  it("takes a kind once, several times, or not at all", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const kinds = async (query: string) =>
      (await ward.get(ENTRIES + query)).body.entries.map(({ kind }: { kind: string }) => kind);
    expect(await kinds("?kind=bag-hung")).toEqual(["bag-hung"]);
    expect(await kinds("?kind=bag-hung&kind=admitted")).toEqual(["admitted", "bag-hung"]);
    expect(await kinds("")).toHaveLength(5);
  });
});

describe("an address", () => {
  it.each([
    "/v1/nothing",
    "/v1",
    "/v1/units/",
    "/v1/units/nowhere",
    "/v1/encounters/stay%2F1",
    `/v1/encounters/${"x".repeat(300)}`,
    "/v1/encounters/%zz",
    "/V1/me",
    `${ENTRIES}/nothing`,
    "/nothing",
  ])("%s leads nowhere", async (path) => {
    const ward = await Ward.open();
    const answer = await ward.get(path);
    expect([answer.status, answer.body.type, answer.headers["content-type"]]).toEqual([
      404,
      "/problems/not-found",
      "application/problem+json; charset=utf-8",
    ]);
  });

  it.each([
    ["DELETE", ENTRIES, "GET, HEAD, OPTIONS, POST"],
    ["PUT", "/v1/units/east?x=1", "GET, HEAD, OPTIONS, PATCH"],
    ["POST", "/v1/encounters/stay-1/volumes", "GET, HEAD, OPTIONS"],
  ])("is not for every method: %s %s", async (method, path, allow) => {
    const ward = await Ward.open();
    const answer = await ward.ask(method, path);
    expect([answer.status, answer.headers.allow, answer.body.type]).toEqual([
      405,
      allow,
      "/problems/method-not-allowed",
    ]);
    const options = await ward.ask("OPTIONS", path);
    expect([options.status, options.headers.allow, options.text]).toEqual([204, allow, ""]);
  });

  it("answers HEAD as GET, without the body", async () => {
    const ward = await Ward.open();
    const get = await ward.get("/v1/encounters/stay-1");
    const head = await ward.ask("HEAD", "/v1/encounters/stay-1");
    expect([head.status, head.headers.etag, head.text]).toEqual([200, get.headers.etag, undefined]);
    expect(head.headers["content-length"]).toBe(get.headers["content-length"]);
    expect((await ward.ask("HEAD", ENTRIES, { as: "device" })).status).toBe(403);
  });
});
