/** Access tokens of an identity provider: who they stand for, what happens when keys change, and tokens that are not good. */

import { createHmac, createPublicKey, randomUUID } from "node:crypto";
import {
  decodeJwt,
  exportJWK,
  generateKeyPair,
  importJWK,
  type JWTHeaderParameters,
  type JWTPayload,
  SignJWT,
} from "jose";
import { afterAll, beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { callerOfClaims } from "../../src/access/claims.js";
import { Ward } from "../rest/ward.js";
import { AUDIENCE, Identity } from "./identity.js";

const RULES = {
  roleClaim: "roles",
  roles: [
    ["ward-lead", "charge-nurse"],
    ["ward-nurse", "nurse"],
    ["chart", "integration"],
  ],
  unitsClaim: "units",
  units: [
    ["east", "east"],
    ["hospital", "*"],
  ],
} as const;

async function opened(given: { cooldown?: number } = { cooldown: 0 }) {
  const identity = await Identity.open();
  onTestFinished(() => identity.close());
  return withWard(identity, await Ward.open({ settings: settingsFor(identity, given) }));
}

function settingsFor({ issuer }: Identity, given: { cooldown?: number }) {
  return { provider: { issuer, audience: AUDIENCE, ...RULES, ...given } };
}

function withWard(identity: Identity, ward: Ward) {
  // The provider's clock is the machine's.
  ward.itIs(new Date().toISOString());
  const status = async (as: string) => (await ward.get("/v1/me", { as })).status;
  return { identity, ward, status };
}

/** A token as the provider would sign it, but for what is given: by its own key, unless told otherwise. */
async function forged(
  identity: Identity,
  claims: JWTPayload = {},
  header: Partial<JWTHeaderParameters> = {},
  key?: Parameters<SignJWT["sign"]>[0],
): Promise<string> {
  const now = Math.floor(Date.now() / 1_000);
  const honest = {
    iss: identity.issuer,
    aud: AUDIENCE,
    sub: "tablet-east",
    client_id: "tablet-east",
    jti: randomUUID(),
    iat: now,
    exp: now + 300,
    roles: ["ward-nurse"],
    units: ["east"],
  };
  const own = identity.keys.at(-1)!;
  return new SignJWT({ ...honest, ...claims })
    .setProtectedHeader({ alg: "RS256", typ: "at+jwt", kid: own.kid!, ...header })
    .sign(key ?? (await importJWK(own, "RS256")));
}

describe("an access token of the provider", () => {
  it("stands for whom the provider says, with the role and the units its words are mapped to", async () => {
    const { identity, ward } = await opened();
    const nurse = await ward.get("/v1/me", { as: await identity.token("tablet-east") });
    expect(nurse.body).toEqual({
      id: "oidc:tablet-east",
      name: "Tablet of East",
      role: "nurse",
      units: ["east"],
    });
    const chart = await ward.get("/v1/me", { as: await identity.token("chart-system") });
    expect(chart.body).toMatchObject({ name: "chart-system", role: "integration", units: null });
  });

  it("reaches its units and no others, and signs what it records", async () => {
    const { identity, ward } = await opened();
    const as = await identity.token("tablet-east");
    expect((await ward.get("/v1/encounters/stay-2", { as })).status).toBe(404);
    expect((await ward.get("/v1/accounts", { as })).status).toBe(403);
    const drink = { kind: "intake-measured", at: "2026-03-04T09:00:00-06:00", category: "oral", volume: 200 };
    const recorded = await ward.record([drink], { as });
    expect(recorded.body.entries[0].recorded.by).toMatchObject({ id: "oidc:tablet-east", role: "nurse" });
  });

  it("whose words are no role here lets nobody in", async () => {
    const { identity, status } = await opened();
    expect(await status(await identity.token("no-role"))).toBe(401);
  });

  it("of somebody whose account was closed here lets them in no more, five seconds later at most", async () => {
    const { identity, ward, status } = await opened();
    const as = await identity.token("nurse-7");
    expect(await status(as)).toBe(200);
    const account = { username: "oidc:nurse-7", name: "Imaginary Nurse", role: "nurse", units: ["east"] };
    const made = { id: "oidc:nurse-7", password: "", active: true, createdAt: ward.now };
    await ward.store.accounts.add({ ...account, ...made });
    await ward.done("PATCH", "/v1/accounts/oidc:nurse-7", { as: "administrator", body: { active: false } });
    expect(await status(await identity.token("nurse-7"))).toBe(401);
    ward.itIs(new Date(ward.now + 5_000).toISOString());
    expect(await status(as)).toBe(401);
    expect((await ward.get("/v1/encounters/stay-1", { as })).status).toBe(401);
    expect(await status(await identity.token("tablet-east"))).toBe(200);
  });

  it("goes on being good when the provider changes its keys, and the old key is good no more", async () => {
    const { identity, status } = await opened();
    const before = await identity.token("tablet-east");
    expect(await status(before)).toBe(200);
    await identity.changeKeys();
    expect(await status(await identity.token("tablet-east"))).toBe(200);
    // Not the token from before, which is remembered for some seconds: a new one by the key that was withdrawn.
    const old = identity.keys[0]!;
    const late = await forged(identity, {}, { kid: old.kid! }, await importJWK(old, "RS256"));
    expect(await status(late)).toBe(401);
  });

  it("with a key nobody has heard of asks the provider once, and not again for half a minute", async () => {
    const { identity, status } = await opened({});
    expect(await status(await identity.token("tablet-east"))).toBe(200);
    const asked = identity.asked;
    for (let i = 0; i < 20; i++) {
      expect(await status(await forged(identity, {}, { kid: `invented-${i}` }))).toBe(401);
    }
    expect(identity.asked - asked).toBeLessThanOrEqual(1);
  });

  it("cannot be judged while the provider does not answer, which is nobody's fault", async () => {
    const { identity, ward } = await opened();
    const as = await identity.token("tablet-east");
    identity.stop();
    const answer = await ward.get("/v1/me", { as });
    expect([answer.status, answer.headers["retry-after"]]).toEqual([503, "1"]);
    expect((await ward.get("/v1/me")).status).toBe(200);
  });
});

describe("a token that is not good", () => {
  const now = () => Math.floor(Date.now() / 1_000);
  const hostile: Readonly<Record<string, (identity: Identity) => Promise<string>>> = {
    "that has expired": (identity) => forged(identity, { iat: now() - 600, exp: now() - 31 }),
    "that is not good yet": (identity) => forged(identity, { nbf: now() + 120 }),
    "from the future": (identity) => forged(identity, { iat: now() + 120 }),
    "for somebody else": (identity) => forged(identity, { aud: "https://other.example.org" }),
    "of another issuer": (identity) => forged(identity, { iss: "https://issuer.example.org" }),
    "that is an ID token": (identity) => forged(identity, {}, { typ: "JWT" }),
    "without a type": (identity) => forged(identity, {}, { typ: undefined as never }),
    "without an id": (identity) => forged(identity, { jti: undefined }),
    "without an end": (identity) => forged(identity, { exp: undefined }),
    "without a subject": (identity) => forged(identity, { sub: undefined }),
    "of a subject that is none": (identity) => forged(identity, { sub: "a b\n" }),
    "with a key of its own": async (identity) =>
      forged(identity, {}, {}, (await generateKeyPair("RS256")).privateKey),
    "with a key nobody has heard of": async (identity) =>
      forged(identity, {}, { kid: "invented" }, (await generateKeyPair("RS256")).privateKey),
    "that brings its key along": async (identity) => {
      const { privateKey, publicKey } = await generateKeyPair("RS256", { extractable: true });
      return forged(identity, {}, { kid: undefined as never, jwk: await exportJWK(publicKey) }, privateKey);
    },
    "signed by nothing": async (identity) => parts(await forged(identity), { alg: "none" }, ""),
    "signed with the public key as a secret": async (identity) => {
      const { n, e, kty } = identity.keys.at(-1)!;
      const pem = createPublicKey({ key: { n, e, kty } as never, format: "jwk" }).export({
        type: "spki",
        format: "pem",
      });
      const unsigned = parts(await forged(identity), { alg: "HS256" }, "").slice(0, -1);
      return `${unsigned}.${createHmac("sha256", pem).update(unsigned).digest("base64url")}`;
    },
    "whose claims were changed": async (identity) => {
      const [header, , signature] = (await forged(identity)).split(".");
      const claims = { ...decodeJwt(await forged(identity)), roles: ["ward-lead"] };
      return `${header}.${encoded(claims)}.${signature}`;
    },
    "cut short": async (identity) => (await forged(identity)).slice(0, -9),
    "that is no JSON": async () => "bm90.anNvbg.YXQtYWxs",
  };

  let shared: ReturnType<typeof withWard>;
  beforeAll(async () => {
    const identity = await Identity.open();
    shared = withWard(identity, await Ward.open({ keep: true, settings: settingsFor(identity, {}) }));
  });
  afterAll(async () => {
    await shared.ward.close();
    await shared.identity.close();
  });

  it.each(Object.entries(hostile))("%s lets nobody in", async (_, make) => {
    const { identity, ward, status } = shared;
    expect(await status(await forged(identity)), "the same, but for that").toBe(200);
    const answer = await ward.get("/v1/me", { as: await make(identity) });
    expect([answer.status, answer.headers["www-authenticate"]]).toEqual([
      401,
      'Bearer realm="ledger", error="invalid_token"',
    ]);
  });

  it("by less than the clocks may differ is good", async () => {
    const { identity, status } = shared;
    expect(await status(await forged(identity, { iat: now() - 600, exp: now() - 10 }))).toBe(200);
  });

  it("is any, where there is no provider", async () => {
    const ward = await Ward.open({ empty: true });
    expect((await ward.get("/v1/me", { as: await shared.identity.token("tablet-east") })).status).toBe(401);
  });
});

describe("the provider's words", () => {
  const said = (claims: object, rules: object = {}) =>
    callerOfClaims({ sub: "s", ...claims }, { ...RULES, ...rules } as never);

  it("may stand in a list, between spaces, or inside other claims", () => {
    expect(said({ roles: "cook ward-nurse" })?.role).toBe("nurse");
    expect(said({ groups: { ward: ["chart"] } }, { roleClaim: "groups.ward" })?.role).toBe("integration");
    expect(
      said({ "https://a.example/roles": ["chart"] }, { roleClaim: "https://a.example/roles" })?.role,
    ).toBe("integration");
  });

  it("are looked up in the order of the rules where somebody has several roles", () => {
    expect(said({ roles: ["ward-nurse", "ward-lead"] })?.role).toBe("charge-nurse");
  });

  it("give nobody a unit that they do not name", () => {
    expect(said({ roles: ["chart"] })?.units).toEqual([]);
    expect(said({ roles: ["chart"], units: ["west"] })?.units).toEqual([]);
    expect(said({ roles: ["chart"], units: ["west", "a b", 7] }, { units: null })?.units).toEqual(["west"]);
    expect(said({ roles: ["chart"], units: ["*"] }, { units: null })?.units).toEqual([]);
  });

  it("are nobody's where they are of another form, also of names that every object has", () => {
    for (const roles of [undefined, null, 7, { "ward-nurse": true }, [["ward-nurse"]]]) {
      expect(said({ roles })).toBeUndefined();
    }
    expect(said({}, { roleClaim: "constructor.name", roles: [["Object", "nurse"]] })).toBeUndefined();
  });

  it("name who records, unless the name is one that no caller can have", () => {
    expect(said({ roles: ["chart"], name: "Charts" })?.name).toBe("Charts");
    expect(said({ roles: ["chart"], name: " ", preferred_username: "charts" })?.name).toBe("charts");
    expect(said({ roles: ["chart"], name: "x".repeat(201) })?.name).toBe("s");
  });
});

function parts(token: string, header: object, signature: string): string {
  const [, claims] = token.split(".");
  return `${encoded({ typ: "at+jwt", ...header })}.${claims}.${signature}`;
}

function encoded(value: object): string {
  return Buffer.from(JSON.stringify(value)).toString("base64url");
}
