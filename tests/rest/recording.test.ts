/** Recording entries over HTTP: what is answered, retried, refused, and in which order it is judged. */

import { describe, expect, it } from "vitest";
import { at, ENTRIES, SALINE, Ward } from "./ward.js";

const rate = (id: string, clock: string, value: number) => ({
  id,
  kind: "rate-changed",
  at: at(clock),
  channel: "pump-1",
  rate: value,
});

describe("entries are recorded", () => {
  it("all together, with the state they leave as the ETag", async () => {
    const ward = await Ward.open();
    const answer = await ward.record(SALINE);
    expect(answer.status).toBe(201);
    // The admission is the first entry of the chain.
    expect(answer.headers.etag).toBe('"5"');
    expect(answer.headers["cache-control"]).toBe("no-store");
    expect(answer.body.ledger.sequence).toBe(5);
    expect(answer.body.entries.map(({ id }: { id: string }) => id)).toEqual([
      "line-1",
      "pump",
      "bag",
      "start",
    ]);
    expect(answer.body.entries[3]).toMatchObject({
      ...SALINE[3],
      recorded: {
        sequence: 5,
        by: { id: "nurse", name: "The nurse", role: "nurse" },
        source: "person",
        state: "current",
      },
    });
  });

  it("once, however often they are sent, as long as they say the same", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const again = await ward.record([...SALINE].reverse());
    expect([again.status, again.headers.etag]).toEqual([200, '"5"']);
    const more = await ward.record([...SALINE, rate("faster", "09:30", 80)]);
    expect([more.status, more.headers.etag]).toEqual([201, '"6"']);
  });

  it("by a device as a device's", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const answer = await ward.record([rate("faster", "09:30", 80)], { as: "device" });
    expect(answer.status).toBe(201);
    const { entries } = (await ward.get(ENTRIES)).body;
    expect(entries.at(-1)).toMatchObject({ id: "faster", recorded: { source: "device" } });
  });

  it("not in a dry run, which says what would change", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const dry = await ward.record([rate("faster", "13:00", 80)], { query: "?dryRun=true" });
    expect([dry.status, dry.headers.etag]).toEqual([200, '"5"']);
    // 13:00 to 14:00 at 80 instead of 75 mL/h.
    expect(dry.body.effects).toEqual([
      {
        row: { line: "forearm", label: "Left forearm" },
        start: at("13:00"),
        end: at("14:00"),
        before: 75,
        after: 80,
      },
      {
        row: { line: null, label: "Net", balance: "net" },
        start: at("13:00"),
        end: at("14:00"),
        before: 75,
        after: 80,
      },
    ]);
    expect((await ward.get(`${ENTRIES}/faster`)).status).toBe(404);
  });
});

describe("a retry with the same Idempotency-Key", () => {
  const drink = { kind: "intake-measured", at: at("09:00"), category: "oral", volume: 200 };

  it("gets the same answer to the letter, and charts nothing twice", async () => {
    const ward = await Ward.open();
    const first = await ward.record([drink], { headers: { "idempotency-key": '"a-1"' } });
    // The same key without its quotes is the same key.
    const second = await ward.record([drink], { headers: { "idempotency-key": "a-1" } });
    expect([first.status, second.status]).toEqual([201, 201]);
    expect(second.text).toBe(first.text);
    expect(second.headers.etag).toBe(first.headers.etag);
    const listed = await ward.get(`${ENTRIES}?kind=intake-measured`);
    expect(listed.body.entries).toHaveLength(1);
  });

  it("is refused when it says something else", async () => {
    const ward = await Ward.open();
    await ward.record([drink], { headers: { "idempotency-key": "a-1" } });
    const other = await ward.record([{ ...drink, volume: 250 }], { headers: { "idempotency-key": "a-1" } });
    expect([other.status, other.body.type]).toEqual([422, "/problems/idempotency-key-reused"]);
  });

  it("is no retry from another caller, or to another encounter", async () => {
    const ward = await Ward.open();
    const headers = { "idempotency-key": "a-1" };
    await ward.record([drink], { headers });
    expect((await ward.record([drink], { headers, as: "charge-nurse" })).body.ledger.sequence).toBe(3);
    const other = await ward.ask("POST", "/v1/encounters/stay-2/entries", {
      body: { entries: [drink] },
      headers,
    });
    expect(other.body.ledger.sequence).toBe(2);
  });

  it.each(["", '"open', 'a"b', "ä", `"${"x".repeat(256)}"`])(
    "must be a string of its form, not %j",
    async (key) => {
      const ward = await Ward.open();
      // Headers are bytes: what the client sends for "ä" is one byte that is not ASCII.
      const answer = await ward.record([drink], { headers: { "idempotency-key": key } });
      expect([answer.status, answer.body.errors?.[0]?.parameter]).toEqual([400, "Idempotency-Key"]);
    },
  );
});

