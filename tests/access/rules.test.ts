/** Who may do what, seen from outside: every role is sent to every route, and every route has a rule. */

import { describe, expect, it } from "vitest";
import { ROLES, type Role } from "../../src/access/roles.js";
import { DEVICE_KINDS, mayRecord, mayUse, rolesFor } from "../../src/access/rules.js";
import { nameOf } from "../../src/rest/route.js";
import { ROUTES } from "../../src/rest/routes.js";
import { POSTED_KINDS } from "../../src/wire/entry.js";
import { at, SALINE, Ward } from "../rest/ward.js";

/** Who may do what, as a ward would say it; written from the words of the roles and not from the table. */
const MAY: Readonly<Record<string, string>> = {
  "GET /v1/me": "nurse, charge-nurse, integration, device, administrator",
  "GET /v1/units": "nurse, charge-nurse, integration, administrator",
  "POST /v1/units": "administrator",
  "GET /v1/units/{unit}": "nurse, charge-nurse, integration, administrator",
  "PATCH /v1/units/{unit}": "administrator",
  "GET /v1/encounters": "nurse, charge-nurse, integration, administrator",
  "POST /v1/encounters": "nurse, charge-nurse, administrator",
  "GET /v1/encounters/{encounter}": "nurse, charge-nurse, integration, administrator",
  "PATCH /v1/encounters/{encounter}": "nurse, charge-nurse, administrator",
  "GET /v1/encounters/{encounter}/entries": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/entries": "nurse, charge-nurse, device",
  "GET /v1/encounters/{encounter}/entries/{entry}": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/volumes": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/balance": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/drug-amounts": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/flows": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/totals": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/volumes/explanation": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/reconciliation": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/reconciliation": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/charts": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/charts": "charge-nurse, integration",
  "GET /v1/encounters/{encounter}/charts/{chart}": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/findings": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/findings/{finding}/acknowledgement": "nurse, charge-nurse",
};

describe("every route", () => {
  it("has a rule, and every rule a route", () => {
    expect(ROUTES.map(nameOf).sort()).toEqual(Object.keys(MAY).sort());
    for (const route of ROUTES) expect(rolesFor(nameOf(route)), nameOf(route)).not.toEqual([]);
  });

  it.each(ROUTES.map((route) => [nameOf(route), route] as const))(
    "%s is for its roles alone",
    async (name, route) => {
      const ward = await Ward.open();
      await ward.record([SALINE[0]]);
      const figures = [{ row: { sum: "intake" }, start: at("07:00"), end: at("08:00"), volume: 0 }];
      await ward.done("POST", "/v1/encounters/stay-1/charts", {
        as: "charge-nurse",
        body: { id: "paper", figures },
      });
      const path = route.path
        .replace("{unit}", "east")
        .replace("{encounter}", "stay-1")
        .replace("{entry}", "line-1")
        .replace("{chart}", "paper")
        .replace("{finding}", "totals-lost~pump-1~change-1");
      const allowed: Role[] = [];
      for (const role of ROLES) {
        // A body that is no good is judged after the role: whoever may is told of it.
        const answer = await ward.ask(route.method, path, { as: role, ...(route.body && { body: {} }) });
        if (answer.status === 403) {
          expect(answer.body).toMatchObject({ type: "/problems/forbidden", title: "Not for this role" });
          expect(answer.body.detail).toContain(role);
        } else {
          expect([200, 400, 422]).toContain(answer.status);
          allowed.push(role);
        }
      }
      expect(allowed.join(", ")).toBe(MAY[name]);
    },
  );
});

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
