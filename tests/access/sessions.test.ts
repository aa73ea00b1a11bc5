/** Signing in to the pages: what the browser gets for it, when it ends, and how slow guessing is. */

import { describe, expect, it } from "vitest";
import { COST, hashOfPassword, isOutdated, isPassword } from "../../src/access/password.js";
import { Throttle } from "../../src/access/throttle.js";
import { hashOf } from "../../src/access/token.js";
import type { AccountRecord } from "../../src/store/callers.js";
import { instant } from "../../src/time/instant.js";
import { at, CHEAP, SALINE, Ward } from "../rest/ward.js";

const PASSWORD = "correct horse battery";

async function accountOf(ward: Ward, given: Partial<AccountRecord> = {}): Promise<AccountRecord> {
  const account = {
    id: "a-1",
    username: "i.nurse",
    name: "Imaginary Nurse",
    role: "nurse",
    units: ["east"],
    password: await hashOfPassword(PASSWORD, CHEAP),
    active: true,
    createdAt: instant(0),
    ...given,
  };
  await ward.store.accounts.add(account);
  return account;
}

interface Trying {
  readonly username?: string;
  readonly password?: string;
  readonly headers?: Record<string, string>;
}

function signIn(ward: Ward, { username = "i.nurse", password = PASSWORD, headers = {} }: Trying = {}) {
  return ward.ask("POST", "/v1/session", { as: null, body: { username, password }, headers });
}

function cookiesOf(answer: { readonly headers: Record<string, unknown> }): string[] {
  return answer.headers["set-cookie"] as string[];
}

/** Signs in, and asks from then on with the cookie alone. */
async function signedIn(ward: Ward, trying: Trying = {}) {
  const answer = await signIn(ward, trying);
  expect(answer.status, answer.text).toBe(201);
  const cookie = String(answer.headers["set-cookie"]).split(";")[0]!;
  const headers = { cookie };
  const get = (path: string, more: Record<string, string> = {}) =>
    ward.get(path, { as: null, headers: { ...headers, ...more } });
  return { answer, cookie, headers, get };
}

describe("who signs in", () => {
  it("gets a cookie that no script reads and no other site sends, and is who the account says", async () => {
    const ward = await Ward.open();
    await accountOf(ward);
    const { answer, get } = await signedIn(ward, { username: "I.Nurse" });
    expect(answer.body).toEqual({
      id: "a-1",
      name: "Imaginary Nurse",
      role: "nurse",
      units: ["east"],
      session: { endsAt: "2026-03-05T08:00:00.000Z", idleSeconds: 600 },
    });
    const [session, browser] = cookiesOf(answer);
    expect(session).toMatch(/^session=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/);
    // Ninety days, in seconds.
    expect(browser).toMatch(/^browser=[\w-]{43}; Max-Age=7776000; Path=\/; HttpOnly; SameSite=Strict$/);
    expect((await get("/v1/me")).body).toEqual(answer.body);
    expect((await get("/v1/encounters/stay-1")).status).toBe(200);
    expect((await get("/v1/encounters/stay-2")).status).toBe(404);
  });

  it("over TLS gets one that only this host can have set", async () => {
    const ward = await Ward.open({ settings: { publicOrigin: "https://ledger.example.org" } });
    await accountOf(ward);
    const { answer, get } = await signedIn(ward);
    const [session, browser] = cookiesOf(answer);
    expect(session).toMatch(/^__Host-session=[\w-]{43}; Path=\/; HttpOnly; Secure; SameSite=Strict$/);
    expect(browser).toMatch(
      /^__Host-browser=[\w-]{43}; Max-Age=7776000; Path=\/; HttpOnly; Secure; SameSite=Strict$/,
    );
    expect((await get("/v1/me")).status).toBe(200);
  });

  it("has a secret that the database does not know, new at each sign-in, and the one before is over", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const first = await signedIn(ward);
    const secret = first.cookie.split("=")[1]!;
    expect(await ward.store.sessions.byHash(secret)).toBeUndefined();
    expect(await ward.store.sessions.byHash(hashOf(secret))).toMatchObject({ account: "a-1" });
    const second = await signedIn(ward, { headers: first.headers });
    expect(second.cookie).not.toBe(first.cookie);
    expect((await first.get("/v1/me")).status).toBe(401);
    expect((await second.get("/v1/me")).status).toBe(200);
  });

  it("does not take over a secret that somebody put into the browser before", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const planted = "x".repeat(43);
    const { cookie } = await signedIn(ward, { headers: { cookie: `session=${planted}` } });
    expect(cookie).not.toContain(planted);
    expect((await ward.get("/v1/me", { as: null, headers: { cookie: `session=${planted}` } })).status).toBe(
      401,
    );
  });

  it("signs out, and the cookie is good for nothing any more", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const { headers, get } = await signedIn(ward);
    const out = await ward.ask("DELETE", "/v1/session", { as: null, headers });
    expect(out.status).toBe(204);
    expect(String(out.headers["set-cookie"])).toMatch(/^session=; Max-Age=0;/);
    const answer = await get("/v1/me");
    expect([answer.status, answer.body.detail]).toEqual([
      401,
      "The session has ended, or there is none: a bearer token is needed, or to sign in.",
    ]);
  });

  it("is found by a token alone where both are sent", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const { headers } = await signedIn(ward);
    expect((await ward.get("/v1/me", { as: "administrator", headers })).body.role).toBe("administrator");
    expect((await ward.get("/v1/me", { as: "guess", headers })).status).toBe(401);
  });
});

