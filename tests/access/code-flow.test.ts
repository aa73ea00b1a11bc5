/** Signing in at an identity provider, there and back: who comes in, and by what they do not. */

import { describe, expect, it, onTestFinished } from "vitest";
import { Ward } from "../rest/ward.js";
import { AUDIENCE, Identity, PAGES } from "./identity.js";

const RULES = {
  roleClaim: "roles",
  roles: [
    ["ward-nurse", "nurse"],
    ["chart", "integration"],
  ],
  unitsClaim: "units",
  units: null,
} as const;

async function opened() {
  const identity = await Identity.open();
  onTestFinished(() => identity.close());
  const provider = { issuer: identity.issuer, audience: AUDIENCE, ...RULES, cooldown: 0, client: PAGES };
  const ward = await Ward.open({ settings: { provider, publicOrigin: "https://ledger.example.org" } });
  ward.itIs(new Date().toISOString());
  return { identity, ward };
}

/** Sets out to sign in: where the browser is sent, and what it keeps. */
async function setOut(ward: Ward) {
  const answer = await ward.get("/v1/session/provider", { as: null });
  expect(answer.status).toBe(302);
  const [kept = ""] = answer.headers["set-cookie"] as unknown as string[];
  return { address: answer.headers.location!, kept, cookie: kept.split(";")[0]! };
}

function comeBack(ward: Ward, to: URL, cookie: string) {
  return ward.get(to.pathname + to.search, { as: null, headers: { cookie } });
}

describe("who signs in at the provider", () => {
  it("is sent there with a challenge, and comes back signed in as whom it says", async () => {
    const { identity, ward } = await opened();
    expect((await ward.get("/v1/session", { as: null })).body).toEqual({ provider: "/v1/session/provider" });
    const { address, kept, cookie } = await setOut(ward);
    expect(kept).toMatch(/^__Host-sign-in=.*; Max-Age=600; Path=\/; HttpOnly; Secure; SameSite=Lax$/);
    const asked = Object.fromEntries(new URL(address).searchParams);
    expect(asked).toMatchObject({
      response_type: "code",
      code_challenge_method: "S256",
      client_id: PAGES.id,
    });
    // Of what the browser keeps only the state and the nonce are told to the provider, never the verifier.
    const [state, nonce, verifier = ""] = cookie.slice(cookie.indexOf("=") + 1).split(".");
    expect([asked.state, asked.nonce]).toEqual([state, nonce]);
    expect(address).not.toContain(verifier);
    const back = await comeBack(ward, await identity.signIn(address, "nurse-7"), cookie);
    expect([back.status, back.headers.location], back.text).toEqual([302, "/"]);
    const cookies = back.headers["set-cookie"] as unknown as string[];
    expect(cookies[0]).toMatch(/^__Host-session=[\w-]{43}; Path=\/; HttpOnly; Secure; SameSite=Strict$/);
    expect(cookies[1]).toMatch(/^__Host-sign-in=; Max-Age=0;/);
    const me = await ward.get("/v1/me", { as: null, headers: { cookie: cookies[0]!.split(";")[0]! } });
    expect(me.body).toMatchObject({
      id: "oidc:nurse-7",
      name: "Imaginary Nurse",
      role: "nurse",
      units: ["east"],
      session: { idleSeconds: 600 },
    });
  });

  it("comes in again as the same, until the account is closed here", async () => {
    const { identity, ward } = await opened();
    const status = async () => {
      const { address, cookie } = await setOut(ward);
      return (await comeBack(ward, await identity.signIn(address, "nurse-7"), cookie)).status;
    };
    expect(await status()).toBe(302);
    expect(await status()).toBe(302);
    const known = await ward.store.accounts.page("", 9);
    expect(known.map(({ id }) => id)).toEqual(["oidc:nurse-7"]);
    const body = { username: "oidc:nurse-7", password: "" };
    expect((await ward.ask("POST", "/v1/session", { as: null, body })).status).toBe(401);
    await ward.store.accounts.change({ ...known[0]!, active: false });
    expect(await status()).toBe(401);
  });

  it("and is a program there has no session", async () => {
    const { identity, ward } = await opened();
    const { address, cookie } = await setOut(ward);
    expect((await comeBack(ward, await identity.signIn(address, "chart-bot"), cookie)).status).toBe(401);
  });
});

describe("nobody comes in", () => {
  it.each([
    ["from another browser than set out", (to: URL) => to, () => ""],
    [
      "with a state of somebody else",
      (to: URL) => changed(to, "state", "x".repeat(43)),
      (cookie: string) => cookie,
    ],
    ["without a code", (to: URL) => changed(to, "code", null), (cookie: string) => cookie],
    ["with an invented code", (to: URL) => changed(to, "code", "invented"), (cookie: string) => cookie],
    [
      "from another provider",
      (to: URL) => changed(to, "iss", "https://b.example.org"),
      (cookie: string) => cookie,
    ],
    ["with another verifier", (to: URL) => to, (cookie: string) => `${cookie}x`],
    [
      "with a token made for another sign-in",
      (to: URL) => to,
      (cookie: string) => cookie.replace(/\.[\w-]+\./, ".another-nonce."),
    ],
  ])("%s", async (_, change, keep) => {
    const { identity, ward } = await opened();
    const { address, cookie } = await setOut(ward);
    const to = await identity.signIn(address, "nurse-7");
    const answer = await comeBack(ward, change(to), keep(cookie));
    expect([answer.status, answer.headers["set-cookie"]]).toEqual([401, undefined]);
  });

  it("twice with the same code", async () => {
    const { identity, ward } = await opened();
    const { address, cookie } = await setOut(ward);
    const to = await identity.signIn(address, "nurse-7");
    expect((await comeBack(ward, to, cookie)).status).toBe(302);
    expect((await comeBack(ward, to, cookie)).status).toBe(401);
  });

  it("where there is no provider to sign in at", async () => {
    const ward = await Ward.open({ empty: true });
    expect((await ward.get("/v1/session", { as: null })).body).toEqual({ provider: null });
    expect((await ward.get("/v1/session/provider", { as: null })).status).toBe(404);
    expect((await ward.get("/v1/session/provider/return?code=x", { as: null })).status).toBe(404);
  });
});

function changed(to: URL, name: string, value: string | null): URL {
  const other = new URL(to);
  if (value === null) other.searchParams.delete(name);
  else other.searchParams.set(name, value);
  return other;
}
