/** What the rules say beside who may use which route: kinds of entries, and callers of some units. */

import { describe, expect, it } from "vitest";
import { ROLES } from "../../src/access/roles.js";
import { DEVICE_KINDS, mayRecord, mayUse } from "../../src/access/rules.js";
import { POSTED_KINDS } from "../../src/wire/entry.js";
import { at, SALINE, Ward } from "../rest/ward.js";

it("nobody may use a route without a rule, and no role that is not known may use any", () => {
  expect(ROLES.filter((role) => mayUse(role, "DELETE /v1/units/{unit}"))).toEqual([]);
  expect(ROLES.filter((role) => mayUse(role, "constructor"))).toEqual([]);
  expect(mayUse("superuser", "GET /v1/me")).toBe(false);
});

it("a device records what a device can know, everybody else who records records everything", () => {
  for (const kind of DEVICE_KINDS) expect(POSTED_KINDS).toContain(kind);
  const notForDevices = POSTED_KINDS.filter((kind) => !mayRecord("device", kind));
  expect(notForDevices).toEqual([
    "line-placed",
    "line-removed",
    "bag-adjusted",
    "delivery-lost",
    "variance-settled",
    "intake-measured",
    "output-measured",
    "irrigant-instilled",
    "chamber-placed",
    "chamber-read",
    "chamber-emptied",
    "away-started",
    "away-ended",
    "weight-measured",
    "entry-amended",
    "entry-voided",
  ]);
  expect(POSTED_KINDS.filter((kind) => !mayRecord("nurse", kind))).toEqual([]);
});

describe("a device is told where its entries stand, and nothing of the patient", () => {
  const dose = {
    id: "by-dose",
    kind: "flow-started",
    at: at("09:00"),
    channel: "pump-1",
    dose: { value: 2, unit: "mL/kg/h" },
  };
  const read = {
    id: "read-1",
    kind: "total-read",
    at: at("12:00"),
    channel: "pump-1",
    total: "primary",
    volume: 731,
  };

  async function begun(): Promise<Ward> {
    const ward = await Ward.open();
    await ward.record(SALINE);
    return ward;
  }

  it.each([
    ["when it records", "", 201],
    ["when it tries what recording would do", "?dryRun=true", 200],
  ])("%s", async (_, query, status) => {
    const ward = await begun();
    const { ledger } = (await ward.get("/v1/encounters/stay-1")).body;
    const answer = await ward.record([dose, read], { as: "device@east", query });
    expect(answer.status).toBe(status);
    const recorded = (sequence: number) => ({
      sequence,
      at: at("14:00"),
      digest: expect.stringMatching(/^[0-9a-f]{64}$/),
    });
    const sequence = query === "" ? ledger.sequence + 2 : ledger.sequence;
    expect(answer.body).toEqual({
      ledger: { sequence, digest: expect.any(String) },
      entries: [
        { id: "by-dose", recorded: recorded(6) },
        { id: "read-1", recorded: recorded(7) },
      ],
    });
    // To somebody who reads, the weight and what the reading raises would have been told.
    const told = await ward.record([{ ...dose, id: "again" }], { query: "?dryRun=true" });
    expect(told.text).toContain('"frozen"');
  });

  it("when it sends again what is there, whoever recorded it", async () => {
    const ward = await begun();
    const answer = await ward.record([SALINE[3]], { as: "device" });
    expect([answer.status, Object.keys(answer.body.entries[0])]).toEqual([200, ["id", "recorded"]]);
    expect(answer.text).not.toContain("nurse");
  });

  it("and its key gives it the same again", async () => {
    const ward = await begun();
    const asking = { as: "device", headers: { "idempotency-key": "one" } };
    const first = await ward.record([read], asking);
    expect((await ward.record([read], asking)).text).toBe(first.text);
  });
});

describe("a token that is for one unit", () => {
  it("sees the units, encounters and entries of that one, and the others as if they were not there", async () => {
    const ward = await Ward.open();
    const as = "nurse@west";
    expect((await ward.get("/v1/units", { as })).body.units.map(({ id }: { id: string }) => id)).toEqual([
      "west",
    ]);
    const stays = await ward.get("/v1/encounters", { as });
    expect(stays.body.encounters.map(({ id }: { id: string }) => id)).toEqual(["stay-2"]);
    expect((await ward.get("/v1/encounters/stay-2/entries", { as })).status).toBe(200);
    for (const path of [
      "/v1/units/east",
      "/v1/encounters/stay-1",
      "/v1/encounters/stay-1/entries",
      "/v1/encounters?unit=east",
    ]) {
      const answer = await ward.get(path, { as });
      const nowhere = await ward.get(path.replace("east", "nowhere").replace("stay-1", "nowhere"), { as });
      expect([answer.status, answer.body.type], path).toEqual([404, "/problems/not-found"]);
      // Nothing but the id that was asked for tells the two apart.
      expect(answer.text.replace(/east|stay-1/, "nowhere"), path).toBe(nowhere.text);
    }
  });

  it("records nothing of a patient elsewhere, and admits nobody there", async () => {
    const ward = await Ward.open();
    expect((await ward.record(SALINE, { as: "nurse@west" })).status).toBe(404);
    const body = { unit: "east", patient: { identifier: "P-2" }, admittedAt: "2026-03-04T08:00:00-06:00" };
    expect((await ward.ask("POST", "/v1/encounters", { as: "nurse@west", body })).status).toBe(404);
    expect((await ward.get("/v1/encounters?unit=east")).body.encounters).toHaveLength(1);
  });

  it("opens no other unit, and changes its own", async () => {
    const ward = await Ward.open();
    const as = "administrator@west";
    const north = {
      id: "north",
      name: "North",
      zone: "America/Chicago",
      shifts: [{ name: "all", starts: "07:00" }],
    };
    expect((await ward.ask("POST", "/v1/units", { as, body: north })).status).toBe(403);
    expect((await ward.ask("PATCH", "/v1/units/west", { as, body: { name: "West 1" } })).body.name).toBe(
      "West 1",
    );
    expect((await ward.ask("PATCH", "/v1/units/east", { as, body: { name: "East 1" } })).status).toBe(404);
  });

  it("loses a patient who moves away, and gains one who comes", async () => {
    const ward = await Ward.open();
    const body = { move: { unit: "west", bed: "3", at: "2026-03-04T13:00:00-06:00" } };
    expect((await ward.ask("PATCH", "/v1/encounters/stay-1", { body })).status).toBe(200);
    expect((await ward.get("/v1/encounters/stay-1", { as: "nurse@west" })).body.bed).toBe("3");
  });
});
