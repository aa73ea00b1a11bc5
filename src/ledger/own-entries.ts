/** What the ledger writes by itself for those who run it: one entry, added to the end of a chain. */

import { ask, type Chain, type Decision, type Inquiry } from "../store/store.js";
import { type Instant, MINUTE } from "../time/instant.js";
import type { LedgerText } from "../wire/stored.js";
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
export function* adding(chain: Chain, body: LedgerText, { author, now, newId }: Request) {
  const head = yield* ask({ ask: "head", chain });
  const recorded: Recorded = {
    chain,
    sequence: head.sequence + 1,
    id: newId(),
    recordedAt: (now > head.recordedAt ? now : head.recordedAt) as Instant,
    by: { id: author.id, name: author.name, role: author.role },
    source: "person",
    body,
    previous: head.digest,
  };
  return { write: "row" as const, row: rowOf(recorded, { at: happenedAt(body), declares: null }) };
}

export function nothing<T>(answer: T): Decision<T> {
  return { writes: [], answer };
}