describe("a session ends", () => {
  it("ten minutes after it was last used, not counting what a page asks by itself", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const { get } = await signedIn(ward);
    ward.itIs("14:09");
    expect((await get("/v1/me")).status).toBe(200);
    ward.itIs("14:18");
    expect((await get("/v1/me", { unattended: "?1" })).status).toBe(200);
    ward.itIs("14:19");
    expect((await get("/v1/me", { unattended: "?1" })).status).toBe(401);
  });

  it("at the end of a shift, however much it was used", async () => {
    const ward = await Ward.open({
      empty: true,
      settings: { sessions: { idle: 3_600_000, whole: 7_200_000 } },
    });
    await accountOf(ward);
    const { get } = await signedIn(ward);
    for (const clock of ["14:40", "15:20", "15:59"]) {
      ward.itIs(clock);
      expect((await get("/v1/me")).status, clock).toBe(200);
    }
    ward.itIs("16:00");
    expect((await get("/v1/me")).status).toBe(401);
  });

  it.each([
    ["closed", { active: false }],
    ["given another password", { password: "another password entirely" }],
    ["moved to other units", { units: ["west"] }],
  ])("when its account is %s", async (_, change) => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    const { get } = await signedIn(ward);
    await ward.done("PATCH", "/v1/accounts/a-1", { as: "administrator", body: change });
    expect((await get("/v1/me")).status).toBe(401);
  });
});

describe("a sign-in that fails", () => {
  it("says the same of a wrong password, an unknown name and a closed account", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    await accountOf(ward, { id: "a-2", username: "gone", active: false });
    const answers = [
      await signIn(ward, { password: "wrong" }),
      await signIn(ward, { username: "nobody" }),
      await signIn(ward, { username: "gone" }),
    ];
    for (const answer of answers) {
      expect(answer.status).toBe(401);
      expect(answer.text).toBe(answers[0]!.text);
      expect(answer.headers["set-cookie"]).toBeUndefined();
      expect(answer.headers["www-authenticate"]).toBe('Bearer realm="ledger"');
    }
  });

  it("takes as long for a name that nobody has: a password is looked at all the same", async () => {
    const ward = await Ward.open({ empty: true, settings: { passwordCost: COST } });
    await accountOf(ward, { password: await hashOfPassword(PASSWORD, COST) });
    const took = async (username: string) => {
      const start = performance.now();
      await signIn(ward, { username, password: "wrong" });
      return performance.now() - start;
    };
    await took("warming-up");
    const [known, unknown] = [await took("i.nurse"), await took("nobody")];
    // Without it an unknown name is answered in a millisecond or two, a hundredth of the other.
    expect(unknown).toBeGreaterThan(known / 4);
  });

  it("after the fifth time makes the account wait, longer each time, and others not", async () => {
    const ward = await Ward.open({ empty: true });
    await accountOf(ward);
    await accountOf(ward, { id: "a-2", username: "colleague" });
    const wrong = () => signIn(ward, { password: "wrong" });
    for (let i = 0; i < 5; i++) expect((await wrong()).status).toBe(401);
    const answer = await signIn(ward);
    expect([answer.status, answer.body.type, answer.headers["retry-after"]]).toEqual([
      429,
      "/problems/too-many-requests",
      "1",
    ]);
    expect((await signIn(ward, { username: "colleague" })).status).toBe(201);
    ward.itIs("2026-03-04T14:00:01-06:00");
    expect((await wrong()).status).toBe(401);
    expect((await wrong()).headers["retry-after"]).toBe("2");
    ward.itIs("14:01");
    expect((await signIn(ward)).status).toBe(201);
    for (let i = 0; i < 5; i++) expect((await wrong()).status).toBe(401);
  });

  it("counts a name the same whether somebody has it or not", async () => {
    const ward = await Ward.open({ empty: true });
    for (let i = 0; i < 5; i++) expect((await signIn(ward, { username: "nobody" })).status).toBe(401);
    expect((await signIn(ward, { username: "NOBODY" })).status).toBe(429);
  });

  it("after the twentieth time makes the address wait, whatever names it tries", async () => {
    const ward = await Ward.open({ empty: true, settings: { proxies: ["127.0.0.1"] } });
    await accountOf(ward);
    const from = (address: string, username: string) =>
      signIn(ward, { username, headers: { "x-forwarded-for": address } });
    for (let i = 0; i < 20; i++) expect((await from("192.0.2.1", `guess-${i}`)).status).toBe(401);
    expect((await from("192.0.2.1", "i.nurse")).status).toBe(429);
    expect((await from("192.0.2.2", "i.nurse")).status).toBe(201);
  });

  it("is told of its form, and nothing of the password stands in the answer", async () => {
    const ward = await Ward.open({ empty: true });
    const answer = await signIn(ward, { password: "secret".repeat(50) });
    expect(answer.status).toBe(422);
    expect(answer.text).not.toContain("secret");
  });
});

