/**
 * What the ledger asks of a database, and nothing of how one answers. The whole interface is
 * asynchronous; what runs inside a transaction is a synchronous conversation: a generator that
 * yields what it needs to know and at last returns what is to be written. SQLite answers within one
 * tick, PostgreSQL between ticks; the conversation is the same.
 *
 * Rows of a chain are only ever added. A chain is one encounter's or one unit's ordered record.
 */

import type { Instant } from "../time/instant.js";
import type {
  Access,
  AccountRecord,
  Emergency,
  FoundSession,
  LoggedAboutAccount,
  LoggedAccess,
  SessionRecord,
  TokenRecord,
} from "./callers.js";

/** `encounter/<id>` or `unit/<id>`. */
export type Chain = `encounter/${string}` | `unit/${string}`;

/** One entry as stored. `text` is its canonical JSON and alone is hashed; the columns are read off it. */
export interface Row {
  readonly chain: Chain;
  /** 1, 2, 3, … without a gap. */
  readonly sequence: number;
  /** Unique in the chain. */
  readonly id: string;
  readonly kind: string;
  /** When it happened (for an amendment: its replacement); null where the entry has no time (a void). */
  readonly at: Instant | null;
  /** For an amendment or void: the sequence of the original entry it ends up at; else null. */
  readonly root: number | null;
  /** What key the entry declares (`line:…`, `channel:…`, `bag:…`), else null. */
  readonly declares: string | null;
  readonly recordedAt: Instant;
  readonly text: string;
  /** SHA-256 of `text` in lower-case hex; `text` itself holds the digest before it. */
  readonly digest: string;
}

/** Rows of whatever chains in the order in which they were recorded, and the place of the last of them. */
export interface RecordedSince {
  /** Where to go on from; without rows, where it was asked from. */
  readonly place: number;
  readonly rows: readonly Pick<Row, "chain" | "sequence" | "kind">[];
}

/** The last row of a chain; sequence 0 and an empty digest for a chain without rows. */
export interface Head {
  readonly sequence: number;
  readonly recordedAt: Instant;
  readonly digest: string;
  /** What the ledger left here after its last append to the chain, if still in memory. */
  readonly memory: unknown;
}

/** The state of a whole encounter at an instant, as of a sequence; made anew at will. */
export interface Checkpoint {
  readonly chain: Chain;
  readonly at: Instant;
  /** The checkpoint holds as of every sequence from `validFrom` up to, but not including, `validTo`. */
  readonly validFrom: number;
  readonly validTo: number | null;
  readonly text: string;
}

/** One encounter in the directory; the patient's identity stands here and nowhere else. */
export interface Stay {
  readonly encounter: string;
  readonly unit: string;
  readonly bed: string | null;
  readonly patientIdentifier: string;
  readonly patientName: string | null;
  /** What the digest of the patient in the admission is made with; null of a stay whose admission has none. */
  readonly patientSalt: string | null;
  readonly admittedAt: Instant;
  readonly dischargedAt: Instant | null;
}

/** A stay of a list of some units' stays. */
export interface ListedStay extends Stay {
  /** When it left the last of the units asked for; null while it is in one of them. */
  readonly leftAt: Instant | null;
}

/** When a stay left a unit that it is not in now. */
export interface Departure {
  readonly unit: string;
  readonly leftAt: Instant;
}

/** The remembered answer to a request that carried an Idempotency-Key. */
export interface KeptAnswer {
  /** Who sent it and to which route: keys of different callers never meet. */
  readonly scope: string;
  readonly key: string;
  /** SHA-256 of the canonical request body. */
  readonly fingerprint: string;
  readonly status: number;
  readonly body: string;
  readonly headers: string;
  readonly recordedAt: Instant;
}

/** The kinds of rows that say where a patient is and what holds there; the only ones asked for by kind. */
export type StayKind = "admitted" | "moved" | "discharged" | "settings-changed";

/** What people do about the figures, also asked for by kind. */
export type ActKind = "finding-acknowledged" | "shift-signed" | "chart-posted";

/** What is put in to irrigate, of which little is charted, and what comes back may come long after. */
export type InstilledKind = "irrigant-instilled";

/**
 * A question to the database. Row questions always answer with whole families: every row found, the
 * original it hangs on and all corrections of it, in order of sequence.
 */
