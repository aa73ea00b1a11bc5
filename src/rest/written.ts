/** Answers that the ledger has written before it recorded anything: they are sent as they are. */

import type { Written } from "../ledger/ledger.js";
import { done, type Outcome } from "../ledger/refusal.js";
import { sequenceTag } from "./conditions.js";
import type { Answered } from "./route.js";

/** Sends what was written; `collection` is where the thing that was made is found, by its id. */
export function sent(outcome: Outcome<Written>, collection?: `/v1/${string}`): Outcome<Answered> {
  if (outcome.refused) return outcome;
  const { status, body, sequence, id } = outcome.done;
  const headers = {
    ...(sequence === null ? {} : { etag: sequenceTag(sequence) }),
    ...(collection === undefined || id === null ? {} : { location: `${collection}/${id}` }),
  };
  const encounter = collection === "/v1/encounters" ? (id ?? undefined) : undefined;
  return done({ status: status === 201 ? 201 : 200, body, headers, encounter });
}
