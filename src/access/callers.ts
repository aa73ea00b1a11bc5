/**
 * From a bearer token to the caller it stands for. A token is looked up by its hash, so nothing is ever
 * compared with it character by character. What was found is remembered for a few seconds, so that
 * a busy caller does not cost a question to the database each time; what was not found never is.
 */

import type { Caller, Clock } from "../ledger/ledger.js";
import type { Store, TokenRecord } from "../store/store.js";
import { hashOf } from "./token.js";

/** For how long a token that has been taken away may still be let in, in milliseconds. */
const REMEMBERED_FOR = 5_000;
const MOST_REMEMBERED = 10_000;

/** The credentials of RFC 6750, section 2.1; the scheme is of any case (RFC 9110, section 11.1). */
const BEARER = /^bearer +([A-Za-z0-9._~+/-]{1,200}=*)$/i;

interface Remembered {
  readonly caller: Caller;
  readonly until: number;
}

export class Callers {
  readonly #remembered = new Map<string, Remembered>();

  constructor(
    private readonly store: Pick<Store, "tokenByHash">,
    private readonly clock: Clock,
  ) {}

  /** The caller of an Authorization header; undefined when it names none. Rejects as the store does. */
  async of(authorization: string | undefined): Promise<Caller | undefined> {
    const secret = BEARER.exec(authorization ?? "")?.[1];
    if (secret === undefined) return undefined;
    const hash = hashOf(secret);
    const now = this.clock();
    const remembered = this.#remembered.get(hash);
    if (remembered !== undefined && now < remembered.until) return remembered.caller;
    const token = await this.store.tokenByHash(hash);
    if (token === undefined) {
      this.#remembered.delete(hash);
      return undefined;
    }
    const caller = callerOf(token);
    this.#remember(hash, { caller, until: now + REMEMBERED_FOR });
    return caller;
  }

  /** The longest remembered goes first, which is also the one that is next to be looked up again. */
  #remember(hash: string, remembered: Remembered): void {
    this.#remembered.delete(hash);
    const [oldest] = this.#remembered.keys();
    if (this.#remembered.size >= MOST_REMEMBERED && oldest !== undefined) this.#remembered.delete(oldest);
    this.#remembered.set(hash, remembered);
  }
}

function callerOf({ id, name, role, unit }: TokenRecord): Caller {
  return { id, name, role, unit, source: role === "device" ? "device" : "person" };
}
