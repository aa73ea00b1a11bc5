/**
 * Recording entries: one inquiry, pure and synchronous, that judges a request in the order of the API
 * (replay, precondition, sense), puts its entries in their places in the course, and decides the rows.
 * All of a request is recorded, or nothing.
 */

import { comeUpTo } from "../infusion/course.js";
import { type DoseFault, isDoseFault } from "../infusion/dose-fault.js";
import type { Placed, Source } from "../infusion/entry.js";
import { NOWHERE, type Note } from "../infusion/flow.js";
import {
  ask,
  type Chain,
  type Decision,
  type Head,
  type Inquiry,
  type Row,
  type Write,
} from "../store/store.js";
import { earliest, type Instant, latest } from "../time/instant.js";
import { decodeEntry, decodeWeight } from "../wire/decode.js";
import type { PostedEntry } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import { isByTheLedger, type StoredBody } from "../wire/stored.js";
import { type Declared, type Declaring, declarationFaults, declaredBy } from "./declarations.js";
import { type Counting, contentOf, countingOf, isCorrection, placedOf, recordedOf } from "./families.js";
import { freeze, needsFreezing } from "./freeze.js";
import { placeLate, type Range } from "./late.js";
import { type Memory, recalled, settled } from "./memory.js";
import { type Author, canonical, type Frozen, type Recorded, rowOf } from "./record.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { Known } from "./replay.js";
import { happenedAt, repeatedIds, type Target, targetFaults, targetOf, timeFault } from "./sense.js";
import { type StayFacts, stayFacts } from "./stay.js";
import { type Incoming, type Placing, withEntries } from "./tail.js";

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
  readonly notes: { readonly before: readonly Note[]; readonly after: readonly Note[] };
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
    const notes = { before: [], after: [] };
    const staged = there.families;
    return nothing(done({ head, rows, added: [], staged, facts, changedFrom: null, notes }));
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
    ...fresh.flatMap(({ entry, index }) => {
      const fault = timeFault(entry, index, request.source, facts.admittedAt, now);
      return fault === undefined ? [] : [fault];
    }),
  ];
  const stagedDrafts = rowsOf(drafts, request, head, new Map());
  const families = [...targets.families, ...stagedDrafts];
  const declared = yield* declarationFaults(
    chain,
    declaringOf(drafts, families),
    families,
    stillDeclared(remembered?.declared ?? new Map(), targets.families),
    head.sequence,
  );
  faults.push(...declared.faults);

  // Faults of doses show in their places only, so what is sound is placed even if the rest is not.
  const sound = drafts.filter(({ index }) => !faults.some(({ pointer }) => isAbout(pointer, index)));
  const soundRows = stagedDrafts.filter(({ sequence }) => sound.some((draft) => draft.sequence === sequence));
  const change = changeOf(sound, targets.families, [...targets.families, ...soundRows], facts, now);
  const range = { first: head.sequence + 1, last: head.sequence + drafts.length };
  const placed = yield* place(known, facts, remembered, change, range, now);
  for (const [content, fault] of placed.placing.faults) faults.push(doseFaultOf(drafts, content, fault));
  if (there.other.length > 0 && faults.length === 0) {
    return nothing(refused({ problem: "entry-exists", ids: there.other }));
  }
  if (faults.length > 0) return nothing(refused(invalid(faults)));

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
    staged: [...there.families, ...targets.families, ...rows],
    facts,
    changedFrom: change.from,
    notes: { before: placed.placing.before, after: placed.placing.after },
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

