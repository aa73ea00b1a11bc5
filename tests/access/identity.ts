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
  "no-role": { roles: ["cook"], units: ["east"] },
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
      clients: Object.keys(PROGRAMS).map((client_id) => ({
        client_id,
        client_secret: SECRET,
        grant_types: ["client_credentials"],
        redirect_uris: [],
        response_types: [],
      })),
      ttl: { ClientCredentials: 300 },
      jwks: { keys: [this.keys.at(-1)!] },
      extraTokenClaims: (_, token) => ({ ...PROGRAMS[token.clientId ?? ""] }),
      features: {
        clientCredentials: { enabled: true },
        devInteractions: { enabled: false },
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

  /** Answers nobody any more. */
  stop(): void {
    this.#listener = (request) => request.destroy();
  }

  async close(): Promise<void> {
    this.server.closeAllConnections();
    await new Promise((resolve) => this.server.close(resolve));
  }
}
