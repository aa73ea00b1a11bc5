/**
 * Recording entries: one inquiry, pure and synchronous, that judges a request in the order of the API
 * (replay, precondition, sense), puts its entries in their places in the course, and decides the rows.
 * All of a request is recorded, or nothing.
 */

import type { Source } from "../infusion/entry.js";
import {
  ask,
  type Chain,
  type Decision,
  type Head,
  type Inquiry,
  type Row,
  type Write,
} from "../store/store.js";
import type { Instant } from "../time/instant.js";
import type { PostedEntry } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import { changeOf, doseFaultOf, place, type Sides, signedAround } from "./change.js";
import { declarationFaults } from "./declarations.js";
import { declaringOf, draftsOf, type Fresh, isAbout, rowsOf, stillDeclared } from "./drafts.js";
import { isCorrection, recordedOf } from "./families.js";
import type { Memory } from "./memory.js";
import { questionsOf } from "./questions.js";
import { asking } from "./questions-text.js";
import { type Author, canonical } from "./record.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { Known } from "./replay.js";
import { repeatedIds, targetOf, timeFaults } from "./sense.js";
import { amending, sentAs, tells } from "./sent.js";
import { type StayFacts, stayFacts } from "./stay.js";

/** Entries as they were sent, and the same with their form checked. */
export interface Posted {
  readonly sent: unknown;
  readonly entry: PostedEntry;
}

export interface AppendRequest {
  readonly chain: Chain;
  readonly author: Author;
  readonly source: Source;
  readonly posted: readonly Posted[];
  readonly ifMatch: number | null;
  /** Written down while there was no connection: nobody can be asked any more. */
  readonly queued: boolean;
  readonly now: Instant;
  readonly newId: () => string;
}

/** What a request came to, before it is written down as an answer. */
export interface Appended {
  readonly head: Head;
  /** Rows in the order of the request: new ones, and those that stood there already. */
  readonly rows: readonly Row[];
  /** The new rows alone. */
  readonly added: readonly Row[];
  /** Whole families of what was added or corrected, as they are with it. */
  readonly staged: readonly Row[];
  readonly facts: StayFacts;
  /** The earliest instant at which anything changes; null when nothing was added. */
  readonly changedFrom: Instant | null;
  /** What came to light from the first change on, as it was and as it is. */
  readonly sides: Sides | null;
}

