/**
 * Who may do what, seen from outside: every role, of every unit and of each, is sent to every operation that
 * the API description names. An operation that is not in the table below fails, so that none comes without
 * somebody having said whom it is for.
 */

import { beforeAll, describe, expect, it } from "vitest";
import { ROLES, type Role } from "../../src/access/roles.js";
import { openApi } from "../../src/rest/openapi.js";
import { ROUTES } from "../../src/rest/routes.js";
import { at, SALINE, Ward } from "../rest/ward.js";

/** As a ward would say it; written from the words of the roles and not from the service's own table. */
const MAY: Readonly<Record<string, string>> = {
  "GET /v1/me": "nurse, charge-nurse, integration, device, administrator",
  "DELETE /v1/session": "nurse, charge-nurse, integration, device, administrator",
  "GET /v1/units": "nurse, charge-nurse, integration, administrator",
  "POST /v1/units": "administrator",
  "GET /v1/units/{unit}": "nurse, charge-nurse, integration, administrator",
  "PATCH /v1/units/{unit}": "administrator",
  "GET /v1/units/{unit}/stream": "nurse, charge-nurse, integration",
  "GET /v1/units/{unit}/audit": "charge-nurse",
  "GET /v1/units/{unit}/accesses": "charge-nurse, administrator",
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
  "GET /v1/encounters/{encounter}/shifts/{date}/{shift}": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/shifts/{date}/{shift}/signature": "nurse, charge-nurse",
  "GET /v1/encounters/{encounter}/changes": "nurse, charge-nurse, integration",
  "GET /v1/encounters/{encounter}/export": "charge-nurse, integration",
  "GET /v1/encounters/{encounter}/findings": "nurse, charge-nurse, integration",
  "POST /v1/encounters/{encounter}/findings/{finding}/acknowledgement": "nurse, charge-nurse",
  "GET /v1/encounters/{encounter}/accesses": "charge-nurse, administrator",
  "POST /v1/encounters/{encounter}/emergency-access": "nurse, charge-nurse",
  "GET /v1/accounts": "administrator",
  "POST /v1/accounts": "administrator",
  "PATCH /v1/accounts/{account}": "administrator",
  "GET /v1/account-accesses": "administrator",
};

/** What needs nobody to say who they are. */
const OPEN = [
  "GET /health/live",
  "GET /health/ready",
  "GET /v1/session",
  "POST /v1/session",
  "GET /v1/session/provider",
  "GET /v1/session/provider/return",
];

/** What is for callers of every unit alone, beside its role. */
const FOR_EVERY_UNIT = [
  "POST /v1/units",
  "GET /v1/accounts",
  "POST /v1/accounts",
  "PATCH /v1/accounts/{account}",
  "GET /v1/account-accesses",
];

/** How an encounter out of reach is reached. */
const EMERGENCY = "POST /v1/encounters/{encounter}/emergency-access";

/** What is still for staff of a unit that the patient has left lately, beside reading. */
const FINISHING = [
  "POST /v1/encounters/{encounter}/entries",
  "POST /v1/encounters/{encounter}/reconciliation",
  "POST /v1/encounters/{encounter}/shifts/{date}/{shift}/signature",
  EMERGENCY,
];

interface Described {
  readonly description: string;
  readonly security?: readonly object[];
  readonly requestBody?: object;
}

const OPERATIONS = Object.entries(openApi().paths as Readonly<Record<string, Record<string, Described>>>)
  .flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ method: method.toUpperCase(), path, operation })),
  )
  .map((one) => ({ ...one, name: `${one.method} ${one.path}` }));

type Operation = (typeof OPERATIONS)[number];

const isOpen = ({ operation }: Operation) => operation.security?.length === 0;
const GUARDED = OPERATIONS.filter((operation) => !isOpen(operation));
const isOf =
  (what: "encounter" | "unit") =>
  ({ path }: Operation) =>
    path.includes(`{${what}}`);

/** How it ended: not there for this caller, not for them, or let in, whatever came of it then. */
type End = "not there" | "may not" | "let in";

async function endOf(ward: Ward, { method, path, operation }: Operation, as: string): Promise<End> {
  const address = path
    .replace("{unit}", "east")
    .replace("{encounter}", "stay-1")
    .replace("{entry}", "line-1")
    .replace("{finding}", "totals-lost~pump-1~change-1")
    .replace("{chart}", "sheet")
    .replace("{date}/{shift}", "2026-03-04/day")
    .replace("{account}", "nobody");
  // A body that is no good is judged after the caller: whoever is let in is told of it, and nothing happens.
  const answer = await ward.ask(method, address, { as, ...(operation.requestBody && { body: {} }) });
  if (answer.status === 403) {
    const left = /has left your units/.test(answer.body.detail);
    const title = left ? "Not your unit's time" : "Not for this role";
    const type = left ? "/problems/not-your-time" : "/problems/forbidden";
    expect(answer.body).toMatchObject({ type, title });
    return "may not";
  }
  if (answer.status === 404) {
    expect(answer.body.type).toBe("/problems/not-found");
    if (/no (encounter "stay-1"|unit "east") here/.test(answer.body.detail)) return "not there";
  }
  expect([200, 204, 400, 404, 422], answer.text).toContain(answer.status);
  return "let in";
}

