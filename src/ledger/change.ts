/**
 * What a request changes in the course: the families taken out of it, the entries put in, frozen in their
 * places, and what becomes of the memory and the checkpoints after them.
 */

import { APART, canBeTwice } from "../findings/alike.js";
import type { Reported } from "../findings/finding.js";
import { comeUpTo } from "../infusion/course.js";
import { firstFrom } from "../infusion/cuts.js";
import { type DoseFault, isDoseFault } from "../infusion/dose-fault.js";
import type { Placed } from "../infusion/entry.js";
import type { Event } from "../infusion/event.js";
import { NOWHERE } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry, Row, Write } from "../store/store.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { decodeEntry, decodeWeight } from "../wire/decode.js";
import type { PostedEntry } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import { isByTheLedger } from "../wire/stored.js";
import type { Draft } from "./drafts.js";
import { type Counting, contentOf, countingOf, placedOf, recordedOf, withDecision } from "./families.js";
import { freeze, needsFreezing } from "./freeze.js";
import { placeLate, type Range } from "./late.js";
import { leanedOn } from "./leaning.js";
import { knowsBags, type Memory, recalled, settled } from "./memory.js";
import type { Frozen } from "./record.js";
import { END_OF_TIME, type Known } from "./replay.js";
import { happenedAt } from "./sense.js";
import { type Signature, signaturesBeyond } from "./signatures.js";
import type { StayFacts } from "./stay.js";
import { type Incoming, type Placing, stateBeforePlace, type Tail, withEntries } from "./tail.js";

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

/** What a change is judged by beside the entries themselves. */
interface Circumstances {
  readonly facts: StayFacts;
  readonly now: Instant;
  readonly signed: readonly Signature[];
}

/** What was signed that the levels among drafts must not move; nothing where there are none. */
export function* signedAround(known: Known, drafts: readonly Draft[]): Inquiry<Signature[]> {
  const levels = drafts.flatMap(({ entry }) => {
    return contentOf(entry).kind === "bag-level-read" ? (happenedAt(entry) ?? []) : [];
  });
  return levels.length === 0 ? [] : yield* signaturesBeyond(known, earliest(...levels));
}

