/** Patients who moved, and emergencies: who charts which time of a stay, and who reaches one that is not theirs. */

import { Writable } from "node:stream";
import { pino } from "pino";
import { describe, expect, it } from "vitest";
import { at, ENTRIES, SALINE, STAY, Ward } from "../rest/ward.js";

const STAY_1 = `/v1/encounters/${STAY.id}`;

const drink = (clock: string, id?: string) => ({
  ...(id === undefined ? {} : { id }),
  kind: "intake-measured",
  at: clock.includes("T") ? clock : at(clock),
  category: "oral",
  volume: 200,
});

/** A patient who was in East from 06:00 and is in West from 13:00; it is 14:00. */
async function moved(): Promise<Ward> {
  const ward = await Ward.open();
  await ward.record([...SALINE, drink("09:00", "in-east")]);
  await ward.done("PATCH", STAY_1, { body: { move: { unit: "west", at: at("13:00") } } });
  await ward.record([drink("13:30", "in-west")]);
  return ward;
}

describe("after a patient has moved, staff of the unit they left", () => {
  it("finish charting their own time for 24 hours, and read for as long", async () => {
    const ward = await moved();
    ward.itIs("2026-03-05T12:59:59-06:00");
    expect((await ward.record([drink("12:59")], { as: "nurse@east" })).status).toBe(201);
    expect((await ward.get(ENTRIES, { as: "nurse@east" })).status).toBe(200);
    ward.itIs("2026-03-05T13:00:00-06:00");
    expect((await ward.record([drink("12:00")], { as: "nurse@east" })).status).toBe(404);
    expect((await ward.get(ENTRIES, { as: "nurse@east" })).status).toBe(404);
  });

  it.each([
    ["an entry", [drink("13:00")]],
    ["one among others", [drink("12:00"), drink("13:10")]],
    [
      "a correction of what is theirs to a time that is not",
      [{ kind: "entry-amended", entry: "in-east", reason: "Later.", replacement: drink("13:10") }],
    ],
    [
      "a correction of what is not theirs to a time that is",
      [{ kind: "entry-amended", entry: "in-west", reason: "Earlier.", replacement: drink("12:00") }],
    ],
    ["a void of what is not theirs", [{ kind: "entry-voided", entry: "in-west", reason: "Not given." }]],
  ])("do not chart the new unit's: %s", async (_, entries) => {
    const ward = await moved();
    const answer = await ward.record(entries, { as: "nurse@east" });
    expect(answer.body).toMatchObject({
      type: "/problems/not-your-time",
      title: "Not your unit's time",
      status: 403,
    });
    expect(answer.body.detail).toMatch(
      /^The patient was in west at 2026-03-04T13:\d\d:00-06:00, which charts that time/,
    );
    expect((await ward.get(ENTRIES)).body.asOf.sequence).toBe(8);
  });

  it("sign for their own time and not for the new unit's, in whatever order, and are offered no other", async () => {
    const ward = await moved();
    const shift = `${STAY_1}/shifts/2026-03-04/day`;
    const offered = async (as: string) => (await ward.get(shift, { as })).body.toSign;
    const sign = async (as: string, { digest, to }: { digest: string; to: string }) =>
      ward.ask("POST", `${shift}/signature`, { as, body: { digest, to, remark: "Looked at." } });
    expect(await offered("nurse@east")).toMatchObject({ from: at("07:00"), to: at("13:00") });
    expect(await offered("nurse@west")).toMatchObject({ from: at("13:00"), to: at("14:00") });
    for (const as of ["integration", "integration@west"]) expect(await offered(as)).toBeNull();
    const others = await sign("nurse@west", await offered("nurse@east"));
    expect([others.status, others.body.detail]).toEqual([
      403,
      "The patient was in east at 2026-03-04T07:00:00-06:00, which charts that time.",
    ]);
    const tooFar = await sign("nurse@east", await offered("nurse@west"));
    expect([tooFar.status, tooFar.body.detail]).toEqual([
      403,
      "The patient was in west at 2026-03-04T13:00:00-06:00, which charts that time.",
    ]);
    expect((await sign("nurse@west", await offered("nurse@west"))).status).toBe(201);
    expect((await sign("nurse@east", await offered("nurse@east"))).status).toBe(201);
    expect(await offered("nurse@east")).toBeNull();
    const absent = await ward.ask("POST", `${shift}/signature`, {
      as: "nurse@east",
      body: { digest: "0".repeat(64) },
    });
    expect([absent.status, absent.body.errors[0].detail]).toEqual([
      422,
      "Everything up to the end is signed, and unchanged.",
    ]);
  });

  it("correct and void what is theirs", async () => {
    const ward = await moved();
    const as = "nurse@east";
    const amended = { kind: "entry-amended", entry: "in-east", reason: "Late.", replacement: drink("09:30") };
    expect((await ward.record([amended], { as })).status).toBe(201);
    const voided = { kind: "entry-voided", entry: "in-east", reason: "Not given." };
    expect((await ward.record([voided], { as })).status).toBe(201);
  });

  it("neither move nor discharge the patient", async () => {
    const ward = await moved();
    const body = { discharge: { at: at("13:50") } };
    const answer = await ward.ask("PATCH", STAY_1, { as: "nurse@east", body });
    expect([answer.status, answer.body.detail]).toEqual([
      403,
      expect.stringContaining("has left your units"),
    ]);
  });
});

