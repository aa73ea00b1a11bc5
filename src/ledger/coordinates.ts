/**
 * The two coordinates of every answer: what was known (a sequence of the chain) and up to when it is
 * computed. Neither lies in the future.
 */

import { CALCULATION } from "../infusion/calculation.js";
import { ask, type Chain, type Inquiry, type Row } from "../store/store.js";
import { earliest, type Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { idOf } from "./append.js";
import type { Asked } from "./ledger.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { Known } from "./replay.js";
import { type StayFacts, stayFacts } from "./stay.js";

/** What is known, and up to when it is computed. */
export interface Moment {
  readonly known: Known;
  readonly until: Instant;
  readonly facts: StayFacts;
}

export interface Coordinates extends Moment {
  readonly asOf: { readonly sequence: number; readonly recordedAt: Instant; readonly digest: string };
}

/** What a caller's `asOf` and `until` come to for an encounter. */
export function* coordinates(chain: Chain, asked: Asked, now: Instant): Inquiry<Outcome<Coordinates>> {
  const head = yield* ask({ ask: "head", chain });
  if (head.sequence === 0) return refused({ problem: "not-found", what: "encounter", id: idOf(chain) });
  const asOf = asked.asOf;
  if (asked.until !== undefined && asked.until > now) return future("until");
  let known: { sequence: number; recordedAt: Instant; digest: string } = head;
  let until = asked.until ?? now;
  if (asOf !== undefined) {
    if ("recordedBy" in asOf && asOf.recordedBy > now) return future("asOf");
    const row =
      "sequence" in asOf ? yield* rowAt(chain, asOf.sequence) : yield* recordedBy(chain, asOf.recordedBy);
    if (row === undefined) return unknown("sequence" in asOf && asOf.sequence > head.sequence);
    known = row;
    if ("recordedBy" in asOf) until = earliest(asked.until ?? asOf.recordedBy, asOf.recordedBy);
  }
  const { sequence, recordedAt, digest } = known;
  const facts = yield* stayFacts(chain, sequence);
  if (facts === undefined) return unknown(false);
  return done({
    known: { chain, upTo: sequence, staged: [], stagedFrom: null },
    until,
    facts,
    asOf: { sequence, recordedAt, digest },
  });
}

/** The coordinates as every answer carries them, in the unit's own offset. */
export function written({ asOf, until, facts }: Coordinates) {
  const zone = facts.conventions.stretchAt(until).zone;
  return {
    asOf: {
      sequence: asOf.sequence,
      recordedAt: formatInstant(asOf.recordedAt, zone),
      digest: asOf.digest,
      calculation: CALCULATION,
    },
    until: formatInstant(until, zone),
  };
}

function* rowAt(chain: Chain, sequence: number): Inquiry<Row | undefined> {
  if (sequence < 1) return undefined;
  const [row] = yield* ask({ ask: "page", chain, after: sequence - 1, upTo: sequence, limit: 1 });
  return row;
}

function recordedBy(chain: Chain, at: Instant): Inquiry<Row | undefined> {
  return ask({ ask: "recorded-by", chain, at });
}

export function future(parameter: string) {
  const detail = `\`${parameter}\` lies in the future, of which nothing is recorded yet.`;
  return refused({ problem: "bad-parameter", errors: [{ parameter, code: "in-the-future", detail }] });
}

function unknown(beyond: boolean) {
  const detail = beyond
    ? "`asOf` lies beyond the last entry of this encounter."
    : "Nothing was recorded of this encounter by then.";
  const code = beyond ? "beyond-the-head" : "before-the-record";
  return refused({ problem: "bad-parameter", errors: [{ parameter: "asOf", code, detail }] });
}