export function changeOf(
  drafts: readonly Draft[],
  before: readonly Row[],
  after: readonly Row[],
  { facts, now, signed }: Circumstances,
): Change {
  const roots = new Set(drafts.map(({ root, sequence }) => root ?? sequence));
  const drafted = new Set(drafts.map(({ sequence }) => sequence));
  const frozen = new Map<number, Frozen>();
  const settling = { frozen, admissionWeight: facts.admissionWeight, signed };
  const concerned = ({ original }: Counting) => roots.has(original.sequence);
  const was = countingOf(before)
    .filter(concerned)
    .flatMap((one) => placedOf(one) ?? []);
  const counting = countingOf(after).filter(concerned);
  const incoming = counting.flatMap((one): Incoming[] => {
    const content = one.content.sequence;
    if (drafted.has(content)) return [fresh(one, true, settling)];
    const placed = placedOf(one);
    if (placed === undefined) return [];
    const how = { content, counts: true, ...recordedBy(one) };
    return [{ ...how, provisional: placed, settle: () => placed }];
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
  /** What was signed around the levels of the request, or later. */
  readonly signed: readonly Signature[];
}

/** An entry of the request, of which it may still have to be settled in its place what it comes to. */
function fresh(
  { original, content, body, settled }: Counting,
  counts: boolean,
  settling: Settling,
): Incoming {
  const { id, sequence, source } = original;
  const posted = body as PostedEntry;
  const as = (kept: Frozen): Placed =>
    withDecision({ id, sequence, source, entry: decodeEntry(posted, kept) }, settled);
  const how = { content: content.sequence, counts, ...recordedBy({ original }) };
  if (!needsFreezing(posted)) {
    const placed = as({});
    return { ...how, provisional: placed, settle: () => placed };
  }
  const provisional = as(ANY_SPEED);
  const settle: Incoming["settle"] = (before) => {
    const there = comeUpTo(before, provisional.entry.at, NOWHERE);
    const { admissionWeight } = settling;
    const weight = there.weight ?? (admissionWeight === undefined ? null : decodeWeight(admissionWeight));
    const signed = settling.signed.filter((one) => one.sequence < sequence);
    const kept = freeze(posted, { ...there, weight }, signed);
    if (isDoseFault(kept)) return kept;
    if (Object.keys(kept).length > 0) settling.frozen.set(content.sequence, kept);
    return as(kept);
  };
  return { ...how, provisional, settle };
}

function recordedBy({ original }: Pick<Counting, "original">) {
  return { recordedAt: original.recordedAt, by: original.by.id };
}

/** Stands in for what an entry comes to while only the order of entries is asked. */
const ANY_SPEED: Frozen = { rate: 1, volume: 1 };

/** One side of a change: what came to light from its first instant on, what counts there, how things stand. */
export interface Side {
  readonly events: readonly Event[];
  /** What counts from the change on, and a little before it what may be one and the same thing. */
  readonly entries: readonly Reported[];
  /** Before the first entry that is changed. */
  readonly before: State;
  /** After the last entry of the stretch that is changed. */
  readonly state: State;
}

export interface Sides {
  readonly before: Side;
  readonly after: Side;
  /** Up to here it is told what came to light; from then on the two are alike. */
  readonly end: Instant;
}

interface Settled {
  readonly placing: Placing;
  readonly writes: readonly Write[];
  readonly memory: Memory | undefined;
  readonly sides: Sides;
}

export function* place(
  known: Known,
  facts: StayFacts,
  remembered: Memory | undefined,
  change: Change,
  range: Range,
  now: Instant,
): Inquiry<Settled> {
  const { settingsAt } = facts.conventions;
  const enough = remembered !== undefined && (yield* knowsBags(known, remembered.tail, change.incoming));
  const memory = enough ? remembered : yield* recalled(known, facts, change.incoming, now);
  if (change.from >= memory.tail.from) {
    const placing = withEntries(memory.tail, change.without, change.incoming, settingsAt);
    const sides = yield* sidesOf(known, memory.tail, placing, settingsAt, now);
    if (placing.faults.size > 0) return { placing, writes: [], memory: undefined, sides };
    return { placing, sides, ...settled(known.chain, memory, placing.tail, change, range, now) };
  }
  const late = yield* placeLate(known, settingsAt, change.without, change.incoming, change, range);
  const { tail, placing, writes } = late;
  const sides = yield* sidesOf(known, tail, placing, settingsAt, now, late);
  return { placing, writes, memory: undefined, sides };
}

/** What came after the entries of a late change up to where its effect ends, as it was followed. */
interface Onwards {
  readonly onwards: readonly Reported[];
  readonly end: Instant;
}

function* sidesOf(
  known: Known,
  tail: Tail,
  placing: Placing,
  settingsAt: SettingsAt,
  now: Instant,
  { onwards, end }: Onwards = { onwards: [], end: END_OF_TIME },
): Inquiry<Sides> {
  const { firstChanged, before, after } = placing;
  const earlier = yield* leanedOn(
    known,
    settingsAt,
    tail,
    firstChanged,
    [...before, ...after],
    placing.stateBefore,
  );
  const twice = chartedBefore(tail, placing);
  const side = (of: Tail, events: readonly Event[]): Side => ({
    events: [...earlier, ...events],
    entries: [...twice, ...of.entries.slice(firstChanged), ...onwards],
    before: placing.stateBefore,
    state: stateAsOf(of, now, settingsAt),
  });
  return { before: side(tail, before), after: side(placing.tail, after), end };
}

/** What a side has before its first change, since it may be the same as what is changed, or part of a sum in it. */
function chartedBefore(tail: Tail, { tail: anew, firstChanged }: Placing): Reported[] {
  const changed = [tail, anew].flatMap(({ entries }) => entries.slice(firstChanged)).filter(bearsOnTwins);
  const times = changed.map(({ placed: { entry } }) => {
    const began = "from" in entry ? entry.from : undefined;
    return earliest(later(entry.at, -APART), began ?? entry.at);
  });
  if (times.length === 0) return [];
  const since = earliest(...times);
  const context = firstFrom(tail.entries, since, ({ placed }) => placed.entry.at);
  return tail.entries.slice(context, firstChanged).filter(bearsOnTwins);
}

/** What may have been charted twice; and a bag that came down is not the one that is hung. */
function bearsOnTwins({ placed: { entry } }: Reported): boolean {
  return canBeTwice(entry) || entry.kind === "bag-taken-down";
}

function stateAsOf(tail: Tail, now: Instant, settingsAt: SettingsAt): State {
  const last = tail.entries.findLastIndex(({ placed }) => placed.entry.at <= now);
  return stateBeforePlace(tail, last + 1, settingsAt);
}

export function doseFaultOf(drafts: readonly Draft[], content: number, { code, detail }: DoseFault): Fault {
  const { index, entry } = drafts.find(({ sequence }) => sequence === content)!;
  const fact = contentOf(entry);
  const field = ["dose", "dripRate", "over"].find((name) => name in fact) ?? "";
  const within = entry.kind === "entry-amended" ? "/replacement" : "";
  return { pointer: `#/entries/${index}${within}/${field}`, code, detail };
}