export type Ask =
  | { readonly ask: "head"; readonly chain: Chain }
  | { readonly ask: "ids"; readonly chain: Chain; readonly ids: readonly string[] }
  | { readonly ask: "declares"; readonly chain: Chain; readonly keys: readonly string[] }
  /** Rows with `from <= at < to` and `sequence <= upTo`, with their families (also cut at `upTo`). */
  | {
      readonly ask: "span";
      readonly chain: Chain;
      readonly from: Instant;
      readonly to: Instant;
      readonly upTo: number;
    }
  /** Rows of the given kinds of a stay with `sequence <= upTo`, with their families. */
  | {
      readonly ask: "kinds";
      readonly chain: Chain;
      readonly kinds: readonly (StayKind | ActKind | InstilledKind)[];
      readonly upTo: number;
    }
  /** The families of which something was corrected, with `sequence <= upTo`. */
  | { readonly ask: "corrected"; readonly chain: Chain; readonly upTo: number }
  /** Rows in order of sequence, `after < sequence <= upTo`, at most `limit`; without families. */
  | {
      readonly ask: "page";
      readonly chain: Chain;
      readonly after: number;
      readonly upTo: number;
      readonly limit: number;
    }
  /** Families of device segments that ended after an instant, of the first `limit` by that time. */
  | {
      readonly ask: "segments";
      readonly chain: Chain;
      readonly after: Instant;
      readonly upTo: number;
      readonly limit: number;
    }
  /** Signatures over spans that end within `after < at <= before`, in order of that end. */
  | {
      readonly ask: "signatures";
      readonly chain: Chain;
      readonly after: Instant;
      readonly before: Instant;
      readonly upTo: number;
    }
  /** What was recorded after a place in the order of all recording, in that order; null for the present place. */
  | { readonly ask: "recorded-since"; readonly place: number | null; readonly limit: number }
  /** The last row with `recordedAt <= at` (without its family). */
  | { readonly ask: "recorded-by"; readonly chain: Chain; readonly at: Instant }
  /** The latest checkpoint with `at <= before` that holds as of `sequence`. */
  | {
      readonly ask: "checkpoint";
      readonly chain: Chain;
      readonly before: Instant;
      readonly sequence: number;
    }
  /** The first checkpoints with `at > after` that hold as of now (`validTo` null), in order of `at`. */
  | {
      readonly ask: "checkpoints-after";
      readonly chain: Chain;
      readonly after: Instant;
      readonly limit: number;
    }
  | { readonly ask: "stay"; readonly encounter: string }
  /**
   * Encounters of some units (all, when null) in order of id, after an id; with `leftAfter` also those that left one
   * of the units after that, and are in none of them now.
   */
  | {
      readonly ask: "stays";
      readonly units: readonly string[] | null;
      readonly open: boolean | null;
      readonly leftAfter?: Instant;
      readonly after: string | null;
      readonly limit: number;
    }
  /**
   * The stays that may have been in a unit after an instant, in no particular order: as the directory has it now,
   * or as it had it when no more was recorded than by `recordedBy`, if given. Some may not have been.
   */
  | {
      readonly ask: "stays-since";
      readonly unit: string;
      readonly after: Instant;
      readonly recordedBy: Instant | null;
    }
  | { readonly ask: "units"; readonly after: string | null; readonly limit: number }
  | { readonly ask: "kept-answer"; readonly scope: string; readonly key: string }
  /** The emergency access of a caller to an encounter that holds at an instant, the last granted. */
  | {
      readonly ask: "emergency";
      readonly encounter: string;
      readonly caller: string;
      readonly at: Instant;
    }
  /** Who read and wrote of an encounter, the last first: `limit` of those before a place. */
  | {
      readonly ask: "accesses";
      readonly encounter: string;
      readonly before: number;
      readonly limit: number;
    }
  /** Who read lists and audits of a unit, or added to them, the last first: `limit` of those before a place. */
  | { readonly ask: "unit-accesses"; readonly unit: string; readonly before: number; readonly limit: number }
  /** Sign-ins and what was done to accounts, the last first: `limit` of those before a place. */
  | { readonly ask: "account-accesses"; readonly before: number; readonly limit: number };

/** Something to write. There is no write that changes or removes a row of a chain. */
export type Write =
  | { readonly write: "row"; readonly row: Row }
  | { readonly write: "memory"; readonly chain: Chain; readonly memory: unknown }
  | { readonly write: "checkpoint"; readonly checkpoint: Checkpoint }
  /** Every checkpoint of the chain with `at > after` that still holds stops holding at `validTo`. */
  | {
      readonly write: "end-checkpoints";
      readonly chain: Chain;
      readonly after: Instant;
      readonly before: Instant | null;
      readonly validTo: number;
    }
  /** Adds an encounter to the directory, or replaces what it says of it. */
  | { readonly write: "stay"; readonly stay: Stay }
  /** Says anew which units an encounter has left, and when. */
  | { readonly write: "departures"; readonly encounter: string; readonly departures: readonly Departure[] }
  /** Adds a unit id to the list of units. */
  | { readonly write: "unit"; readonly unit: string }
  /** Keeps an answer; of those recorded before `forgetBefore` some are forgotten. */
  | { readonly write: "kept-answer"; readonly answer: KeptAnswer; readonly forgetBefore: Instant }
  /** Adds to the log of accesses, or to the reasons of emergency access; neither is ever changed. */
  | { readonly write: "access"; readonly access: Access }
  | { readonly write: "emergency"; readonly emergency: Emergency };

