/**
 * What is kept of callers and of what they did: tokens and accounts, of whose secrets only hashes are
 * here; sessions; and the two lists that only grow, accesses and emergency accesses.
 */

import type { Instant } from "../time/instant.js";

/** A named caller: a program or person with a bearer token, of which only the hash is kept. */
export interface TokenRecord {
  readonly id: string;
  readonly hash: string;
  readonly role: string;
  readonly name: string;
  /** The only units it may act on; null for every unit. */
  readonly units: readonly string[] | null;
  readonly createdAt: Instant;
  /** From when on it lets nobody in; null for never. */
  readonly expiresAt: Instant | null;
  readonly revokedAt: Instant | null;
}

/** A person who signs in with a name and a password. */
export interface AccountRecord {
  readonly id: string;
  /** In lower case, as it is compared. */
  readonly username: string;
  readonly name: string;
  readonly role: string;
  readonly units: readonly string[] | null;
  /** The password's hash with its salt and cost. */
  readonly password: string;
  readonly active: boolean;
  readonly createdAt: Instant;
}

export interface SessionRecord {
  readonly hash: string;
  readonly account: string;
  readonly createdAt: Instant;
  readonly usedAt: Instant;
}

/** A session, and the account as it is now. */
export interface FoundSession extends SessionRecord {
  readonly of: AccountRecord;
}

/** Who did something, as they were then. */
export interface Did {
  readonly caller: string;
  readonly name: string;
  readonly role: string;
}

/** That somebody stated a reason to reach an encounter outside of their units. */
export interface Emergency extends Did {
  readonly id: string;
  readonly encounter: string;
  readonly reason: string;
  readonly grantedAt: Instant;
  readonly endsAt: Instant;
}

/** That somebody asked for something, and how it ended; nothing of what was asked or answered. */
export interface Access extends Did {
  readonly at: Instant;
  /** Null for what concerns no single encounter, such as a list of them. */
  readonly encounter: string | null;
  /** Such as `GET /v1/encounters/{encounter}/volumes`. */
  readonly route: string;
  readonly status: number;
  /** The emergency access by which the encounter was reached. */
  readonly emergency: string | null;
  /** Of what is about several patients at once: of which units they were; null for every unit. */
  readonly units?: readonly string[] | null | undefined;
  /** Of a sign-in, and of what is done to an account. */
  readonly about?: AboutAccount | undefined;
}

/** What is kept beside an access that is about an account. */
export interface AboutAccount {
  /** The account's id; null where somebody tried a name that nobody has. */
  readonly account: string | null;
  /** Where it came from. */
  readonly address: string;
  /** What of the account is another now, and what it was. */
  readonly change: readonly ChangeOfAccount[];
}

/** A field of an account that changed; of a password only that it did. */
export interface ChangeOfAccount {
  readonly of: "name" | "role" | "units" | "active" | "password";
  readonly was?: string | boolean | readonly string[] | null;
  readonly is?: string | boolean | readonly string[] | null;
}

/** An access about an account, as it is read back. */
export interface LoggedAboutAccount extends Access {
  readonly place: number;
  readonly about: AboutAccount;
}

export interface LoggedAccess extends Access {
  readonly place: number;
  /** The reason of its emergency access. */
  readonly reason: string | null;
}
