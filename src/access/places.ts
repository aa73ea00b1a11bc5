/**
 * Where somebody signs in from: the browser, by a cookie that a good sign-in left there, and the address. Guesses from
 * where an account has signed in before are counted apart from all others, so that whoever guesses from elsewhere keeps
 * nobody out of their own account. (The idea of device cookies: OWASP, "Slow Down Online Guessing Attacks with Device
 * Cookies".)
 */

import type { AccountRecord } from "../store/callers.js";
import type { PlaceStore } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { type Instant, later } from "../time/instant.js";
import { hashOf, newSecret } from "./token.js";

/** How long a place is known after it was last signed in from, in milliseconds. */
export const KNOWN_FOR = 90 * DAY;

export interface From {
  /** Where the request came from. */
  readonly address: string;
  /** The secret in the browser's cookie. */
  readonly browser: string | undefined;
}

export class Places {
  constructor(private readonly store: PlaceStore) {}

  /** The surest place that an account is known from; undefined where it is known from none of them. */
  async of(account: AccountRecord | undefined, from: From): Promise<string | undefined> {
    const hashes = [...browserIn(from), addressIn(from)];
    const known = await this.store.known(account?.id ?? "", hashes);
    return account && hashes.find((hash) => known.includes(hash));
  }

  /**
   * An account has signed in: it is known from there from now on. Returns the secret for the browser to keep: the one
   * it has, if somebody has signed in with it before, since a workstation has several people; else a new one.
   */
  async learn(account: AccountRecord, from: From, now: Instant): Promise<string> {
    const [hash] = browserIn(from);
    const had = hash !== undefined && (await this.store.isAnybodys(hash));
    const secret = had ? from.browser! : newSecret();
    await this.store.used(account.id, [hashOf(secret), addressIn(from)], now, later(now, -KNOWN_FOR));
    return secret;
  }
}

function browserIn({ browser }: From): string[] {
  return browser === undefined ? [] : [hashOf(browser)];
}

function addressIn({ address }: From): string {
  return hashOf(`address ${address}`);
}