describe("somebody who guesses", () => {
  const PROXIED = { settings: { proxies: ["127.0.0.1"] } };

  /** Anna has signed in from the ward; then somebody guesses her password once a second, from everywhere. */
  async function besieged() {
    const ward = await Ward.open({ empty: true, ...PROXIED });
    await accountOf(ward, { id: "a-3", username: "anna" });
    const from = (address: string, { cookie, ...trying }: Trying & { cookie?: string | undefined } = {}) =>
      signIn(ward, {
        username: "anna",
        ...trying,
        headers: { "x-forwarded-for": address, ...(cookie !== undefined && { cookie }) },
      });
    const first = await from("192.0.2.1");
    const browser = cookiesOf(first)[1]!.split(";")[0]!;
    let guessed = 0;
    const guess = async (seconds: number) => {
      for (let i = 0; i < seconds; i++) {
        ward.itIs(new Date(ward.now + 1_000).toISOString());
        await from(`198.51.100.${guessed++ % 250}`, { password: "wrong" });
      }
    };
    return { ward, from, browser, guess };
  }

  it("keeps nobody out who has signed in before, from the browser or from the address", async () => {
    const { from, browser, guess } = await besieged();
    for (let i = 0; i < 8; i++) {
      await guess(30);
      // From the ward's address by any browser, and by her own browser from anywhere.
      expect((await from("192.0.2.1")).status).toBe(201);
      expect((await from("203.0.113.9", { cookie: browser })).status).toBe(201);
    }
    // From where nobody knows her she waits like the guesser.
    expect((await from("203.0.113.10")).status).toBe(429);
  });

  it("is slowed down there as well, and known by nobody else's browser", async () => {
    const { ward, from, browser, guess } = await besieged();
    await accountOf(ward, { id: "a-4", username: "bert" });
    await guess(30);
    const stolen = () => from("203.0.113.9", { cookie: browser, password: "wrong" });
    for (let i = 0; i < 5; i++) expect((await stolen()).status).toBe(401);
    expect((await stolen()).status).toBe(429);
    // Bert's browser says nothing for Anna, though it is known for Bert.
    const berts = await from("203.0.113.11", { username: "bert" });
    const cookie = cookiesOf(berts)[1]!.split(";")[0]!;
    expect((await from("203.0.113.12", { cookie })).status).toBe(429);
    expect((await from("203.0.113.12", { cookie, username: "bert", password: "wrong" })).status).toBe(401);
  });

  it("of a colleague leaves the workstation known to both, by one secret", async () => {
    const { ward, from, browser } = await besieged();
    await accountOf(ward, { id: "a-4", username: "bert" });
    const berts = await from("192.0.2.1", { username: "bert", cookie: browser });
    expect(cookiesOf(berts)[1]!.split(";")[0]).toBe(browser);
    // One that nobody has is not taken over.
    const planted = await from("192.0.2.1", { cookie: `browser=${"x".repeat(43)}` });
    expect(cookiesOf(planted)[1]).not.toContain("x".repeat(43));
  });

  it("finds a place forgotten that nobody has signed in from for ninety days", async () => {
    const { ward, from, browser, guess } = await besieged();
    await accountOf(ward, { id: "a-4", username: "bert" });
    ward.itIs(new Date(ward.now + 90 * 24 * 3_600_000 + 1).toISOString());
    await from("192.0.2.1", { username: "bert" });
    await guess(20);
    expect((await from("192.0.2.1", { cookie: browser })).status).toBe(429);
  });
});

