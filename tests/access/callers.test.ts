/** Tokens: who is let in, for how long one that was taken away still is, and how many failures are too many. */

import { describe, expect, it } from "vitest";
import { Callers } from "../../src/access/callers.js";
import { hashOf, newToken } from "../../src/access/token.js";
import type { TokenRecord } from "../../src/store/callers.js";
import { instant } from "../../src/time/instant.js";
import { Ward } from "../rest/ward.js";

/** Tokens in memory, and how often they were looked up. */
class Tokens {
  readonly records = new Map<string, TokenRecord>();
  asked = 0;

  add(role: string, given: Partial<TokenRecord> = {}): string {
    const { secret, hash } = newToken();
    this.records.set(hash, {
      id: `${role}-1`,
      hash,
      role,
      name: "Somebody",
      units: ["east"],
      createdAt: instant(0),
      expiresAt: null,
      revokedAt: null,
      ...given,
    });
    return secret;
  }

  async tokenByHash(hash: string): Promise<TokenRecord | undefined> {
    this.asked++;
    return this.records.get(hash);
  }
}

/** Who comes with an Authorization header, and whom it stands for. */
function callersOf(tokens: Tokens, clock: () => number = () => 0) {
  const sessions = { of: async () => undefined };
  // Of our own tokens nobody asks for an account.
  const store = { tokenByHash: (hash: string) => tokens.tokenByHash(hash), accounts: null as never };
  const callers = new Callers({ store, sessions }, clock);
  return {
    of: async (authorization: string) =>
      (await callers.of({ authorization, cookie: undefined, attended: true }))?.caller,
  };
}

describe("a bearer token", () => {
  it("stands for its caller, a device's for a device", async () => {
    const tokens = new Tokens();
    const callers = callersOf(tokens);
    const nurse = { id: "nurse-1", name: "Somebody", role: "nurse", units: ["east"], source: "person" };
    expect(await callers.of(`Bearer ${tokens.add("nurse")}`)).toEqual(nurse);
    expect(await callers.of(`bearer  ${tokens.add("device")}`)).toMatchObject({
      role: "device",
      source: "device",
    });
  });

  it.each(["", "Bearer", "Bearer ", "Basic bnVyc2U6c2VjcmV0", "Bearer a b", `Bearer ${"x".repeat(300)}`])(
    "is not in %j, for which nobody asks the database",
    async (authorization) => {
      const tokens = new Tokens();
      expect(await callersOf(tokens).of(authorization)).toBeUndefined();
      expect(tokens.asked).toBe(0);
    },
  );

  it("is remembered for five seconds, so that one taken away is out by then", async () => {
    const tokens = new Tokens();
    let now = 1_000;
    const callers = callersOf(tokens, () => now);
    const secret = tokens.add("nurse");
    await callers.of(`Bearer ${secret}`);
    tokens.records.delete(hashOf(secret));
    now += 4_999;
    expect(await callers.of(`Bearer ${secret}`)).toBeDefined();
    expect(tokens.asked).toBe(1);
    now += 1;
    expect(await callers.of(`Bearer ${secret}`)).toBeUndefined();
  });

  it("that is new is let in at once, though it was refused a moment ago", async () => {
    const tokens = new Tokens();
    const callers = callersOf(tokens);
    const secret = tokens.add("nurse");
    const record = tokens.records.get(hashOf(secret))!;
    tokens.records.clear();
    expect(await callers.of(`Bearer ${secret}`)).toBeUndefined();
    tokens.records.set(record.hash, record);
    expect(await callers.of(`Bearer ${secret}`)).toBeDefined();
  });

  it("lets nobody in from the instant it expires, however lately it was used", async () => {
    const tokens = new Tokens();
    let now = 1_000;
    const callers = callersOf(tokens, () => now);
    const secret = tokens.add("nurse", { expiresAt: instant(3_000) });
    expect(await callers.of(`Bearer ${secret}`)).toBeDefined();
    now = 2_999;
    expect(await callers.of(`Bearer ${secret}`)).toBeDefined();
    now = 3_000;
    expect(await callers.of(`Bearer ${secret}`)).toBeUndefined();
  });

  it("lets nobody in once it is revoked", async () => {
    const tokens = new Tokens();
    const secret = tokens.add("nurse", { revokedAt: instant(0) });
    expect(await callersOf(tokens).of(`Bearer ${secret}`)).toBeUndefined();
  });

  it("is forgotten when ten thousand others were used since", async () => {
    const tokens = new Tokens();
    const callers = callersOf(tokens);
    const first = tokens.add("nurse");
    await callers.of(`Bearer ${first}`);
    for (let i = 0; i < 10_000; i++) await callers.of(`Bearer ${tokens.add("nurse")}`);
    const before = tokens.asked;
    await callers.of(`Bearer ${first}`);
    expect(tokens.asked).toBe(before + 1);
  });
});

describe("whoever has no valid token", () => {
  it("is told how to authenticate", async () => {
    const ward = await Ward.open({ empty: true });
    const none = await ward.get("/v1/me", { as: null });
    expect([none.status, none.headers["www-authenticate"]]).toEqual([401, 'Bearer realm="ledger"']);
    expect(none.body).toEqual({
      type: "/problems/unauthenticated",
      title: "No valid token",
      status: 401,
      detail: "A bearer token is needed.",
    });
    const unknown = await ward.get("/v1/me", { as: newToken().secret });
    expect([unknown.status, unknown.headers["www-authenticate"]]).toEqual([
      401,
      'Bearer realm="ledger", error="invalid_token"',
    ]);
  });

  it("is told nothing of what is there", async () => {
    const ward = await Ward.open();
    for (const path of ["/v1/encounters/stay-1", "/v1/encounters/nowhere", "/v1/nothing"]) {
      expect((await ward.get(path, { as: null })).status, path).toBe(401);
    }
  });

  it("is turned away after sixty failures in a minute, and a valid token is not", async () => {
    const ward = await Ward.open({ empty: true });
    for (let i = 0; i < 60; i++) expect((await ward.get("/v1/me", { as: "guess" })).status).toBe(401);
    const answer = await ward.get("/v1/me", { as: "guess" });
    expect([answer.status, answer.body.type]).toEqual([429, "/problems/too-many-requests"]);
    const seconds = Number(answer.headers["retry-after"]);
    expect(seconds).toBeGreaterThan(0);
    expect(seconds).toBeLessThanOrEqual(60);
    expect((await ward.get("/v1/me")).status).toBe(200);
  });
});

it("a caller can ask who the ledger takes it for", async () => {
  const ward = await Ward.open();
  expect((await ward.get("/v1/me")).body).toEqual({
    id: "nurse",
    name: "The nurse",
    role: "nurse",
    units: null,
  });
  expect((await ward.get("/v1/me", { as: "device@west" })).body).toMatchObject({
    role: "device",
    units: ["west"],
  });
});
