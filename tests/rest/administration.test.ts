/** Units and stays over HTTP: made once, changed from an instant on, and refused with every fault named. */

import { describe, expect, it } from "vitest";
import { at, EAST, STAY, Ward } from "./ward.js";

const NORTH = { ...EAST, id: "north", name: "North" };

describe("a unit", () => {
  it("is opened, and found at the address that was told", async () => {
    const ward = await Ward.open();
    const opened = await ward.ask("POST", "/v1/units", { as: "administrator", body: NORTH });
    expect([opened.status, opened.headers.location]).toEqual([201, "/v1/units/north"]);
    const found = await ward.get(opened.headers.location ?? "");
    expect(found.body).toEqual(opened.body);
    expect(found.body).toMatchObject({ id: "north", zone: "America/Chicago", settings: { precision: 0.1 } });
  });

  it("has an id of its own where none was sent", async () => {
    const ward = await Ward.open();
    const { id: _, ...body } = NORTH;
    const opened = await ward.ask("POST", "/v1/units", { as: "administrator", body });
    expect(opened.headers.location).toBe(`/v1/units/${opened.body.id}`);
    expect((await ward.get(opened.headers.location ?? "")).status).toBe(200);
  });

  it("is opened once: a retry gets the same answer, another request is told the id is taken", async () => {
    const ward = await Ward.open();
    const asking = { as: "administrator", body: NORTH, headers: { "idempotency-key": "open-north" } };
    const first = await ward.ask("POST", "/v1/units", asking);
    const again = await ward.ask("POST", "/v1/units", asking);
    expect([again.status, again.text, again.headers.location]).toEqual([201, first.text, "/v1/units/north"]);
    const other = await ward.ask("POST", "/v1/units", { as: "administrator", body: NORTH });
    expect(other.body).toEqual({
      type: "/problems/id-exists",
      title: "The id is taken",
      status: 409,
      detail: 'There is a unit "north" already.',
      id: "north",
    });
  });

  it("is refused with every fault at its place", async () => {
    const ward = await Ward.open();
    const body = { name: "", zone: "Chicago", shifts: [{ name: "day", starts: "7:00" }], color: "red" };
    const answer = await ward.ask("POST", "/v1/units", { as: "administrator", body });
    expect([answer.status, answer.body.type]).toEqual([422, "/problems/invalid-body"]);
    const pointers = answer.body.errors.map(({ pointer }: { pointer: string }) => pointer);
    expect(pointers.sort()).toEqual(["#/color", "#/name", "#/shifts/0/starts", "#/zone"]);
  });

  it("changes its settings, and figures from then on with them", async () => {
    const ward = await Ward.open();
    const patch = (body: object) => ward.ask("PATCH", "/v1/units/east", { as: "administrator", body });
    const changed = await patch({ effectiveFrom: at("07:00"), settings: { precision: 5 } });
    expect([changed.status, changed.body.settings.precision]).toEqual([200, 5]);
    const inTheMiddle = await patch({ effectiveFrom: at("08:00"), settings: { boundary: "starts" } });
    expect(inTheMiddle.body).toMatchObject({
      type: "/problems/invalid-body",
      errors: [{ pointer: "#/settings/boundary", code: "not-a-shift-start" }],
    });
  });
});

describe("a stay", () => {
  it("begins with the admission, and is found with its shifts", async () => {
    const ward = await Ward.open();
    const body = { ...STAY, id: "stay-3" };
    const admitted = await ward.ask("POST", "/v1/encounters", { body });
    expect([admitted.status, admitted.headers.location, admitted.headers.etag]).toEqual([
      201,
      "/v1/encounters/stay-3",
      '"1"',
    ]);
    const found = await ward.get("/v1/encounters/stay-3");
    expect(found.headers.etag).toBe('"1"');
    expect(found.body).toMatchObject({ ...body, ledger: { sequence: 1 } });
    // From 06:00, in the night before, to now.
    expect(
      found.body.shifts.map(({ date, name }: { date: string; name: string }) => `${date}/${name}`),
    ).toEqual(["2026-03-04/day", "2026-03-03/night"]);
  });

  it.each([
    [{ ...STAY, id: "stay-3", unit: "nowhere" }, "#/unit", "unknown-unit"],
    [{ ...STAY, id: "stay-3", admittedAt: at("15:00") }, "#/admittedAt", "too-far-ahead"],
    [{ ...STAY, id: "stay 3" }, "#/id", "wrong-form"],
  ])("does not begin with a fault", async (body, pointer, code) => {
    const ward = await Ward.open();
    const answer = await ward.ask("POST", "/v1/encounters", { body });
    expect([answer.status, answer.body.type]).toEqual([422, "/problems/invalid-body"]);
    expect(answer.body.errors).toMatchObject([{ pointer, code }]);
  });

  it("moves, changes its bed and ends, each leaving a new state where the chain grows", async () => {
    const ward = await Ward.open();
    const patch = (body: object) => ward.ask("PATCH", "/v1/encounters/stay-1", { body });
    const moved = await patch({ move: { unit: "west", bed: "3", at: at("12:00") } });
    expect([moved.body.unit, moved.body.bed, moved.headers.etag]).toEqual(["west", "3", '"2"']);
    const inBed = await patch({ bed: "4" });
    expect([inBed.body.bed, inBed.headers.etag]).toEqual(["4", '"2"']);
    const gone = await patch({ discharge: { at: at("13:00") } });
    expect([gone.body.dischargedAt, gone.headers.etag]).toEqual([at("13:00"), '"3"']);
    const both = await patch({ bed: "5", discharge: { at: at("13:30") } });
    expect(both.body.errors).toMatchObject([{ pointer: "#", code: "exactly-one-of" }]);
    const back = await patch({ dischargedAt: null, reason: "The transfer was called off." });
    expect([back.status, back.body.dischargedAt, back.headers.etag]).toEqual([200, undefined, '"4"']);
    expect((await patch({ dischargedAt: null })).body.errors).toMatchObject([{ pointer: "#/dischargedAt" }]);
    expect((await patch({ dischargedAt: at("13:00") })).status).toBe(422);
  });

  it("is changed only by who has seen it as it is, where they say what they have seen", async () => {
    const ward = await Ward.open();
    const patch = (tag: string, body: object) =>
      ward.ask("PATCH", "/v1/encounters/stay-1", { body, headers: { "if-match": tag } });
    const move = { move: { unit: "west", at: at("12:00") } };
    expect((await patch('"1"', move)).status).toBe(200);
    const stale = await patch('"1"', { discharge: { at: at("13:00") } });
    expect([stale.status, stale.body.type, stale.body.sequence]).toEqual([
      412,
      "/problems/precondition-failed",
      2,
    ]);
    expect((await patch('W/"2"', { bed: "4" })).status).toBe(412);
    expect((await patch("2", { bed: "4" })).status).toBe(400);
    expect((await patch('"1", "2"', { discharge: { at: at("13:00") } })).headers.etag).toBe('"3"');
  });
});
