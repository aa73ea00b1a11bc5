/**
 * Signing in with a name and a password, and what stands for it afterwards: a session, known by the hash of
 * a secret that the browser keeps in a cookie. It ends when it is signed out of, when nobody has used it for
 * a while (workstations are shared), and at the latest after a fixed time.
 */

import type { Caller, Clock } from "../ledger/ledger.js";
import type { AccountRecord, ChangeOfAccount } from "../store/callers.js";
import type { Store } from "../store/store.js";
import { type Instant, instant, later } from "../time/instant.js";
import { changesOf, usernameOf } from "./accounts.js";
import { COST, type Cost, hashOfPassword, isOutdated, isPassword, LONGEST } from "./password.js";
import { type From, Places } from "./places.js";
import { PEOPLES_ROLES } from "./roles.js";
import { Throttle } from "./throttle.js";
import { hashOf, newSecret } from "./token.js";

/** How long sessions last, in milliseconds. */
export interface Lasting {
  /** Without use. */
  readonly idle: number;
  /** Altogether. */
  readonly whole: number;
}

export interface Session {
  readonly caller: Caller;
  readonly hash: string;
  /** When it ends however much it is used. */
  readonly endsAt: Instant;
  /** How long it lasts without use, in milliseconds. */
  readonly idle: number;
}

/** A session that has just begun. */
export interface Begun {
  readonly session: Session;
  readonly secret: string;
}

/** One begun by a password, and what its browser is to be known by. */
export interface SignedInHere extends Begun {
  readonly browser: string;
}

/** One begun at a provider, and what that changed of the account. */
export interface SignedInThere extends Begun {
  readonly change: readonly ChangeOfAccount[];
}

export interface SignIn extends From {
  readonly username: string;
  readonly password: string;
  /** The secret of the session that the browser had before, which ends. */
  readonly before: string | undefined;
}

export type SignedIn =
  | SignedInHere
  | { readonly wait: number }
  /** Which of the name and the password was wrong is nobody's business; whose account it is, the log's alone. */
  | { readonly wrong: true; readonly account: string | null };

/** By account, whoever tries: a colleague who mistypes waits seconds, a guesser has some hundreds of guesses a day. */
const BY_ACCOUNT = { free: 5, first: 1_000, longest: 300_000 };
/** By address, whatever account: a ward's workstations may share one. */
const BY_ADDRESS = { free: 20, first: 1_000, longest: 900_000 };
/** By account and place, where it has signed in from there before. */
const BY_PLACE = BY_ACCOUNT;
/** Passwords looked at at a time: each takes memory, and a queue of them would hold everybody up. */
const MOST_AT_ONCE = 32;

/** Use is written down this often, in milliseconds; a session may end that much earlier, and never later. */
const USE_NOTED_EVERY = 30_000;

export class Sessions {
  readonly #byAccount: Throttle;
  readonly #byAddress: Throttle;
  readonly #byPlace: Throttle;
  readonly #places: Places;
  /** What an unknown name's password is compared with, so that it takes as long as a known one's. */
  readonly #nobodys: Promise<string>;
  #atOnce = 0;

  constructor(
    private readonly store: Pick<Store, "accounts" | "sessions" | "places">,
    private readonly clock: Clock,
    private readonly lasting: Lasting,
    private readonly cost: Cost = COST,
  ) {
    this.#nobodys = hashOfPassword("nobody has this password", cost);
    this.#byAccount = new Throttle(BY_ACCOUNT, clock);
    this.#byAddress = new Throttle(BY_ADDRESS, clock);
    this.#byPlace = new Throttle(BY_PLACE, clock);
    this.#places = new Places(store.places);
  }