describe("a page of another site", () => {
  const own = (ward: Ward) => {
    const { port } = ward.app.server.address() as { port: number };
    return `127.0.0.1:${port}`;
  };

  it.each([
    ["says so", { "sec-fetch-site": "cross-site" }],
    ["is of the same site, and still not this one", { "sec-fetch-site": "same-site" }],
    ["has another origin", { origin: "https://evil.example.org" }],
    ["has an origin that it hides", { origin: "null" }],
  ])("that %s records nothing with the cookie, and signs nobody in or out", async (_, from) => {
    const ward = await Ward.open();
    await accountOf(ward);
    const { headers, get } = await signedIn(ward);
    const sent = { ...headers, ...from } as Record<string, string>;
    const answers = [
      await ward.record(SALINE, { as: null, headers: sent }),
      await ward.ask("DELETE", "/v1/session", { as: null, headers: sent }),
      await signIn(ward, { headers: from as Record<string, string> }),
    ];
    for (const answer of answers) {
      expect([answer.status, answer.body.type]).toEqual([403, "/problems/cross-site"]);
    }
    expect((await get("/v1/encounters/stay-1/entries")).body.entries).toHaveLength(1);
  });

  it("is not the service's own page, which records", async () => {
    const ward = await Ward.open();
    await ward.app.listen({ host: "127.0.0.1", port: 0 });
    await accountOf(ward);
    const { headers } = await signedIn(ward, { headers: { origin: `http://${own(ward)}` } });
    const sent = { ...headers, origin: `http://${own(ward)}`, "sec-fetch-site": "same-origin" };
    expect((await ward.record(SALINE, { as: null, headers: sent })).status).toBe(201);
  });

  it("is judged by the address that browsers know, where that is told", async () => {
    const ward = await Ward.open({ settings: { publicOrigin: "https://ledger.example.org" } });
    await accountOf(ward);
    const origin = "https://ledger.example.org";
    expect((await signIn(ward, { headers: { origin } })).status).toBe(201);
    expect((await signIn(ward, { headers: { origin: "http://ledger.example.org" } })).status).toBe(403);
  });

  it("means nothing for a token, which no browser sends by itself", async () => {
    const ward = await Ward.open();
    expect((await ward.record(SALINE, { headers: { origin: "https://evil.example.org" } })).status).toBe(201);
  });
});

describe("a password", () => {
  it("is kept with its salt and cost, and is recognised by them", async () => {
    const kept = await hashOfPassword(PASSWORD, CHEAP);
    expect(kept).toMatch(/^\$scrypt\$ln=4,r=8,p=1\$[A-Za-z0-9+/]{22}\$[A-Za-z0-9+/]{43}$/);
    expect(await hashOfPassword(PASSWORD, CHEAP)).not.toBe(kept);
    expect(await isPassword(PASSWORD, kept)).toBe(true);
    expect(await isPassword(`${PASSWORD} `, kept)).toBe(false);
    expect([isOutdated(kept), await isPassword(PASSWORD, "plain text")]).toEqual([true, false]);
  });

  it("is what scrypt makes of it, by the vectors of RFC 7914, section 12", async () => {
    // N = 1024, r = 8, p = 16, "password" and "NaCl": published.
    const hash = Buffer.from(
      "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b3731622eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d8360cbdfa2cc0640",
      "hex",
    ).toString("base64");
    const salt = Buffer.from("NaCl").toString("base64");
    const kept = `$scrypt$ln=10,r=8,p=16$${plain(salt)}$${plain(hash)}`;
    expect(await isPassword("password", kept)).toBe(true);
  });

  it("is the same on every keyboard", async () => {
    const kept = await hashOfPassword("n\u0303andu\u0301 n\u0303andu\u0301", CHEAP);
    expect(await isPassword("\u00f1and\u00fa \u00f1and\u00fa", kept)).toBe(true);
  });

  it("that was kept at a lower cost is kept at today's after a sign-in", async () => {
    const ward = await Ward.open({ empty: true, settings: { passwordCost: { ...CHEAP, ln: 5 } } });
    await accountOf(ward);
    await signedIn(ward);
    expect((await ward.store.accounts.byId("a-1"))?.password).toMatch(/^\$scrypt\$ln=5,r=8,p=1\$/);
    await signedIn(ward);
  });
});

