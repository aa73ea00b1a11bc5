/** One encounter exported over HTTP: streamed, named, as of a moment, and for whom it is. */

import { describe, expect, it } from "vitest";
import { verifyBundle } from "../../src/ledger/bundle.js";
import { Bundle } from "../../src/wire/bundle.js";
import { parse } from "../../src/wire/parse.js";
import { at, SALINE, Ward } from "./ward.js";

const EXPORT = "/v1/encounters/stay-1/export";

async function running(): Promise<Ward> {
  const ward = await Ward.open();
  expect((await ward.record(SALINE)).status).toBe(201);
  return ward;
}

describe("an export", () => {
  it("is a file with whom it is of and every entry, and is what its schema says", async () => {
    const ward = await running();
    const answer = await ward.get(EXPORT, { as: "charge-nurse" });
    expect(answer.status).toBe(200);
    expect(answer.headers["content-type"]).toBe("application/json; charset=utf-8");
    expect(answer.headers["content-disposition"]).toBe('attachment; filename="encounter-stay-1.json"');
    expect(parse(Bundle, answer.body).faults).toBeUndefined();
    expect(answer.body.encounter.patient).toEqual({ identifier: "P-20417", name: "Imaginary Person" });
    expect(verifyBundle(answer.text)).toEqual({ sound: true, encounters: 1, entries: 5, unheld: 0 });
    const { body } = await ward.get("/v1/encounters/stay-1/accesses", { as: "charge-nurse" });
    expect(body.accesses[0]).toMatchObject({ route: "GET /v1/encounters/{encounter}/export", status: 200 });
  });

  it("of an earlier moment ends there", async () => {
    const ward = await running();
    const { text, body } = await ward.get(`${EXPORT}?asOf=3`, { as: "integration" });
    expect(verifyBundle(text)).toEqual({ sound: true, encounters: 1, entries: 3, unheld: 0 });
    expect(body.asOf).toMatchObject({ sequence: 3, digest: body.entries[2].digest });
    const beyond = await ward.get(`${EXPORT}?asOf=9`, { as: "integration" });
    expect([beyond.status, beyond.body.errors[0].code]).toEqual([400, "beyond-the-head"]);
    expect((await ward.get("/v1/encounters/nobody/export", { as: "integration" })).status).toBe(404);
  });

  it("of a long stay comes in pieces, and without what was recorded meanwhile", async () => {
    const ward = await running();
    for (let i = 0; i < 4; i++) {
      const changes = Array.from({ length: 300 }, (_, j) => ({
        kind: "rate-changed",
        at: at(`08:${String(Math.floor(j / 5)).padStart(2, "0")}`),
        channel: "pump-1",
        rate: 50 + j / 10,
      }));
      expect((await ward.record(changes, { query: "?queued=true" })).status).toBe(201);
    }
    const asked = ward.get(EXPORT, { as: "charge-nurse" });
    const [answer, more] = await Promise.all([
      asked,
      ward.record([{ kind: "flow-paused", at: at("12:00"), channel: "pump-1" }]),
    ]);
    expect(more.status).toBe(201);
    const { entries } = answer.body;
    expect(verifyBundle(answer.text)).toEqual({
      sound: true,
      encounters: 1,
      entries: entries.length,
      unheld: 0,
    });
    expect(entries.length).toBeGreaterThanOrEqual(1_205);
  });
});
