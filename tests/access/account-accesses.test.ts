/** The log of who signed in and whose account was changed: what is in it, what never is, and who reads it. */

import { describe, expect, it } from "vitest";
import { hashOfPassword } from "../../src/access/password.js";
import { instant } from "../../src/time/instant.js";
import { CHEAP, Ward } from "../rest/ward.js";

const PASSWORD = "correct horse battery";
const LOG = "/v1/account-accesses";
const NURSE = { id: "a-1", name: "Imaginary Nurse", role: "nurse" };

async function opened(): Promise<Ward> {
  const ward = await Ward.open({ empty: true, settings: { proxies: ["127.0.0.1"] } });
  const password = await hashOfPassword(PASSWORD, CHEAP);
  const account = { ...NURSE, username: "i.nurse", units: ["east"], password, active: true };
  await ward.store.accounts.add({ ...account, createdAt: instant(0) });
  return ward;
}

const signIn = (ward: Ward, username: string, password: string) =>
  ward.ask("POST", "/v1/session", {
    as: null,
    body: { username, password },
    headers: { "x-forwarded-for": "192.0.2.7" },
  });

async function logged(ward: Ward, query = "") {
  return (await ward.done("GET", LOG + query, { as: "administrator" })).body;
}

describe("the log of accounts has", () => {
  it("every sign-in, good and failed, with the account and the address, and no password or unknown name", async () => {
    const ward = await opened();
    await signIn(ward, "I.Nurse", "another password");
    await signIn(ward, "my secret, in the wrong field", "i.nurse");
    const { headers } = await signIn(ward, "i.nurse", PASSWORD);
    const cookie = String(headers["set-cookie"]).split(";")[0]!;
    await ward.ask("DELETE", "/v1/session", { as: null, headers: { cookie } });
    const at = "2026-03-04T20:00:00.000Z";
    const one = { at, address: "192.0.2.7", changes: [] };
    const { accesses } = await logged(ward);
    expect(accesses).toEqual([
      {
        ...one,
        address: "127.0.0.1",
        by: NURSE,
        route: "DELETE /v1/session",
        status: 204,
        account: "a-1",
      },
      { ...one, by: NURSE, route: "POST /v1/session", status: 201, account: "a-1" },
      { ...one, route: "POST /v1/session", status: 401, account: null },
      { ...one, route: "POST /v1/session", status: 401, account: "a-1" },
    ]);
    expect(JSON.stringify(accesses)).not.toMatch(/horse|secret|another/);
  });

  it("every change of an account: by whom, of whom, what it was and what it is", async () => {
    const ward = await opened();
    const as = "administrator";
    const body = { username: "b", name: "B", role: "nurse", units: ["east"], password: PASSWORD };
    const { id } = (await ward.done("POST", "/v1/accounts", { as, body })).body;
    const change = { role: "administrator", units: null, password: "another password" };
    await ward.done("PATCH", `/v1/accounts/${id}`, { as, body: change });
    await ward.done("PATCH", `/v1/accounts/${id}`, { as, body: { name: "B", active: false } });
    await ward.ask("PATCH", "/v1/accounts/nobody", { as, body: { active: false } });
    const { accesses } = await logged(ward);
    expect(accesses).toMatchObject([
      { account: id, changes: [{ of: "active", was: true, is: false }] },
      {
        account: id,
        by: { id: "administrator" },
        route: "PATCH /v1/accounts/{account}",
        status: 200,
        changes: [
          { of: "role", was: "nurse", is: "administrator" },
          { of: "units", was: ["east"], is: null },
          { of: "password" },
        ],
      },
      { account: id, route: "POST /v1/accounts", status: 201 },
    ]);
    expect(accesses[2].changes).toContainEqual({ of: "role", is: "nurse" });
    expect(JSON.stringify(accesses)).not.toMatch(/scrypt|horse|another/);
  });

  it("nothing of what was tried without a look at a password", async () => {
    const ward = await opened();
    for (let i = 0; i < 8; i++) await signIn(ward, "i.nurse", "wrong");
    expect((await logged(ward)).accesses).toHaveLength(5);
  });

  it("its pages, the last first, for administrators of every unit", async () => {
    const ward = await opened();
    for (let i = 0; i < 3; i++) await signIn(ward, "i.nurse", PASSWORD);
    const first = await logged(ward, "?limit=2");
    expect(first.accesses).toHaveLength(2);
    expect((await ward.get(first.next, { as: "administrator" })).body.accesses).toHaveLength(1);
    expect((await ward.get(LOG, { as: "administrator@east" })).status).toBe(403);
    expect((await ward.get(LOG, { as: "charge-nurse" })).status).toBe(403);
  });

  it("what came of a sign-in in the service's own log too: who, and never by which name", async () => {
    const ward = await opened();
    await signIn(ward, "i.nurse", PASSWORD);
    const ask = { ask: "account-accesses", before: 99, limit: 9 } as const;
    await logged(ward);
    const rows = await ward.store.read(function* () {
      return (yield ask) as unknown[];
    });
    expect(rows).toMatchObject([{ caller: "a-1", encounter: null, about: { account: "a-1" } }]);
  });
});
