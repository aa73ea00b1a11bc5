/** What the ledger writes by itself for those who run it: one entry, added to the end of a chain. */

import { ask, type Chain, type Decision, type Head, type Inquiry } from "../store/store.js";
import { type Instant, latest, MINUTE } from "../time/instant.js";
import type { StoredBody } from "../wire/stored.js";
import type { Written } from "./ledger.js";
import { type Author, type Recorded, rowOf } from "./record.js";
import type { Outcome } from "./refusal.js";
import { happenedAt } from "./sense.js";

export interface Request {
  readonly author: Author;
  readonly now: Instant;
  readonly newId: () => string;
}

export type Answered = Inquiry<Decision<Outcome<Written>>>;

export interface Page {
  readonly items: readonly object[];
  readonly next?: string;
}

/** How far ahead of now something may be recorded. */
export const AHEAD = 5 * MINUTE;

/** The write that adds an entry of the ledger's own to a chain. */
export function* adding(chain: Chain, body: StoredBody, request: Request) {
  return addedTo(yield* ask({ ask: "head", chain }), chain, { body }, request);
}

/** The write that adds one after a row that is the last of its chain by then; `root` is what a void hangs on, `id` what a caller chose. */
export function addedTo(
  last: Pick<Head, "sequence" | "recordedAt" | "digest">,
  chain: Chain,
  own: Pick<Recorded, "body" | "root"> & Partial<Pick<Recorded, "id">>,
  { author, now, newId }: Request,
) {
  const recorded: Recorded = {
    chain,
    sequence: last.sequence + 1,
    id: newId(),
    recordedAt: latest(now, last.recordedAt),
    by: { id: author.id, name: author.name, role: author.role },
    source: "person",
    ...own,
    previous: last.digest,
  };
  return { write: "row" as const, row: rowOf(recorded, { at: happenedAt(own.body), declares: null }) };
}

export function nothing<T>(answer: T): Decision<T> {
  return { writes: [], answer };
}
