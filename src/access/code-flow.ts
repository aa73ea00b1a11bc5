/**
 * Signing in at the identity provider: the authorization code flow of OpenID Connect Core, section 3.1, with
 * PKCE (RFC 7636). What only the browser that began may finish with (state, nonce and verifier) it keeps in a
 * cookie meanwhile; here nothing is kept.
 */

import { createHash, timingSafeEqual } from "node:crypto";
import type { Claims } from "./claims.js";
import { PATIENCE, type Provider, ProviderUnavailable } from "./provider.js";
import { newSecret } from "./token.js";

/** What the provider knows of this service. */
export interface ClientSettings {
  readonly id: string;
  /** Null for a client that has none. */
  readonly secret: string | null;
  readonly scope: string;
  /** Where the provider sends people back to. */
  readonly returnTo: string;
}

/** What came back with somebody, and what their browser kept. */
export interface Returned {
  readonly code: string | undefined;
  readonly state: string | undefined;
  readonly iss: string | undefined;
  readonly kept: string | undefined;
}

export class CodeFlow {
  constructor(
    private readonly provider: Provider,
    private readonly issuer: string,
    private readonly client: ClientSettings,
  ) {}

  /** Where to send somebody, and what their browser is to keep. */
  async begin(): Promise<{ readonly address: string; readonly kept: string }> {
    const { authorization } = await this.provider.published();
    const [state, nonce, verifier] = [newSecret(), newSecret(), newSecret()];
    const address = new URL(authorization);
    const asked = {
      response_type: "code",
      client_id: this.client.id,
      redirect_uri: this.client.returnTo,
      scope: this.client.scope,
      state,
      nonce,
      code_challenge: createHash("sha256").update(verifier).digest("base64url"),
      code_challenge_method: "S256",
    };
    for (const [name, value] of Object.entries(asked)) address.searchParams.set(name, value);
    return { address: address.href, kept: `${state}.${nonce}.${verifier}` };
  }

  /** Who came back; undefined where they did not sign in, or it was another browser that began. */
  async finish({ code, state, iss, kept }: Returned): Promise<Claims | undefined> {
    const [expected, nonce, verifier] = kept?.split(".") ?? [];
    if (code === undefined || state === undefined || expected === undefined) return undefined;
    if (nonce === undefined || verifier === undefined || !isSame(state, expected)) return undefined;
    // RFC 9207: a provider that says who it is must be the one that was asked.
    if (iss !== undefined && iss !== this.issuer) return undefined;
    const token = await this.#idToken(code, verifier);
    return token === undefined
      ? undefined
      : await this.provider.claimsOfIdToken(token, this.client.id, nonce);
  }

  async #idToken(code: string, verifier: string): Promise<string | undefined> {
    const { token } = await this.provider.published();
    const { id, secret, returnTo } = this.client;
    const body = new URLSearchParams({
      grant_type: "authorization_code",
      code,
      redirect_uri: returnTo,
      code_verifier: verifier,
      ...(secret === null ? { client_id: id } : {}),
    });
    const headers: Record<string, string> = secret === null ? {} : { authorization: basic(id, secret) };
    const signal = AbortSignal.timeout(PATIENCE);
    const answer = await fetch(token, { method: "POST", body, headers, signal, redirect: "error" }).catch(
      (cause: unknown) => {
        throw new ProviderUnavailable("the provider does not answer", { cause });
      },
    );
    if (!answer.ok) return undefined;
    const { id_token } = (await answer.json()) as { readonly id_token?: unknown };
    return typeof id_token === "string" ? id_token : undefined;
  }
}

/** RFC 6749, section 2.3.1: both parts are form-encoded first. */
function basic(id: string, secret: string): string {
  const encoded = (text: string) => new URLSearchParams({ x: text }).toString().slice(2);
  return `Basic ${Buffer.from(`${encoded(id)}:${encoded(secret)}`).toString("base64")}`;
}

function isSame(a: string, b: string): boolean {
  const [x, y] = [Buffer.from(a), Buffer.from(b)];
  return x.length === y.length && timingSafeEqual(x, y);
}