describe("If-Match", () => {
  it.each(['"5"', "*", '"4", "5"', 'W/"4" , "5"', '"6","5"'])(
    "%s lets through what the encounter is at",
    async (tag) => {
      const ward = await Ward.open();
      await ward.record(SALINE);
      const answer = await ward.record([rate("faster", "09:30", 80)], { headers: { "if-match": tag } });
      expect(answer.status).toBe(201);
    },
  );

  it("of an older state is told what was recorded since", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const answer = await ward.record([rate("faster", "09:30", 80)], { headers: { "if-match": '"3"' } });
    expect([answer.status, answer.headers.etag]).toEqual([412, '"5"']);
    expect(answer.body).toEqual({
      type: "/problems/precondition-failed",
      title: "Something was recorded since",
      status: 412,
      detail: "The encounter has 5 entries now.",
      sequence: 5,
      entries: "/v1/encounters/stay-1/entries?order=recorded&after=3",
    });
    const since = await ward.get(answer.body.entries);
    expect(since.body.entries.map(({ id }: { id: string }) => id)).toEqual(["bag", "start"]);
  });

  it.each(['W/"5"', '"five"', '"05"', '"6"', '""', '"3", "4"'])("%s does not match", async (tag) => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const answer = await ward.record([rate("faster", "09:30", 80)], { headers: { "if-match": tag } });
    expect(answer.status).toBe(412);
  });

  it.each(["5", '"5', 'w/"5"', '"5" "6"', ","])("%s is no list of tags", async (tag) => {
    const ward = await Ward.open();
    const answer = await ward.record([rate("faster", "09:30", 80)], { headers: { "if-match": tag } });
    expect([answer.status, answer.body.type]).toEqual([400, "/problems/bad-parameter"]);
    expect(answer.body.errors).toMatchObject([{ parameter: "If-Match", code: "wrong-form" }]);
  });
});

describe("entries are refused", () => {
  it("with every fault at its place", async () => {
    const ward = await Ward.open();
    const answer = await ward.record([
      { ...SALINE[3], rate: 75.1234 },
      { ...SALINE[0], at: "2026-03-04T07:00:00", colour: "red" },
    ]);
    expect([answer.status, answer.headers["content-type"]]).toEqual([
      422,
      "application/problem+json; charset=utf-8",
    ]);
    expect(answer.body).toMatchObject({ type: "/problems/invalid-entries", status: 422 });
    const codes = answer.body.errors.map(({ pointer, code }: { pointer: string; code: string }) => [
      pointer,
      code,
    ]);
    expect(codes).toEqual([
      ["#/entries/0/rate", "too-many-decimals"],
      ["#/entries/1/at", "no-offset"],
      ["#/entries/1/colour", "unknown-field"],
    ]);
  });

  it("when their ids are taken by others, each named with its place", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const answer = await ward.record([rate("new", "09:30", 80), { ...SALINE[3], rate: 70 }]);
    expect([answer.status, answer.body.type]).toEqual([409, "/problems/entry-exists"]);
    expect(answer.body.entries).toEqual([{ pointer: "#/entries/1/id", id: "start" }]);
    expect((await ward.get(`${ENTRIES}/new`)).status).toBe(404);
  });

  it("of a device, when they are not of a kind it can know", async () => {
    const ward = await Ward.open();
    const drink = { kind: "intake-measured", at: at("09:00"), category: "oral", volume: 200 };
    const answer = await ward.record([drink], { as: "device" });
    expect([answer.status, answer.body.detail]).toEqual([
      403,
      "A device does not record intake-measured entries.",
    ]);
  });
});

describe("a request with several things wrong is told the first of: token, place, role, form, retry, precondition, sense, ids", () => {
  const nonsense = {
    as: "integration",
    body: "no JSON",
    headers: { "content-type": "text/plain", "if-match": "5" },
  };

  it("token before place, place before role, role before form", async () => {
    const ward = await Ward.open();
    const gone = "/v1/encounters/nowhere/entries";
    expect((await ward.ask("POST", gone, { ...nonsense, as: null })).status).toBe(401);
    expect((await ward.ask("POST", gone, nonsense)).status).toBe(404);
    expect((await ward.ask("POST", ENTRIES, nonsense)).status).toBe(403);
    expect((await ward.ask("POST", ENTRIES, { ...nonsense, as: "nurse" })).status).toBe(415);
  });

  it("retry before precondition, precondition before sense, sense before ids", async () => {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const stale = { "if-match": '"1"' };
    expect((await ward.record(SALINE, { headers: stale })).status).toBe(200);
    const senseless = { kind: "entry-voided", entry: "nothing", reason: "Wrong patient." };
    const taken = { ...SALINE[3], rate: 70 };
    expect((await ward.record([senseless, taken], { headers: stale })).status).toBe(412);
    expect((await ward.record([senseless, taken])).status).toBe(422);
    expect((await ward.record([taken])).status).toBe(409);
  });
});
