/**
 * Which entries count. Corrections are entries too, so an original, its amendments and its voids form
 * a family, hung on the original. The last amendment that is not voided counts, in the original's place
 * among ties; voiding an amendment brings back what it replaced, voiding a void brings the entry back.
 *
 * What a person decides about a reading belongs to the reading's family, since it changes what the
 * reading does where it stands; a decision and its own corrections are a branch of that family.
 */

import type { Entry, Placed } from "../infusion/entry.js";
import type { Row } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { decodeEntry, decodeWeight } from "../wire/decode.js";
import type { PostedEntry } from "../wire/entry.js";
import { readInstant } from "../wire/instant.js";
import { isByTheLedger, type StoredBody } from "../wire/stored.js";
import { type Frozen, type Recorded, recordedFrom } from "./record.js";
import { remembering } from "./remembering.js";

export type EntryState = "current" | "amended" | "voided";

/** An original entry with what counts of it now: itself or its last amendment. */
export interface Counting {
  readonly original: Recorded;
  /** The entry whose content counts: the original or an amendment. */
  readonly content: Recorded;
  /** The content as a posted entry (of an amendment, its replacement). */
  readonly body: StoredBody;
  /** Of a reading: what a person decided to use. */
  readonly settled?: Settled | undefined;
}

type Settled = "reading" | "computed";

type Correction = Extract<PostedEntry, { kind: "entry-amended" | "entry-voided" }>;

export function isCorrection(body: StoredBody): body is Correction {
  return body.kind === "entry-amended" || body.kind === "entry-voided";
}

/** Reading a row back is pure, and a row never changes, so what was read is remembered by its digest. */
export const recordedOf = remembering((row: Row): Recorded => recordedFrom(row.text));

/** What the correction or entry says happened: its own body, or the replacement of an amendment. */
export function contentOf(body: StoredBody): StoredBody {
  return body.kind === "entry-amended" ? (body.replacement as StoredBody) : body;
}

/** Families staged and stored together: of a family that is staged, the staged rows are the whole of it. */
export function merged(stored: readonly Row[], staged: readonly Row[]): Row[] {
  const bySequence = new Map<number, Row>();
  for (const row of stored) bySequence.set(row.sequence, row);
  for (const row of staged) bySequence.set(row.sequence, row);
  return [...bySequence.values()];
}

/** The state of every row of whole families, by sequence. */
export function statesOf(rows: readonly Row[]): Map<number, EntryState> {
  const states = new Map<number, EntryState>();
  for (const branch of familiesOf(rows).flatMap(branchesOf)) {
    const live = liveOf(branch);
    const counts = countsIn(branch, live);
    for (const one of branch) {
      const state = !live.has(one.id) ? "voided" : counts === one || isVoid(one) ? "current" : "amended";
      states.set(one.sequence, state);
    }
  }
  return states;
}

/** The corrections among rows of whole families, of those families that ever stood where `has` says. */
export function correctionsOf(rows: readonly Row[], has: (at: Instant) => boolean): ("amended" | "voided")[] {
  return familiesOf(rows)
    .filter((family) => family.some(({ body }) => stoodIn(contentOf(body), has)))
    .flatMap((family) =>
      family.flatMap(({ body }) => {
        if (!isCorrection(body)) return [];
        return [body.kind === "entry-voided" ? ("voided" as const) : ("amended" as const)];
      }),
    );
}

function stoodIn(body: StoredBody, has: (at: Instant) => boolean): boolean {
  return "at" in body && has(readInstant(body.at));
}

/** The entries that count among rows of whole families, in no particular order. */
export function countingOf(rows: readonly Row[]): Counting[] {
  const counting: Counting[] = [];
  for (const family of familiesOf(rows)) {
    const [own, ...decisions] = branchesOf(family);
    const original = own![0]!;
    const content = countsIn(own!, own!.length === 1 ? undefined : liveOf(own!));
    if (content === undefined) continue;
    const settled = settledBy(decisions);
    counting.push({ original, content, body: contentOf(content.body), ...(settled && { settled }) });
  }
  return counting;
}

/** An entry that belongs to a family, recorded or about to be. */
export type Told = Pick<Recorded, "id" | "body">;

/**
 * What of a family changes when more of it is recorded: what counted until then and what counts from then on, of the
 * original itself and of every decision that something is said about. Where nothing counts on either side, all that
 * was ever said, since a later void may bring back any of it.
 */
