/**
 * The Idempotency-Key of a POST: a retry with the same key gets the same answer, to the letter, and
 * records nothing again. Keys of different callers, and of different addresses, never meet.
 */

import type { IdempotencyKey } from "../ledger/ledger.js";
import { canonical, digestOf } from "../ledger/record.js";
import { done, type Outcome } from "../ledger/refusal.js";
import { badHeader } from "./conditions.js";
import type { Asked } from "./route.js";

/** A string of RFC 8941, section 3.3.3, or the same characters without its quotes; at most 255 of them. */
const QUOTED = /^"((?:[\x20\x21\x23-\x5b\x5d-\x7e]|\\["\\])*)"$/;
const BARE = /^[\x21\x23-\x5b\x5d-\x7e]+$/;
const LONGEST = 255;

/** The key of a request; null where it has none. */
export function idempotencyKey({
  headers,
  caller,
  sent,
  route,
  ids,
}: Omit<Asked<unknown, unknown>, "query">): Outcome<IdempotencyKey | null> {
  const header = headers["idempotency-key"];
  if (header === undefined) return done(null);
  const key = typeof header === "string" ? keyIn(header) : undefined;
  if (key === undefined) {
    return badHeader(
      "Idempotency-Key",
      `must be 1 to ${LONGEST} printable ASCII characters, in quotes or bare.`,
    );
  }
  const scope = [caller.id, route, ...Object.values(ids)].join(" ");
  const fingerprint = digestOf(canonical(sent));
  return done({ scope, key, fingerprint });
}

function keyIn(header: string): string | undefined {
  const quoted = QUOTED.exec(header)?.[1]?.replace(/\\(["\\])/g, "$1");
  const key = quoted ?? (BARE.test(header) ? header : undefined);
  return key === undefined || key.length === 0 || key.length > LONGEST ? undefined : key;
}