interface Fresh extends Posted {
  readonly index: number;
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

/** An entry of the request on its way to become a row. */
interface Draft {
  readonly index: number;
  readonly sequence: number;
  readonly id: string;
  readonly entry: PostedEntry;
  readonly sent: unknown;
  /** For a correction, the sequence of the original. */
  readonly root: number | null;
  readonly faults: readonly Fault[];
}

function draftsOf(
  request: AppendRequest,
  fresh: readonly Fresh[],
  head: Head,
  stored: (id: string) => Target | undefined,
): Draft[] {
  const inRequest = new Map<string, Target>();
  const bySequence = new Map<number, Target>();
  const find = (id: string) => inRequest.get(id) ?? stored(id);
  return fresh.map(({ entry, sent, index }, i) => {
    const sequence = head.sequence + 1 + i;
    const id = entry.id ?? request.newId();
    const target = isCorrection(entry) ? find(entry.entry) : undefined;
    const root = target?.root ?? null;
    const original = (named: Target) => bySequence.get(named.root) ?? originalOf(named, find);
    const faults = targetFaults(entry, index, find, original);
    const told: Target = { sequence, id, body: entry, root: root ?? sequence };
    inRequest.set(id, told);
    bySequence.set(sequence, told);
    return { index, sequence, id, entry, sent, root, faults };
  });
}

/** Follows a correction to what it corrects, down to an entry that is no correction. */
function originalOf(target: Target, find: (id: string) => Target | undefined): Target | undefined {
  let one: Target | undefined = target;
  while (one !== undefined && isCorrection(one.body)) one = find(one.body.entry);
  return one;
}

/** What a request declares: by itself, by an amendment, or by a void that brings a declaration back. */
function declaringOf(drafts: readonly Draft[], families: readonly Row[]): Declaring[] {
  const told = drafts.flatMap(({ index, sequence, entry }): Declaring[] => {
    const declared = declaredBy(entry);
    const how = entry.kind === "entry-amended" ? "amended" : "posted";
    return declared === undefined ? [] : [{ index, sequence, ...declared, how }];
  });
  const voids = drafts.filter(({ entry }) => entry.kind === "entry-voided");
  if (voids.length === 0) return told;
  const drafted = new Set(drafts.map(({ sequence }) => sequence));
  const revived = countingOf(families).flatMap(({ original, content, body }): Declaring[] => {
    const by = voids.findLast(({ root }) => root === original.sequence);
    const declared = declaredBy(body);
    if (by === undefined || declared === undefined || drafted.has(content.sequence)) return [];
    return [{ index: by.index, sequence: content.sequence, ...declared, how: "revived" }];
  });
  return [...told, ...revived];
}

/** What is remembered of declarations, without those that are being corrected. */
function stillDeclared(known: Declared, families: readonly Row[]): Declared {
  if (families.length === 0) return known;
  const corrected = new Set(families.flatMap((row) => declaredBy(recordedOf(row).body)?.key ?? []));
  return new Map([...known].filter(([key]) => !corrected.has(key)));
}

function isAbout(pointer: string, index: number): boolean {
  return pointer === `#/entries/${index}` || pointer.startsWith(`#/entries/${index}/`);
}

/** What a request changes in the course. */
interface Change {
  /** Families taken out before what counts of them is put in again. */
  readonly without: ReadonlySet<number>;
  readonly incoming: readonly Incoming[];
  readonly from: Instant;
  readonly last: Instant;
  /** What each draft came to, filled in while placing, by its sequence. */
  readonly frozen: Map<number, Frozen>;
}

function changeOf(
  drafts: readonly Draft[],
  before: readonly Row[],
  after: readonly Row[],
  facts: StayFacts,
  now: Instant,
): Change {
  const roots = new Set(drafts.map(({ root, sequence }) => root ?? sequence));
  const drafted = new Set(drafts.map(({ sequence }) => sequence));
  const frozen = new Map<number, Frozen>();
  const settling = { frozen, admissionWeight: facts.admissionWeight };
  const concerned = ({ original }: Counting) => roots.has(original.sequence);
  const was = countingOf(before)
    .filter(concerned)
    .flatMap((one) => placedOf(one) ?? []);
  const counting = countingOf(after).filter(concerned);
  const incoming = counting.flatMap((one): Incoming[] => {
    const content = one.content.sequence;
    if (drafted.has(content)) return [fresh(one, true, settling)];
    const placed = placedOf(one);
    return placed === undefined ? [] : [{ content, counts: true, provisional: placed, settle: () => placed }];
  });
  incoming.push(...uncounted(drafts, counting, after).map((one) => fresh(one, false, settling)));
  const times = [...was, ...incoming.map(({ provisional }) => provisional)].map(({ entry }) => entry.at);
  // What counts only as of a row within the request changes what is known as of that row.
  times.push(...drafts.flatMap(({ entry }) => happenedAt(entry) ?? []));
  // The void of what is void already changes nothing, and has no place in the course.
  if (times.length === 0) times.push(now);
  return {
    without: new Set(was.map(({ sequence }) => sequence)),
    incoming,
    from: earliest(...times),
    last: latest(...times),
    frozen,
  };
}

/**
 * Entries of the request that it corrects itself, so that they do not count now. A later void may make
 * them count, and then what they came to must be known.
 */
function uncounted(
  drafts: readonly Draft[],
  counting: readonly Counting[],
  rows: readonly Row[],
): Counting[] {
  const counts = new Set(counting.map(({ content }) => content.sequence));
  const bySequence = new Map(rows.map((row) => [row.sequence, row]));
  return drafts.flatMap(({ sequence, root, entry }) => {
    if (counts.has(sequence) || entry.kind === "entry-voided") return [];
    const body = contentOf(entry);
    if (isByTheLedger(body) || !needsFreezing(body)) return [];
    const content = recordedOf(bySequence.get(sequence)!);
    const original = root === null ? content : recordedOf(bySequence.get(root)!);
    return [{ original, content, body }];
  });
}

interface Settling {
  /** Filled in while placing. */
  readonly frozen: Map<number, Frozen>;
  /** What a dose before admission is reckoned with, no other weight being known yet. */
  readonly admissionWeight: StayFacts["admissionWeight"];
}

/** An entry of the request, which may still have to become a rate in its place. */
function fresh({ original, content, body }: Counting, counts: boolean, settling: Settling): Incoming {
  const { id, sequence, source } = original;
  const posted = body as PostedEntry;
  const as = (kept: Frozen): Placed => ({ id, sequence, source, entry: decodeEntry(posted, kept) });
  if (!needsFreezing(posted)) {
    const placed = as({});
    return { content: content.sequence, counts, provisional: placed, settle: () => placed };
  }
  const provisional = as(ANY_SPEED);
  const settle: Incoming["settle"] = (before) => {
    const there = comeUpTo(before, provisional.entry.at, NOWHERE);
    const { admissionWeight } = settling;
    const weight = there.weight ?? (admissionWeight === undefined ? null : decodeWeight(admissionWeight));
    const kept = freeze(posted, { ...there, weight });
    if (isDoseFault(kept)) return kept;
    settling.frozen.set(content.sequence, kept);
    return as(kept);
  };
  return { content: content.sequence, counts, provisional, settle };
}

/** Stands in for what a dose comes to while only the order of entries is asked. */
const ANY_SPEED: Frozen = { rate: 1, volume: 1 };

function* place(
  known: Known,
  facts: StayFacts,
  remembered: Memory | undefined,
  change: Change,
  range: Range,
  now: Instant,
): Inquiry<{ placing: Placing; writes: readonly Write[]; memory: Memory | undefined }> {
  const { settingsAt } = facts.conventions;
  const memory = remembered ?? (yield* recalled(known, facts, now));
  if (change.from >= memory.tail.from) {
    const placing = withEntries(memory.tail, change.without, change.incoming, settingsAt);
    if (placing.faults.size > 0) return { placing, writes: [], memory: undefined };
    const next = settled(known.chain, memory, placing.tail, change, range, now);
    return { placing, ...next };
  }
  const late = yield* placeLate(known, settingsAt, change.without, change.incoming, change, range);
  return { ...late, memory: undefined };
}

function doseFaultOf(drafts: readonly Draft[], content: number, { code, detail }: DoseFault): Fault {
  const { index, entry } = drafts.find(({ sequence }) => sequence === content)!;
  const fact = contentOf(entry);
  const field = ["dose", "dripRate", "over"].find((name) => name in fact) ?? "";
  const within = entry.kind === "entry-amended" ? "/replacement" : "";
  return { pointer: `#/entries/${index}${within}/${field}`, code, detail };
}

function rowsOf(
  drafts: readonly Draft[],
  request: AppendRequest,
  head: Head,
  frozen: ReadonlyMap<number, Frozen>,
): Row[] {
  const recordedAt = latest(request.now, head.recordedAt);
  let previous = head.digest;
  return drafts.map((draft) => {
    const { sequence, id, entry, sent, root } = draft;
    const kept = frozen.get(sequence);
    const recorded: Recorded = {
      chain: request.chain,
      sequence,
      id,
      recordedAt,
      by: request.author,
      source: request.source,
      body: sent as StoredBody,
      ...(kept === undefined || Object.keys(kept).length === 0 ? {} : { frozen: kept }),
      ...(root === null ? {} : { root }),
      previous,
    };
    const at = happenedAt(entry);
    const row = rowOf(recorded, { at, declares: declaredBy(entry)?.key ?? null });
    previous = row.digest;
    return row;
  });
}