/** Judges and places a request; the decision's writes record it. */
export function* append(request: AppendRequest): Inquiry<Decision<Outcome<Appended>>> {
  const { chain, posted, now } = request;
  const head = yield* ask({ ask: "head", chain });
  if (head.sequence === 0)
    return nothing(refused({ problem: "not-found", what: "encounter", id: idOf(chain) }));
  const known: Known = { chain, upTo: head.sequence, staged: [], stagedFrom: null };
  const there = yield* alreadyThere(request, known);
  const fresh = posted.map((one, index) => ({ ...one, index })).filter(({ index }) => !there.same.has(index));
  const remembered = head.memory as Memory | undefined;
  const facts = remembered?.facts ?? (yield* stayFacts(chain, head.sequence))!;
  if (fresh.length === 0) {
    const rows = posted.map((_, index) => there.same.get(index)!);
    const staged = there.families;
    return nothing(done({ head, rows, added: [], staged, facts, changedFrom: null, sides: null }));
  }
  if (request.ifMatch !== null && request.ifMatch !== head.sequence) {
    const since = request.ifMatch < head.sequence ? request.ifMatch : null;
    return nothing(refused({ problem: "stale-etag", sequence: head.sequence, since }));
  }
  const targets = yield* targetsOf(fresh, known);
  const drafts = draftsOf(request, fresh, head, targets.find);
  const faults: Fault[] = [
    ...repeatedIds(posted.map(({ entry }) => entry)),
    ...drafts.flatMap(({ faults }) => faults),
    ...fresh.flatMap(({ entry, index }) => timeFaults(entry, index, request.source, facts.admittedAt, now)),
  ];
  const stagedDrafts = rowsOf(drafts, request, head, new Map());
  const families = [...targets.families, ...stagedDrafts];
  const declared = yield* declarationFaults(
    chain,
    // An id that is taken is no second declaration: which ids are taken is said of all of them together.
    declaringOf(
      drafts.filter(({ id }) => !there.other.includes(id)),
      families,
    ),
    families,
    stillDeclared(remembered?.declared ?? new Map(), targets.families),
    head.sequence,
  );
  faults.push(...declared.faults);

  // Faults of doses show in their places only, so what is sound is placed even if the rest is not.
  const sound = drafts.filter(({ index }) => !faults.some(({ pointer }) => isAbout(pointer, index)));
  const soundRows = stagedDrafts.filter(({ sequence }) => sound.some((draft) => draft.sequence === sequence));
  const signed = yield* signedAround(known, sound);
  const changed = [...targets.families, ...soundRows];
  const change = changeOf(sound, targets.families, changed, { facts, now, signed });
  const range = { first: head.sequence + 1, last: head.sequence + drafts.length };
  const placed = yield* place(known, facts, remembered, change, range, now);
  for (const [content, fault] of placed.placing.faults) faults.push(doseFaultOf(drafts, content, fault));
  if (there.other.length > 0 && faults.length === 0) {
    return nothing(refused({ problem: "entry-exists", ids: there.other }));
  }
  if (faults.length > 0) return nothing(refused(invalid(faults)));

  const staged = [...there.families, ...targets.families];
  if (request.source === "person" && !request.queued) {
    const originals = new Map(drafts.filter(tells).map((draft) => [draft.root ?? draft.sequence, draft]));
    const { settingsAt } = facts.conventions;
    const questions = questionsOf(placed.placing.after, new Set(originals.keys()), {
      state: placed.sides.after.state,
      until: now,
      settingsAt,
    });
    const question = yield* asking(questions, {
      known: { ...known, staged: [...staged, ...stagedDrafts], stagedFrom: change.from },
      facts,
      now,
      place: (sequence) => sentAs(originals.get(sequence)!),
      find: (id) => amending(id, drafts, targets.families),
    });
    if (question !== undefined) return nothing(question);
  }

  const rows = change.frozen.size === 0 ? stagedDrafts : rowsOf(drafts, request, head, change.frozen);
  const byIndex = new Map(drafts.map(({ index }, i) => [index, rows[i]!]));
  const memory = placed.memory === undefined ? undefined : { ...placed.memory, declared: declared.declared };
  const writes: Write[] = [
    ...rows.map((row): Write => ({ write: "row", row })),
    ...placed.writes,
    ...(memory === undefined ? [] : [{ write: "memory", chain, memory } as Write]),
  ];
  const answer: Appended = {
    head: { ...head, sequence: range.last, recordedAt: rows.at(-1)!.recordedAt, digest: rows.at(-1)!.digest },
    rows: posted.map((_, index) => byIndex.get(index) ?? there.same.get(index)!),
    added: rows,
    staged: [...staged, ...rows],
    facts,
    changedFrom: change.from,
    sides: placed.sides,
  };
  return { writes, answer: done(answer) };
}

function nothing<T>(answer: T): Decision<T> {
  return { writes: [], answer };
}

function invalid(errors: readonly Fault[]) {
  return { problem: "invalid-entries", errors } as const;
}

export function idOf(chain: Chain): string {
  return chain.slice(chain.indexOf("/") + 1);
}

/** Entries whose ids are taken: by the same body as sent (it is recorded already), or by another. */
function* alreadyThere({ chain, posted }: AppendRequest, known: Known) {
  const same = new Map<number, Row>();
  const other: string[] = [];
  const ids = posted.flatMap(({ entry }) => (entry.id === undefined ? [] : [entry.id]));
  if (ids.length === 0) return { same, other, families: [] };
  const rows = yield* ask({ ask: "ids", chain, ids });
  const families = rows.filter(({ sequence }) => sequence <= known.upTo);
  const byId = new Map(families.map((row) => [row.id, row]));
  posted.forEach(({ entry, sent }, index) => {
    const row = entry.id === undefined ? undefined : byId.get(entry.id);
    if (row === undefined) return;
    if (canonical(recordedOf(row).body) === canonical(sent)) same.set(index, row);
    else other.push(row.id);
  });
  return { same, other, families };
}

/** The stored entries that the request corrects or settles, and their families. */
function* targetsOf(fresh: readonly Fresh[], { chain, upTo }: Known) {
  const ids = fresh.flatMap(({ entry }) => {
    if (entry.kind === "variance-settled") return [entry.reading];
    if (!isCorrection(entry)) return [];
    return "replaces" in entry && entry.replaces !== undefined
      ? [entry.entry, entry.replaces]
      : [entry.entry];
  });
  const rows = ids.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids });
  const families = rows.filter(({ sequence }) => sequence <= upTo);
  const byId = new Map(families.map((row) => [row.id, targetOf(row)]));
  return { families, find: (id: string) => byId.get(id) };
}
