/**
 * A real OpenID Connect provider on this machine's loopback, for tests: it signs access tokens of RFC 9068
 * for the programs it knows, publishes its keys, and can change them. Nobody in it is real.
 */

import { createServer, type RequestListener, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { exportJWK, generateKeyPair, type JWK } from "jose";
import type { Configuration, Provider } from "oidc-provider";
import { vi } from "vitest";

/** What the tokens are for. */
export const AUDIENCE = "https://ledger.example.org/v1";

/** The programs the provider knows, and what it says of each. */
const PROGRAMS: Readonly<Record<string, object>> = {
  "tablet-east": { roles: ["staff", "ward-nurse"], units: ["east"], name: "Tablet of East" },
  "chart-system": { roles: ["chart"], units: ["hospital"] },
  "nurse-7": { roles: ["ward-nurse"], units: ["east"], name: "Imaginary Nurse" },
  "no-role": { roles: ["cook"], units: ["east"] },
};
/** The people who can sign in at it, with any password. */
const PEOPLE: Readonly<Record<string, object>> = {
  "nurse-7": { roles: ["ward-nurse"], units: ["east"], name: "Imaginary Nurse" },
  "chart-bot": { roles: ["chart"], units: ["hospital"], name: "No person" },
};

/** What the provider knows of the service's pages. */
export const PAGES = {
  id: "ledger-pages",
  secret: "a secret: with %, + and a blank",
  scope: "openid profile",
  returnTo: "https://ledger.example.org/v1/session/provider/return",
};

const SECRET = "a secret between a test and its provider";

/** It warns of the version of Node.js and that it keeps everything in memory, as it is meant to here. */
async function providerAt(issuer: string, configuration: Configuration): Promise<Provider> {
  const silenced = (["info", "warn"] as const).map((way) =>
    vi.spyOn(console, way).mockImplementation(() => {}),
  );
  try {
    const { Provider } = await import("oidc-provider");
    return new Provider(issuer, configuration);
  } finally {
    for (const spy of silenced) spy.mockRestore();
  }
}

export class Identity {
  /** How often somebody asked for the keys. */
  asked = 0;
  keys: JWK[] = [];
  #listener: RequestListener = () => {};

  private constructor(
    readonly issuer: string,
    private readonly server: Server,
  ) {}

  /** Whoever opens it closes it. */
  static async open(): Promise<Identity> {
    const server = createServer();
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address() as AddressInfo;
    const identity = new Identity(`http://127.0.0.1:${port}`, server);
    server.on("request", (request, response) => {
      if (request.url === "/jwks") identity.asked++;
      identity.#listener(request, response);
    });
    await identity.changeKeys();
    return identity;
  }

  /** From now on signs with a new key, and publishes no other. */
  async changeKeys(): Promise<void> {
    const { privateKey } = await generateKeyPair("RS256", { extractable: true });
    const kid = `key-${this.keys.length + 1}`;
    this.keys.push({ ...(await exportJWK(privateKey)), kid, alg: "RS256", use: "sig" });
    const provider = await providerAt(this.issuer, {
      clients: [
        ...Object.keys(PROGRAMS).map((client_id) => ({
          client_id,
          client_secret: SECRET,
          grant_types: ["client_credentials"],
          redirect_uris: [],
          response_types: [],
        })),
        {
          client_id: PAGES.id,
          client_secret: PAGES.secret,
          grant_types: ["authorization_code"],
          redirect_uris: [PAGES.returnTo],
          response_types: ["code"],
        },
      ],
      claims: { openid: ["sub", "roles", "units"], profile: ["name"] },
      conformIdTokenClaims: false,
      findAccount: (_, sub) => ({ accountId: sub, claims: () => ({ sub, ...PEOPLE[sub] }) }),
      cookies: { keys: ["of a test"] },
      ttl: {
        AccessToken: 300,
        AuthorizationCode: 60,
        ClientCredentials: 300,
        Grant: 300,
        IdToken: 300,
        Interaction: 300,
        Session: 300,
      },
      jwks: { keys: [this.keys.at(-1)!] },
      extraTokenClaims: (_, token) => ({ ...PROGRAMS[token.clientId ?? ""] }),
      features: {
        clientCredentials: { enabled: true },
        devInteractions: { enabled: true },
        resourceIndicators: {
          enabled: true,
          defaultResource: () => AUDIENCE,
          useGrantedResource: () => true,
          getResourceServerInfo: () => ({
            scope: "",
            audience: AUDIENCE,
            accessTokenFormat: "jwt",
            accessTokenTTL: 300,
            jwt: { sign: { alg: "RS256" } },
          }),
        },
      },
    });
    this.#listener = provider.callback();
  }

  /** An access token for one of the programs. */
  async token(program: keyof typeof PROGRAMS): Promise<string> {
    const answer = await fetch(`${this.issuer}/token`, {
      method: "POST",
      headers: { authorization: `Basic ${btoa(`${program}:${encodeURIComponent(SECRET)}`)}` },
      body: new URLSearchParams({ grant_type: "client_credentials" }),
    });
    const { access_token } = (await answer.json()) as { access_token?: string };
    if (access_token === undefined) throw new Error(`no token for ${program}: ${answer.status}`);
    return access_token;
  }

  /** Signs somebody in at the address a service sent them to, as a browser would; returns where they are sent back to. */
  async signIn(address: string, person: keyof typeof PEOPLE): Promise<URL> {
    const cookies = new Map<string, string>();
    let at = new URL(address);
    let form: URLSearchParams | undefined;
    for (let step = 0; step < 12; step++) {
      const answer = await fetch(at, {
        redirect: "manual",
        headers: { cookie: [...cookies].map(([name, value]) => `${name}=${value}`).join("; ") },
        ...(form && { method: "POST", body: form }),
      });
      for (const cookie of answer.headers.getSetCookie()) {
        const [, name = "", value = ""] = /^([^=]+)=([^;]*)/.exec(cookie) ?? [];
        cookies.set(name, value);
      }
      const location = answer.headers.get("location");
      if (location === null) {
        const [, prompt] = /name="prompt" value="(\w+)"/.exec(await answer.text()) ?? [];
        if (prompt === undefined) throw new Error(`the provider wants something else: ${answer.status}`);
        form = new URLSearchParams({ prompt, login: person, password: "any" });
      } else {
        at = new URL(location, at);
        form = undefined;
        if (at.origin !== this.issuer) return at;
      }
    }
    throw new Error("the provider sends nobody back");
  }

  /** Answers nobody any more. */
  stop(): void {
    this.#listener = (request) => request.destroy();
  }

  async close(): Promise<void> {
    this.server.closeAllConnections();
    await new Promise((resolve) => this.server.close(resolve));
  }
}
