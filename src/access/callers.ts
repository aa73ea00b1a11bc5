/**
 * From what a request carries to the caller it stands for: a bearer token of the ledger's own, an access
 * token of an identity provider, or the cookie of a session. A secret is looked up by its hash, so nothing
 * is ever compared with it character by character. What a token stood for is remembered for a few seconds,
 * so that a busy caller does not cost a question each time; what was not found never is.
 */

import type { Caller, Clock } from "../ledger/ledger.js";
import type { TokenRecord } from "../store/callers.js";
import type { Store } from "../store/store.js";
import { type ClaimRules, callerOfClaims } from "./claims.js";
import type { Provider } from "./provider.js";
import type { Session, Sessions } from "./sessions.js";
import { hashOf } from "./token.js";

/** For how long a token that has been taken away may still be let in, in milliseconds. */
const REMEMBERED_FOR = 5_000;
const MOST_REMEMBERED = 10_000;

/** The credentials of RFC 6750, section 2.1; the scheme is of any case (RFC 9110, section 11.1). */
const BEARER = /^bearer +([A-Za-z0-9._~+/-]{1,8000}=*)$/i;
/** Three parts of base64url (RFC 7515, section 3.1); a token of our own has no dot. */
const JSON_WEB_TOKEN = /^[\w-]+\.[\w-]+\.[\w-]*$/;
const LONGEST_OWN = 200;

/** What of a request says who sent it. */
export interface Sent {
  readonly authorization: string | undefined;
  /** The secret in the session's cookie. */
  readonly cookie: string | undefined;
  /** Whether a person has asked, and not a page by itself. */
  readonly attended: boolean;
}

/** A caller that has been let in, and the session they came with; null for a token. */
export interface LetIn {
  readonly caller: Caller;
  readonly session: Session | null;
}

/** Where callers are known from; without a provider there are no access tokens. */
export interface KnownFrom {
  readonly store: Pick<Store, "tokenByHash" | "accounts">;
  readonly sessions: Pick<Sessions, "of">;
  readonly provider?: { readonly tokens: Provider; readonly rules: ClaimRules } | undefined;
}

interface Remembered {
  readonly caller: Caller;
  readonly until: number;
}

export class Callers {
  readonly #remembered = new Map<string, Remembered>();

  constructor(
    private readonly from: KnownFrom,
    private readonly clock: Clock,
  ) {}

  /** Whoever sent this; undefined for nobody. Rejects as the store does, or the provider. */
  async of({ authorization, cookie, attended }: Sent): Promise<LetIn | undefined> {
    if (authorization === undefined) {
      const session = cookie === undefined ? undefined : await this.from.sessions.of(cookie, attended);
      return session && { caller: session.caller, session };
    }
    const caller = await this.#ofToken(authorization);
    return caller && { caller, session: null };
  }

  async #ofToken(authorization: string): Promise<Caller | undefined> {
    const secret = BEARER.exec(authorization)?.[1];
    if (secret === undefined) return undefined;
    const hash = hashOf(secret);
    const now = this.clock();
    const remembered = this.#remembered.get(hash);
    if (remembered !== undefined && now < remembered.until) return remembered.caller;
    this.#remembered.delete(hash);
    const found = JSON_WEB_TOKEN.test(secret) ? await this.#signed(secret) : await this.#own(secret, hash);
    if (found === undefined || found.until <= now) return undefined;
    this.#remember(hash, { ...found, until: Math.min(found.until, now + REMEMBERED_FOR) });
    return found.caller;
  }

  async #own(secret: string, hash: string): Promise<Remembered | undefined> {
    if (secret.length > LONGEST_OWN) return undefined;
    const token = await this.from.store.tokenByHash(hash);
    if (token === undefined || token.revokedAt !== null) return undefined;
    return { caller: callerOf(token), until: token.expiresAt ?? Number.POSITIVE_INFINITY };
  }

  async #signed(token: string): Promise<Remembered | undefined> {
    const { provider } = this.from;
    const claims = await provider?.tokens.claimsOf(token);
    const caller = claims && callerOfClaims(claims, provider!.rules);
    // Who was shut out here is shut out whatever the provider goes on to sign. Programs have no account.
    if (caller !== undefined && (await this.#isClosed(caller))) return undefined;
    // Remembered no longer than it is good; the clocks' difference was looked at when it was verified.
    return caller && { caller, until: Math.max(claims.exp! * 1_000, this.clock() + 1) };
  }

  async #isClosed({ id }: Caller): Promise<boolean> {
    const account = await this.from.store.accounts.byId(id);
    return account?.active === false;
  }

  /** The longest remembered goes first, which is also the one that is next to be looked up again. */
  #remember(hash: string, remembered: Remembered): void {
    const [oldest] = this.#remembered.keys();
    if (this.#remembered.size >= MOST_REMEMBERED && oldest !== undefined) this.#remembered.delete(oldest);
    this.#remembered.set(hash, remembered);
  }
}

function callerOf({ id, name, role, units }: TokenRecord): Caller {
  return { id, name, role, units, source: role === "device" ? "device" : "person" };
}