  async signIn({ username: typed, password, before, ...from }: SignIn): Promise<SignedIn> {
    const username = usernameOf(typed);
    const named = await this.store.accounts.byUsername(username);
    const attempt = await this.#attempt(named, username, from);
    const wait = attempt.wait();
    if (wait > 0) return { wait };
    if (this.#atOnce >= MOST_AT_ONCE) return { wait: 1 };
    attempt.begin();
    const account = await this.#checked(named, password);
    if (account === undefined) return { wrong: true, account: named?.id ?? null };
    attempt.succeeded();
    const browser = await this.#places.learn(account, from, instant(this.clock()));
    if (before !== undefined) await this.signOut(hashOf(before));
    return { ...(await this.#begun(account)), browser };
  }

  /** What an attempt counts against: where the account is known from, that alone. */
  async #attempt(named: AccountRecord | undefined, username: string, from: From) {
    const place = await this.#places.of(named, from);
    if (place !== undefined) {
      const key = `${named!.id} ${place}`;
      return {
        wait: () => this.#byPlace.waitFor(key),
        begin: () => this.#byPlace.begin(key),
        succeeded: () => this.#byPlace.clear(key),
      };
    }
    const { address } = from;
    return {
      wait: () => Math.max(this.#byAccount.waitFor(username), this.#byAddress.waitFor(address)),
      begin: () => {
        this.#byAccount.begin(username);
        this.#byAddress.begin(address);
      },
      succeeded: () => {
        this.#byAccount.clear(username);
        this.#byAddress.takeBack(address);
      },
    };
  }

  /**
   * Begins a session for somebody whom an identity provider knows, with the role and units it has just said.
   * Undefined for programs, and for whoever's account was closed here.
   */
  async signInKnown(caller: Caller, before: string | undefined): Promise<SignedInThere | undefined> {
    if (!PEOPLES_ROLES.some((role) => role === caller.role)) return undefined;
    const { id, name, role, units } = caller;
    const found = await this.store.accounts.byId(id);
    if (found?.active === false) return undefined;
    // Nobody's password: of such an account none is ever right.
    const known = { id, username: id, name, role, units, active: true, password: found?.password ?? "" };
    const account = { ...known, createdAt: found?.createdAt ?? instant(this.clock()) };
    await (found === undefined ? this.store.accounts.add(account) : this.store.accounts.change(account));
    if (before !== undefined) await this.signOut(hashOf(before));
    return { ...(await this.#begun(account)), change: changesOf(found, account) };
  }

  /** The session of a cookie's secret; undefined where it has ended or never was. `used` says that a person is there. */
  async of(secret: string, used: boolean): Promise<Session | undefined> {
    const hash = hashOf(secret);
    const found = await this.store.sessions.byHash(hash);
    if (found === undefined) return undefined;
    const now = instant(this.clock());
    const endsAt = later(found.createdAt, this.lasting.whole);
    if (!found.of.active || now >= endsAt || now >= later(found.usedAt, this.lasting.idle)) {
      await this.signOut(hash);
      return undefined;
    }
    if (used && now >= later(found.usedAt, Math.min(USE_NOTED_EVERY, this.lasting.idle / 10))) {
      await this.store.sessions.used(hash, now);
    }
    return { caller: callerOf(found.of), hash, endsAt, idle: this.lasting.idle };
  }

  signOut(hash: string): Promise<void> {
    return this.store.sessions.end(hash);
  }

  /** The account that was named, if there is one, it is open and this is its password. */
  async #checked(account: AccountRecord | undefined, password: string): Promise<AccountRecord | undefined> {
    this.#atOnce++;
    try {
      const kept = account?.password || (await this.#nobodys);
      const right = await isPassword(password.slice(0, LONGEST + 1), kept);
      if (!right || account?.active !== true) return undefined;
      if (!isOutdated(kept, this.cost)) return account;
      const renewed = { ...account, password: await hashOfPassword(password, this.cost) };
      await this.store.accounts.change(renewed);
      return renewed;
    } finally {
      this.#atOnce--;
    }
  }

  /** A new secret at each sign-in: one that somebody put into the browser before is worth nothing. */
  async #begun(account: AccountRecord): Promise<Begun> {
    const now = instant(this.clock());
    const secret = newSecret();
    const hash = hashOf(secret);
    await this.store.sessions.endUnused(later(now, -this.lasting.idle));
    await this.store.sessions.add({ hash, account: account.id, createdAt: now, usedAt: now });
    const endsAt = later(now, this.lasting.whole);
    return { session: { caller: callerOf(account), hash, endsAt, idle: this.lasting.idle }, secret };
  }
}

function callerOf({ id, name, role, units }: AccountRecord): Caller {
  return { id, name, role, units, source: "person" };
}