/** What the asks answer with; `answered` below gives each its type. */
export interface Answers {
  head: Head;
  ids: readonly Row[];
  declares: readonly Row[];
  span: readonly Row[];
  kinds: readonly Row[];
  corrected: readonly Row[];
  segments: readonly Row[];
  signatures: readonly Row[];
  page: readonly Row[];
  "recorded-since": RecordedSince;
  "recorded-by": Row | undefined;
  checkpoint: Checkpoint | undefined;
  "checkpoints-after": readonly Checkpoint[];
  stay: Stay | undefined;
  stays: readonly ListedStay[];
  "stays-since": readonly Stay[];
  units: readonly string[];
  "kept-answer": KeptAnswer | undefined;
  emergency: Emergency | undefined;
  accesses: readonly LoggedAccess[];
  "unit-accesses": readonly LoggedAccess[];
  "account-accesses": readonly LoggedAboutAccount[];
}

/** A synchronous conversation with the database that ends in a `T`. */
export type Inquiry<T> = Generator<Ask, T, unknown>;

/** Asks one question within an inquiry: `const head = yield* ask({ ask: "head", chain })`. */
export function* ask<A extends Ask>(question: A): Generator<Ask, Answers[A["ask"]], unknown> {
  return (yield question) as Answers[A["ask"]];
}

/** The end of an inquiry that writes: all of it durably, or nothing of it. */
export interface Decision<T> {
  readonly writes: readonly Write[];
  readonly answer: T;
}

/** The commit failed, or the database is not to be had: nothing was written; the caller may retry. */
export class StoreUnavailable extends Error {
  override readonly name = "StoreUnavailable";
}

/** The accounts of people. */
export interface AccountStore {
  /** Rejects with the constraint's error when the id or the username is taken. */
  add(account: AccountRecord): Promise<void>;
  byUsername(username: string): Promise<AccountRecord | undefined>;
  byId(id: string): Promise<AccountRecord | undefined>;
  /** In order of username, after one. */
  page(after: string, limit: number): Promise<readonly AccountRecord[]>;
  /** Replaces everything of an account but its id, its username and when it was made. */
  change(account: AccountRecord): Promise<void>;
}

/** Where accounts have signed in from: hashes of browsers' secrets and of addresses. */
export interface PlaceStore {
  /** Of some hashes, those that an account has signed in from. */
  known(account: string, hashes: readonly string[]): Promise<readonly string[]>;
  /** Whether any account has signed in from there. */
  isAnybodys(hash: string): Promise<boolean>;
  /** That an account signed in from there at an instant; what nobody has used since `forgetBefore` is forgotten. */
  used(account: string, hashes: readonly string[], at: Instant, forgetBefore: Instant): Promise<void>;
}

/** What stands for an account that has signed in. */
export interface SessionStore {
  add(session: SessionRecord): Promise<void>;
  byHash(hash: string): Promise<FoundSession | undefined>;
  used(hash: string, at: Instant): Promise<void>;
  end(hash: string): Promise<void>;
  endOf(account: string): Promise<void>;
  /** Forgets the sessions that nobody has used since an instant. */
  endUnused(since: Instant): Promise<void>;
}

export interface Store {
  /** Answers an inquiry from one consistent snapshot; nothing is written. */
  read<T>(inquire: () => Inquiry<T>): Promise<T>;
  /**
   * Runs an inquiry inside a transaction and writes its decision durably before it resolves. Inquiries
   * that wait at the same time share one transaction; each sees what those before it decided. Rejects
   * with what the inquiry threw (the others go on), or with StoreUnavailable when the commit failed.
   */
  transact<T>(decide: () => Inquiry<Decision<T>>): Promise<T>;
  /** Every row of every chain in order of chain and sequence, for verification. */
  everyRow(): Iterable<Row>;
  /** Reads every row, in that order, and the whole directory of stays, as both are at one moment. */
  whole<T>(look: (rows: Iterable<Row>, stays: readonly Stay[]) => T): T;
  /**
   * The unit an encounter is in now; undefined where there is no such encounter. It is asked before every
   * request, so it is a single look-up, without what begins and ends a `read`.
   */
  unitOf(encounter: string): Promise<string | undefined>;
  createToken(token: TokenRecord): Promise<void>;
  tokenByHash(hash: string): Promise<TokenRecord | undefined>;
  tokens(): Promise<readonly TokenRecord[]>;
  /** Lets a token in no more; false where there is none of this id, or it was revoked before. */
  revokeToken(id: string, at: Instant): Promise<boolean>;
  readonly accounts: AccountStore;
  readonly sessions: SessionStore;
  readonly places: PlaceStore;
  /** A consistent copy of the whole database in a new file at `path`. */
  backup(path: string): Promise<void>;
  /** Finishes what was accepted, then closes. */
  close(): Promise<void>;
}
