/**
 * An OpenID Connect provider and the access tokens it signs: JSON Web Tokens of RFC 9068, verified by the
 * keys the provider publishes. A key nobody has seen yet is looked for at the provider, so that it can
 * change its keys without a word to anybody.
 */

import { createRemoteJWKSet, errors, type JWTPayload, type JWTVerifyOptions, jwtVerify } from "jose";
import type { Clock } from "../ledger/ledger.js";

export interface ProviderSettings {
  /** As it stands in the tokens, to the letter. */
  readonly issuer: string;
  /** What the tokens must be for. */
  readonly audience: string;
  /** How long no keys are fetched after they were, in milliseconds (30 s): tokens with invented keys cost nothing more. */
  readonly cooldown?: number;
}

/** Signatures with a private key alone: `none` needs no key, and the HS family would take a published one. */
const ALGORITHMS = ["RS256", "RS384", "RS512", "PS256", "PS384", "PS512", "ES256", "ES384", "ES512", "EdDSA"];

/** RFC 9068, section 2.2. */
const CLAIMS = ["iss", "exp", "aud", "sub", "client_id", "iat", "jti"];

/** By how much clocks may differ, in seconds. */
const SKEW = 30;

/** How long to wait for the provider, and before asking again one that did not answer, in milliseconds. */
export const PATIENCE = 3_000;
const ASKED_AGAIN_AFTER = 5_000;

/** The provider does not answer, so nobody can say whether a token is good. */
export class ProviderUnavailable extends Error {
  override readonly name = "ProviderUnavailable";
}

/** What a provider tells of itself. */
interface Published {
  readonly keys: ReturnType<typeof createRemoteJWKSet>;
  /** Where people are sent to sign in, and where a code is turned into tokens. */
  readonly authorization: string;
  readonly token: string;
}

export class Provider {
  #told: Promise<Published> | undefined;
  #askedAt = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly settings: ProviderSettings,
    private readonly clock: Clock,
  ) {}

  /**
   * The claims of an access token; undefined for one that is not good. Rejects with ProviderUnavailable
   * where the provider's keys are not to be had.
   */
  claimsOf(token: string): Promise<JWTPayload | undefined> {
    const { audience } = this.settings;
    return this.#verified(token, { audience, typ: "at+jwt", requiredClaims: CLAIMS });
  }

  /** The claims of an ID token for a client (OpenID Connect Core, section 3.1.3.7), as those of an access token. */
  async claimsOfIdToken(token: string, client: string, nonce: string): Promise<JWTPayload | undefined> {
    const requiredClaims = ["iss", "sub", "aud", "exp", "iat", "nonce"];
    const claims = await this.#verified(token, { audience: client, requiredClaims });
    const ours = claims?.nonce === nonce && (claims.azp === undefined || claims.azp === client);
    return ours ? claims : undefined;
  }

  async #verified(token: string, options: JWTVerifyOptions): Promise<JWTPayload | undefined> {
    const { keys } = await this.published();
    try {
      const { payload } = await jwtVerify(token, keys, {
        ...options,
        issuer: this.settings.issuer,
        algorithms: ALGORITHMS,
        clockTolerance: SKEW,
        currentDate: new Date(this.clock()),
      });
      // jose takes a token from the future, which no honest provider signs.
      return payload.iat! > this.clock() / 1_000 + SKEW ? undefined : payload;
    } catch (error) {
      if (!isOutage(error)) return undefined;
      throw new ProviderUnavailable("the provider's keys are not to be had", { cause: error });
    }
  }

  /** What the provider tells of itself (OpenID Connect Discovery, section 4), asked once. */
  published(): Promise<Published> {
    if (this.#told !== undefined) return this.#told;
    if (this.clock() - this.#askedAt < ASKED_AGAIN_AFTER) {
      return Promise.reject(new ProviderUnavailable("the provider did not answer a moment ago"));
    }
    this.#askedAt = this.clock();
    const told = this.#discovered();
    this.#told = told;
    told.catch(() => {
      this.#told = undefined;
    });
    return told;
  }

  async #discovered(): Promise<Published> {
    const { issuer, cooldown = 30_000 } = this.settings;
    const address = `${issuer.replace(/\/$/, "")}/.well-known/openid-configuration`;
    try {
      const answer = await fetch(address, { signal: AbortSignal.timeout(PATIENCE), redirect: "error" });
      const told = (await answer.json()) as Readonly<Record<string, unknown>>;
      if (told.issuer !== issuer) throw new Error("it calls itself otherwise");
      const keys = createRemoteJWKSet(new URL(String(told.jwks_uri)), {
        cooldownDuration: cooldown,
        timeoutDuration: PATIENCE,
      });
      return { keys, authorization: String(told.authorization_endpoint), token: String(told.token_endpoint) };
    } catch (cause) {
      throw new ProviderUnavailable(`the provider ${issuer} does not answer`, { cause });
    }
  }
}

/** What says nothing about the token: the keys could not be fetched. */
function isOutage(error: unknown): boolean {
  if (!(error instanceof errors.JOSEError)) return true;
  return error instanceof errors.JWKSTimeout || error.code === "ERR_JOSE_GENERIC";
}
