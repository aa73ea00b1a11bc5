/**
 * Bearer tokens. The secret is shown once, to whoever makes it; the ledger keeps its hash alone, so
 * that neither the database nor a backup of it lets anybody in. A secret of 256 random bits needs no
 * slow hash: there is nothing to guess.
 */

import { hash, randomBytes } from "node:crypto";

/** Tells a token of ours from other texts, for people and for programs that look for leaked ones. */
const PREFIX = "infledger_";
const RANDOM_BYTES = 32;

export interface NewToken {
  /** What the caller sends after `Authorization: Bearer`. */
  readonly secret: string;
  readonly hash: string;
}

/** A token that was never there before. */
export function newToken(): NewToken {
  const secret = PREFIX + newSecret();
  return { secret, hash: hashOf(secret) };
}

/** 256 random bits as text. */
export function newSecret(): string {
  return randomBytes(RANDOM_BYTES).toString("base64url");
}

/** What the ledger keeps of a token: SHA-256 of the whole secret in lower-case hex. */
export function hashOf(secret: string): string {
  return hash("sha256", secret);
}