describe("staff of the unit a patient has come to", () => {
  it("read the whole stay, and chart from when the patient came", async () => {
    const ward = await moved();
    const as = "nurse@west";
    expect((await ward.get(ENTRIES, { as })).body.entries).toHaveLength(8);
    expect((await ward.record([drink("13:00")], { as })).status).toBe(201);
    const before = await ward.record([drink("12:59")], { as });
    expect([before.status, before.body.detail]).toEqual([
      403,
      "The patient was in east at 2026-03-04T12:59:00-06:00, which charts that time.",
    ]);
  });

  it("and of the one before it chart the whole, if they work on both", async () => {
    const ward = await moved();
    const token = await ward.tokenFor("nurse", ["east", "west"]);
    ward.itIs("2026-03-06T14:00:00-06:00");
    expect((await ward.record([drink("12:00"), drink("13:30")], { as: token })).status).toBe(201);
    const list = await ward.get("/v1/encounters?limit=1", { as: token });
    expect(list.body.encounters.map(({ id }: { id: string }) => id)).toEqual(["stay-1"]);
    const next = await ward.get(list.body.next, { as: token });
    expect(next.body.encounters.map(({ id }: { id: string }) => id)).toEqual(["stay-2"]);
    expect((await ward.get("/v1/units", { as: token })).body.units).toHaveLength(2);
  });
});

describe("the list of encounters", () => {
  const listed = async (ward: Ward, as: string, query = "") =>
    (await ward.done("GET", `/v1/encounters${query}`, { as })).body.encounters.map(
      ({ id, unit, leftAt }: { id: string; unit: string; leftAt?: string }) => [id, unit, leftAt],
    );

  it("of a unit has who left it less than 24 hours ago, and says when", async () => {
    const ward = await moved();
    const left = ["stay-1", "west", at("13:00")];
    expect(await listed(ward, "nurse@east")).toEqual([left]);
    expect(await listed(ward, "nurse@east", "?unit=east&open=true")).toEqual([left]);
    expect(await listed(ward, "nurse@east", "?open=false")).toEqual([]);
    expect(await listed(ward, "nurse", "?unit=east")).toEqual([left]);
    ward.itIs("2026-03-05T12:59:59-06:00");
    expect(await listed(ward, "nurse@east")).toEqual([left]);
    ward.itIs("2026-03-05T13:00:00-06:00");
    expect(await listed(ward, "nurse@east")).toEqual([]);
  });

  it("has who is in one of the units without that, once, page after page", async () => {
    const ward = await moved();
    expect(await listed(ward, "nurse@west")).toEqual([
      ["stay-1", "west", undefined],
      ["stay-2", "west", undefined],
    ]);
    const both = await ward.tokenFor("nurse", ["east", "west"]);
    expect(await listed(ward, both, "?limit=1")).toEqual([["stay-1", "west", undefined]]);
    expect(await listed(ward, both)).toHaveLength(2);
    expect(await listed(ward, "nurse")).toHaveLength(2);
  });

  it("follows what is said of moves later", async () => {
    const ward = await moved();
    await ward.done("PATCH", STAY_1, { body: { move: { unit: "west", at: at("12:30") } } });
    expect(await listed(ward, "nurse@east")).toEqual([["stay-1", "west", at("12:30")]]);
    await ward.done("PATCH", STAY_1, { body: { move: { unit: "east", at: at("13:45") } } });
    expect(await listed(ward, "nurse@east")).toEqual([["stay-1", "east", undefined]]);
    expect(await listed(ward, "nurse@west")).toEqual([
      ["stay-1", "east", at("13:45")],
      ["stay-2", "west", undefined],
    ]);
  });
});