describe("an account", () => {
  const body = {
    username: "New.Nurse",
    name: "New Nurse",
    role: "nurse",
    units: ["east"],
    password: PASSWORD,
  };

  it("is made, listed and changed by an administrator, and its password is never shown", async () => {
    const ward = await Ward.open({ empty: true });
    const as = "administrator";
    const made = await ward.ask("POST", "/v1/accounts", { as, body });
    expect(made.status).toBe(201);
    const { id } = made.body;
    const account = {
      id,
      username: "new.nurse",
      name: "New Nurse",
      role: "nurse",
      units: ["east"],
      active: true,
    };
    expect(made.body).toEqual(account);
    expect((await ward.get("/v1/accounts", { as })).body).toEqual({ accounts: [account] });
    const taken = await ward.ask("POST", "/v1/accounts", { as, body: { ...body, username: "NEW.nurse" } });
    expect([taken.status, taken.body.type]).toEqual([409, "/problems/id-exists"]);
    await signedIn(ward, { username: "new.nurse" });
    const changed = await ward.ask("PATCH", `/v1/accounts/${id}`, {
      as,
      body: { units: null, role: "charge-nurse" },
    });
    expect(changed.body).toEqual({ ...account, units: null, role: "charge-nurse" });
    expect((await ward.ask("PATCH", "/v1/accounts/none", { as, body: {} })).status).toBe(404);
  });

  it.each([
    ["a short password", { password: "elevenchars" }, "#/password"],
    ["a role of programs", { role: "integration" }, "#/role"],
    ["a name with a blank in it", { username: "new nurse" }, "#/username"],
  ])("is not made with %s", async (_, wrong, pointer) => {
    const ward = await Ward.open({ empty: true });
    const answer = await ward.ask("POST", "/v1/accounts", {
      as: "administrator",
      body: { ...body, ...wrong },
    });
    expect(answer.status).toBe(422);
    expect(answer.body.errors.map((fault: { pointer: string }) => fault.pointer)).toEqual([pointer]);
    expect(answer.text).not.toContain("elevenchars");
  });
});

describe("slowing down", () => {
  it("doubles up to the longest wait, counts attempts that are under way, and forgets after a day", () => {
    let now = 0;
    const throttle = new Throttle({ free: 2, first: 1_000, longest: 8_000 }, () => now);
    const waits: number[] = [];
    for (let i = 0; i < 7; i++) {
      waits.push(throttle.waitFor("k"));
      throttle.begin("k");
    }
    expect(waits).toEqual([0, 0, 1, 2, 4, 8, 8]);
    expect(throttle.waitFor("other")).toBe(0);
    now = 24 * 3_600_000;
    expect(throttle.waitFor("k")).toBe(0);
  });

  it("takes back an attempt that succeeded, and not those before it", () => {
    const throttle = new Throttle({ free: 2, first: 1_000, longest: 8_000 }, () => 0);
    for (let i = 0; i < 3; i++) throttle.begin("k");
    throttle.takeBack("k");
    expect(throttle.waitFor("k")).toBe(1);
    throttle.takeBack("k");
    expect(throttle.waitFor("k")).toBe(0);
    throttle.begin("k");
    throttle.clear("k");
    expect(throttle.waitFor("k")).toBe(0);
  });
});

it("what somebody who signed in records carries their name", async () => {
  const ward = await Ward.open();
  await accountOf(ward);
  const { headers } = await signedIn(ward);
  const drink = { kind: "intake-measured", at: at("09:00"), category: "oral", volume: 200 };
  const answer = await ward.record([drink], { as: null, headers });
  expect(answer.body.entries[0].recorded.by).toEqual({ id: "a-1", name: "Imaginary Nurse", role: "nurse" });
});

/** Base64 without its padding. */
function plain(text: string): string {
  return text.replace(/=+$/, "");
}