function mayByRole({ name }: Operation, role: Role): boolean {
  return (MAY[name] ?? "").split(", ").includes(role);
}

describe("the API description", () => {
  it("names no operation of which nobody has said whom it is for, and every one of the service's", () => {
    expect(GUARDED.map(({ name }) => name).sort()).toEqual(Object.keys(MAY).sort());
    expect(OPERATIONS.filter(isOpen).map(({ name }) => name)).toEqual(expect.arrayContaining(OPEN));
    expect(OPERATIONS.filter(isOpen)).toHaveLength(OPEN.length);
    const described = OPERATIONS.filter(({ path }) => path.startsWith("/v1/")).map(({ name }) => name);
    expect(described.sort()).toEqual(ROUTES.map(({ method, path }) => `${method} ${path}`).sort());
  });

  it.each(GUARDED.map((operation) => [operation.name, operation] as const))(
    "says of %s for whom it is",
    (name, { operation }) => {
      const everybody = MAY[name] === ROLES.join(", ");
      expect(operation.description).toContain(everybody ? "For every role." : `For the roles ${MAY[name]}.`);
    },
  );
});

/** The six ways in which a caller can stand to the patient, and what they come to for whose role may. */
const PLACES: readonly {
  readonly what: string;
  readonly as: (role: Role) => string;
  readonly before?: (ward: Ward) => Promise<unknown>;
  readonly end: (operation: Operation, role: Role) => End;
}[] = [
  {
    what: "of every unit",
    as: (role) => role,
    end: (operation, role) => (mayByRole(operation, role) ? "let in" : "may not"),
  },
  {
    what: "of the patient's unit",
    as: (role) => `${role}@east`,
    end: ofTheUnit,
  },
  {
    what: "of another unit",
    as: (role) => `${role}@west`,
    end: elsewhere,
  },
  {
    what: "of a unit that the patient left an hour ago",
    as: (role) => `${role}@east`,
    before: (ward) => move(ward),
    end: (operation, role) => {
      const own = ofTheUnit(operation, role);
      if (own !== "let in" || !isOf("encounter")(operation) || operation.method === "GET") return own;
      return FINISHING.includes(operation.name) ? "let in" : "may not";
    },
  },
  {
    what: "of a unit that the patient left 24 hours ago",
    as: (role) => `${role}@east`,
    before: async (ward) => {
      await move(ward);
      ward.itIs("2026-03-05T13:00:00-06:00");
    },
    end: (operation, role) =>
      isOf("unit")(operation) ? ofTheUnit(operation, role) : elsewhere(operation, role),
  },
  {
    what: "of another unit, in an emergency",
    as: (role) => `${role}@west`,
    before: async (ward) => {
      for (const role of ["nurse", "charge-nurse"]) {
        const body = { reason: "Called to a cardiac arrest." };
        const path = "/v1/encounters/stay-1/emergency-access";
        await ward.done("POST", path, { as: `${role}@west`, body });
      }
    },
    end: (operation, role) => {
      const bedside = role === "nurse" || role === "charge-nurse";
      return bedside && isOf("encounter")(operation)
        ? ofTheUnit(operation, role)
        : elsewhere(operation, role);
    },
  },
];

function ofTheUnit(operation: Operation, role: Role): End {
  return mayByRole(operation, role) && !FOR_EVERY_UNIT.includes(operation.name) ? "let in" : "may not";
}

function elsewhere(operation: Operation, role: Role): End {
  if (isOf("unit")(operation)) return "not there";
  if (!isOf("encounter")(operation)) return ofTheUnit(operation, role);
  return operation.name === EMERGENCY && mayByRole(operation, role) ? "let in" : "not there";
}

function move(ward: Ward) {
  const body = { move: { unit: "west", at: at("13:00") } };
  return ward.done("PATCH", "/v1/encounters/stay-1", { body });
}

describe.each(PLACES)("callers $what", ({ as, before, end }) => {
  const found = new Map<string, Record<string, End>>();

  beforeAll(async () => {
    const ward = await Ward.open({ keep: true });
    try {
      await ward.record([SALINE[0]]);
      await before?.(ward);
      for (const operation of GUARDED) {
        const ends: Record<string, End> = {};
        for (const role of ROLES) ends[role] = await endOf(ward, operation, as(role));
        found.set(operation.name, ends);
      }
    } finally {
      await ward.close();
    }
  });

  it.each(GUARDED.map((operation) => [operation.name, operation] as const))("%s", (name, operation) => {
    const expected = Object.fromEntries(ROLES.map((role) => [role, end(operation, role)]));
    expect(found.get(name)).toEqual(expected);
  });
});

it("nobody is let in anywhere without saying who they are", async () => {
  const ward = await Ward.open();
  for (const operation of GUARDED) {
    const path = operation.path.replace("{encounter}", "stay-1").replace("{unit}", "east");
    const answer = await ward.ask(operation.method, path.replace(/\{\w+\}/g, "x"), { as: null });
    expect(answer.status, operation.name).toBe(401);
  }
});