describe("a patient who comes back", () => {
  it("is charted by their unit for both times there, and not for the time between", async () => {
    const ward = await moved();
    await ward.done("PATCH", STAY_1, { body: { move: { unit: "east", at: at("13:45") } } });
    const as = "nurse@east";
    ward.itIs("2026-03-07T14:00:00-06:00");
    expect((await ward.record([drink("12:00"), drink("13:50")], { as })).status).toBe(201);
    expect((await ward.record([drink("13:40")], { as })).status).toBe(403);
  });
});

describe("in an emergency", () => {
  const reason = "Called to a cardiac arrest of P-20417.";
  const declare = (ward: Ward, as: string, encounter = STAY.id, body: object = { reason }) =>
    ward.ask("POST", `/v1/encounters/${encounter}/emergency-access`, { as, body });

  it("an encounter of another unit is reached for four hours, by who said why and nobody else", async () => {
    const ward = await Ward.open();
    const as = "nurse@west";
    const granted = await declare(ward, as);
    expect([granted.status, granted.body]).toEqual([
      201,
      {
        id: expect.any(String),
        reason,
        grantedAt: "2026-03-04T20:00:00.000Z",
        endsAt: "2026-03-05T00:00:00.000Z",
      },
    ]);
    expect((await ward.record(SALINE, { as })).status).toBe(201);
    expect((await ward.get(ENTRIES, { as: "charge-nurse@west" })).status).toBe(404);
    ward.itIs("17:59");
    expect((await ward.get(ENTRIES, { as })).status).toBe(200);
    ward.itIs("18:00");
    expect((await ward.get(ENTRIES, { as })).status).toBe(404);
  });

  it("time that another unit charts can be put right, too", async () => {
    const ward = await moved();
    expect((await ward.record([drink("12:00")], { as: "nurse@west" })).status).toBe(403);
    await declare(ward, "nurse@west");
    expect((await ward.record([drink("12:00")], { as: "nurse@west" })).status).toBe(201);
  });

  it("a reason is needed, and a patient who is there, and a role at the bedside", async () => {
    const ward = await Ward.open();
    // What says nothing is no reason, as it is no remark of a signature.
    for (const reason of [" ", ".", "\u200b", "x\u200by", "12:30"]) {
      const { status, body } = await declare(ward, "nurse@west", STAY.id, { reason });
      expect([status, body.errors[0].pointer], reason).toEqual([422, "#/reason"]);
    }
    expect((await declare(ward, "nurse@west", "nowhere")).status).toBe(404);
    for (const role of ["integration", "device", "administrator"]) {
      expect((await declare(ward, role)).status, role).toBe(403);
      expect((await declare(ward, `${role}@west`)).status, role).toBe(404);
    }
  });

  it("it is loud in the log, without the reason or the patient, and beside every access", async () => {
    const lines: Record<string, unknown>[] = [];
    const stream = new Writable({
      write(chunk: Buffer, _, next) {
        lines.push(JSON.parse(chunk.toString()));
        next();
      },
    });
    const ward = await Ward.open({ logger: pino({ level: "trace", base: null }, stream) });
    const { id } = (await declare(ward, "nurse@west")).body;
    await ward.get(ENTRIES, { as: "nurse@west" });
    await ward.get("/v1/me", { as: "nurse@west" });
    const loud = lines.filter(({ level }) => level === 40);
    expect(loud).toMatchObject([
      { msg: "emergency access", emergency: id, caller: "nurse@west", role: "nurse" },
      { msg: "answered", emergency: id, status: 201 },
      { msg: "answered", emergency: id, route: "/v1/encounters/:encounter/entries" },
    ]);
    expect(JSON.stringify(lines)).not.toMatch(/20417|cardiac|stay-1/);
    const { accesses } = (await ward.get(`${STAY_1}/accesses`, { as: "charge-nurse" })).body;
    const by = { id: "nurse@west", name: "The nurse@west", role: "nurse" };
    expect(accesses.slice(0, 2)).toEqual([
      {
        at: "2026-03-04T20:00:00.000Z",
        by,
        route: "GET /v1/encounters/{encounter}/entries",
        status: 200,
        emergency: { id, reason },
      },
      {
        at: "2026-03-04T20:00:00.000Z",
        by,
        route: "POST /v1/encounters/{encounter}/emergency-access",
        status: 201,
        emergency: { id, reason },
      },
    ]);
  });
});