export function changingIn<T extends Told>(before: readonly T[], after: readonly T[]): StoredBody[] {
  return branchesOf(after).flatMap((branch, i) => {
    const was = branch.filter((one) => before.includes(one));
    if (i > 0 && was.length === branch.length) return [];
    const counts = [was, branch].flatMap((side) =>
      side.length === 0 ? [] : (countsIn(side, liveOf(side)) ?? []),
    );
    return (counts.length === 0 ? branch : counts).map(({ body }) => body);
  });
}

/** The last decision about a reading that is not voided. */
function settledBy(decisions: readonly (readonly Recorded[])[]): Settled | undefined {
  const contents = decisions.flatMap((branch) => countsIn(branch, liveOf(branch)) ?? []);
  const last = contents.at(-1);
  const body = last === undefined ? undefined : contentOf(last.body);
  return body?.kind === "variance-settled" ? body.use : undefined;
}

/** A counting entry as the calculation sees it; undefined for what it does not see (a change of settings). */
export function placedOf(counting: Counting): Placed | undefined {
  const placed = placedAlone(counting);
  return placed === undefined ? undefined : withDecision(placed, counting.settled);
}

/** A reading with what was decided about it; anything else as it is. */
export function withDecision(placed: Placed, settled: Settled | undefined): Placed {
  const { entry } = placed;
  if (settled === undefined || (entry.kind !== "total-read" && entry.kind !== "segment-read")) return placed;
  return { ...placed, entry: { ...entry, settled } };
}

function placedAlone({ original, content, body }: Counting): Placed | undefined {
  const known = placings.get(content);
  if (known !== undefined) return known;
  const { id, sequence, source } = original;
  const entry = entryOf(body, content.frozen);
  if (entry === undefined) return undefined;
  const placed = { id, sequence, source, entry };
  placings.set(content, placed);
  return placed;
}

/** Decoding is pure and a record never changes; what is no longer held by anybody is forgotten. */
const placings = new WeakMap<Recorded, Placed>();

function entryOf(body: StoredBody, frozen: Frozen | undefined): Entry | undefined {
  if (!isByTheLedger(body)) return decodeEntry(body, frozen);
  switch (body.kind) {
    case "admitted": {
      const weight = body.weight === undefined ? {} : { weight: decodeWeight(body.weight) };
      return { kind: "admitted", at: readInstant(body.at), ...weight };
    }
    case "moved":
    case "discharged":
      return { kind: body.kind, at: readInstant(body.at) };
    default:
      return undefined;
  }
}

/** Rows as families, each in order of sequence with its original first; a family without its original is none. */
export function familiesOf(rows: readonly Row[]): Recorded[][] {
  const families = new Map<number, Recorded[]>();
  for (const row of [...rows].sort((a, b) => a.sequence - b.sequence)) {
    if (row.root === null) families.set(row.sequence, [recordedOf(row)]);
    else families.get(row.root)?.push(recordedOf(row));
  }
  return [...families.values()];
}

/** A family in its branches: the original with its corrections, and every decision about it with its own. */
function branchesOf<T extends Told>(family: readonly T[]): T[][] {
  if (family.length === 1) return [[...family]];
  const branches = new Map<string, T[]>();
  for (const one of family) {
    const branch = isCorrection(one.body) ? branches.get(one.body.entry) : undefined;
    if (branch === undefined) branches.set(one.id, [one]);
    else branches.set(one.id, branch).get(one.id)!.push(one);
  }
  return [...new Set(branches.values())];
}

/** The ids of a branch that no live void names. Corrections name earlier entries, so the last is judged first. */
function liveOf(family: readonly Told[]): Set<string> {
  const live = new Set(family.map(({ id }) => id));
  for (const one of family.toReversed()) {
    if (isVoid(one) && live.has(one.id)) live.delete((one.body as Correction).entry);
  }
  return live;
}

function countsIn<T extends Told>(
  family: readonly T[],
  live: ReadonlySet<string> | undefined,
): T | undefined {
  const original = family[0]!;
  if (live === undefined) return original;
  if (!live.has(original.id)) return undefined;
  return family.findLast((one) => live.has(one.id) && one.body.kind === "entry-amended") ?? original;
}

function isVoid({ body }: Told): boolean {
  return body.kind === "entry-voided";
}
