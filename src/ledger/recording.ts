/**
 * The answer to a request that records entries, written before it is committed: a retry with the same
 * Idempotency-Key gets it again to the letter, and an acknowledged entry never answers with a fault.
 */

import { eventsCollected } from "../infusion/event.js";
import type { Decision, Inquiry, Row, Write } from "../store/store.js";
import { ask } from "../store/store.js";
import { HOUR, type Instant, later } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { type Appended, type AppendRequest, append } from "./append.js";
import { bedsideAt } from "./bedside.js";
import { othersTime } from "./charting.js";
import { effectsOf } from "./effects.js";
import { entryText } from "./entries.js";
import { statesOf } from "./families.js";
import { raisedBy } from "./findings.js";
import type { IdempotencyKey, Written } from "./ledger.js";
import { linkedAmong, linkedBy } from "./linked.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { Known } from "./replay.js";

export interface RecordRequest extends AppendRequest {
  readonly dryRun: boolean;
  /** Whether the caller may be told of the patient. */
  readonly reads: boolean;
  readonly key: IdempotencyKey | null;
  /** The only units whose time the caller may chart; null for every unit. */
  readonly units: readonly string[] | null;
}

type Answered = Inquiry<Decision<Outcome<Written>>>;

export function* record(request: RecordRequest): Answered {
  const other = yield* othersTime(request);
  if (other !== undefined) return { writes: [], answer: refused(other) };
  // What was only rehearsed is not done: its key still stands for the request itself.
  return yield* once(request.dryRun ? null : request.key, request.now, recordNow(request));
}

function* recordNow(request: RecordRequest): Answered {
  const decision = yield* append(request);
  if (decision.answer.refused) return { writes: [], answer: decision.answer };
  const appended = decision.answer.done;
  if (!request.reads) return yield* taken(request, appended, decision.writes);
  if (request.dryRun) {
    const body = yield* rehearsed(request, appended);
    return {
      writes: [],
      answer: done(writtenAnswer(200, body, appended.head.sequence - appended.added.length)),
    };
  }
  const { sequence, digest } = appended.head;
  const findings = yield* raisedBy(appended, request.now, request.chain as `encounter/${string}`);
  const body = { ledger: { sequence, digest }, ...(yield* recorded(request, appended)), findings };
  const status = appended.added.length > 0 ? 201 : 200;
  return { writes: decision.writes, answer: done(writtenAnswer(status, body, sequence)) };
}

/** Where the entries of a request stand, or would: what is told to who may not read. */
function* taken({ chain, dryRun }: RecordRequest, appended: Appended, writes: readonly Write[]): Answered {
  const { head, rows, added, facts } = appended;
  const { stretchAt } = facts.conventions;
  const { sequence, digest } = dryRun ? yield* ask({ ask: "head", chain }) : head;
  const entries = rows.map(({ id, sequence, digest, recordedAt }) => {
    const at = formatInstant(recordedAt, stretchAt(recordedAt).zone);
    return { id, recorded: { sequence, at, digest } };
  });
  const status = !dryRun && added.length > 0 ? 201 : 200;
  const answer = writtenAnswer(status, { ledger: { sequence, digest }, entries }, sequence);
  return { writes: dryRun ? [] : writes, answer: done(answer) };
}

function writtenAnswer(status: number, body: object, sequence: number): Written {
  return { status, body: JSON.stringify(body), sequence, id: null };
}

/** Entries in the order of the request, as GET shows them. */
function* recorded({ chain }: RecordRequest, appended: Appended): Inquiry<object> {
  const { rows, added, staged, facts, sides } = appended;
  const families = known(staged, rows);
  const states = statesOf(families);
  const { settingsAt, stretchAt } = facts.conventions;
  const upTo = appended.head.sequence - added.length;
  const then: Known = { chain, upTo, staged, stagedFrom: appended.changedFrom };
  // The course around what is new has just been worked out; around what was there before it has not.
  const justNow = sides !== null && rows.length === added.length;
  const linked = justNow
    ? linkedBy(eventsCollected(sides.after.events).notes)
    : yield* linkedAmong(then, settingsAt, families);
  const text = (row: Row) =>
    entryText(row, states.get(row.sequence) ?? "current", stretchAt(row.recordedAt).zone, linked);
  return { entries: rows.map(text) };
}

function known(staged: readonly Row[], rows: readonly Row[]): Row[] {
  return [...new Map([...rows, ...staged].map((row) => [row.sequence, row])).values()];
}

/** What recording would do, without doing it: the entries, findings, figures that move, and totals then. */
function* rehearsed(request: RecordRequest, appended: Appended): Inquiry<object> {
  const { chain, now } = request;
  const { facts, staged, added, changedFrom, head } = appended;
  const sequence = head.sequence - added.length;
  const present = yield* ask({ ask: "head", chain });
  const before: Known = { chain, upTo: sequence, staged: [], stagedFrom: null };
  const after: Known = { ...before, staged, stagedFrom: changedFrom };
  const asOf = { sequence, recordedAt: present.recordedAt, digest: present.digest };
  const at = (what: Known) => ({ known: what, until: now, facts, asOf });
  return {
    ledger: { sequence, digest: present.digest },
    ...(yield* recorded(request, appended)),
    findings: yield* raisedBy(appended, now, chain as `encounter/${string}`),
    effects: yield* effectsOf(at(before), at(after), appended),
    totals: (yield* bedsideAt(at(after), now)).channels,
  };
}

/** How long an answer is kept for a retry, at the least. */
const KEPT_FOR = 48 * HOUR;

/** What of an answer is kept, and how it is made whole again. */
export interface Keeping {
  readonly kept: (body: string) => string;
  readonly whole: (body: string) => Inquiry<string>;
}

/** All of it is. */
const AS_IT_IS: Keeping = {
  kept: (body) => body,
  // biome-ignore lint/correctness/useYield: there is nothing to ask
  whole: function* (body) {
    return body;
  },
};

/** Runs a request once per Idempotency-Key: a retry gets the kept answer, another body is refused. */
export function* once(
  key: IdempotencyKey | null,
  now: Instant,
  request: Answered,
  keeping: Keeping = AS_IT_IS,
): Answered {
  if (key === null) return yield* request;
  const kept = yield* ask({ ask: "kept-answer", scope: key.scope, key: key.key });
  if (kept !== undefined) {
    if (kept.fingerprint !== key.fingerprint) {
      return { writes: [], answer: refused({ problem: "idempotency-key-reused" }) };
    }
    const headers = JSON.parse(kept.headers) as Pick<Written, "sequence" | "id">;
    const body = yield* keeping.whole(kept.body);
    return { writes: [], answer: done({ status: kept.status, body, ...headers }) };
  }
  const decision = yield* request;
  if (decision.answer.refused) return decision;
  const { status, body, sequence, id } = decision.answer.done;
  const left = keeping.kept(body);
  const answer = { ...key, status, body: left, headers: JSON.stringify({ sequence, id }), recordedAt: now };
  const keep: Write = { write: "kept-answer", answer, forgetBefore: later(now, -KEPT_FOR) };
  return { writes: [...decision.writes, keep], answer: decision.answer };
}
