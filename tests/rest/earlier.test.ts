/** A stay and an entry as of an earlier moment, and where the chain ends on answers about other things. */

import { describe, expect, test } from "vitest";
import { at, ENTRIES, SALINE, STAY, Ward } from "./ward.js";

const STAY_1 = `/v1/encounters/${STAY.id}`;

/** Admitted to East, in West since 12:00, discharged at 13:30; it is 14:00. The fifth entry is the start of the flow. */
async function left(): Promise<Ward> {
  const ward = await Ward.open();
  await ward.record(SALINE);
  await ward.done("PATCH", STAY_1, { body: { bed: "13" } });
  await ward.done("PATCH", STAY_1, { body: { move: { unit: "west", bed: "3", at: at("12:00") } } });
  await ward.done("PATCH", STAY_1, { body: { discharge: { at: at("13:30") } } });
  return ward;
}

describe("a stay as of an earlier moment", () => {
  test("is in the unit and bed its entries say, and has not ended before that was recorded", async () => {
    const ward = await left();
    const now = (await ward.get(STAY_1)).body;
    expect(now).toMatchObject({ unit: "west", bed: "3", dischargedAt: at("13:30"), ledger: { sequence: 7 } });
    const then = await ward.get(`${STAY_1}?asOf=5`);
    expect([then.headers.etag, then.body]).toMatchObject([
      '"5"',
      { unit: "east", bed: "12", patient: STAY.patient, ledger: { sequence: 5 } },
    ]);
    expect(then.body).not.toHaveProperty("dischargedAt");
    const moved = (await ward.get(`${STAY_1}?asOf=6`)).body;
    expect([moved.unit, moved.bed, moved.dischargedAt]).toEqual(["west", "3", undefined]);
    expect((await ward.get(`${STAY_1}?asOf=8`)).status).toBe(400);
  });

  test("is told so in an export, too", async () => {
    const ward = await left();
    const bundle = async (query: string) =>
      (await ward.get(`${STAY_1}/export${query}`, { as: "charge-nurse" })).body;
    const { encounter, entries } = await bundle("?asOf=5");
    expect([encounter.unit, encounter.dischargedAt, entries.length]).toEqual(["east", undefined, 5]);
    expect((await bundle("")).encounter).toMatchObject({ unit: "west", dischargedAt: at("13:30") });
  });
});

describe("an entry with its corrections", () => {
  const voiding = (id: string, entry: string) => ({ id, kind: "entry-voided", entry, reason: "By mistake." });

  async function corrected(): Promise<Ward> {
    const ward = await Ward.open();
    await ward.record(SALINE);
    const ids = ["start", "void-1", "void-2", "void-3"];
    for (let i = 1; i < ids.length; i++) await ward.record([voiding(ids[i]!, ids[i - 1]!)]);
    return ward;
  }

  test("is as it was before a correction, and says what was known", async () => {
    const ward = await corrected();
    const { body } = await ward.get(`${ENTRIES}/start`);
    expect([body.recorded.state, body.asOf.sequence, body.amendments.length]).toEqual(["voided", 8, 3]);
    expect(body.asOf.digest).toBe((await ward.get(STAY_1)).body.ledger.digest);
    const then = (await ward.get(`${ENTRIES}/start?asOf=5`)).body;
    expect([then.recorded.state, then.asOf.sequence, then.amendments]).toEqual(["current", 5, []]);
    const between = (await ward.get(`${ENTRIES}/start?asOf=7`)).body;
    expect([between.recorded.state, between.amendments.length]).toEqual(["current", 2]);
    expect((await ward.get(`${ENTRIES}/void-1?asOf=5`)).status).toBe(404);
  });

  test("comes a page of corrections at a time", async () => {
    const ward = await corrected();
    const first = await ward.get(`${ENTRIES}/start?limit=2`);
    const ids = ({ amendments }: { amendments: { id: string }[] }) => amendments.map(({ id }) => id);
    expect(ids(first.body)).toEqual(["void-1", "void-2"]);
    expect(first.headers.link).toContain('rel="next"');
    const last = await ward.get(first.body.next);
    expect([ids(last.body), last.body.next]).toEqual([["void-3"], undefined]);
    expect((await ward.get(`${ENTRIES}/start?after=x`)).status).toBe(400);
    expect((await ward.get(`${ENTRIES}/start?limit=1001`)).status).toBe(400);
  });
});

test("the log of accesses says where the chain ends", async () => {
  const ward = await Ward.open();
  await ward.record(SALINE);
  const { ledger } = (await ward.get(STAY_1)).body;
  expect((await ward.get(`${STAY_1}/accesses`, { as: "charge-nurse" })).body.ledger).toEqual(ledger);
});
