/**
 * Entries of a request on their way to become rows: what they name, what they declare, and the row each
 * becomes, chained to the one before it.
 */

import type { Head, Row } from "../store/store.js";
import { latest } from "../time/instant.js";
import type { PostedEntry } from "../wire/entry.js";
import type { Fault } from "../wire/fault.js";
import type { StoredBody } from "../wire/stored.js";
import type { AppendRequest, Posted } from "./append.js";
import { type Declared, type Declaring, declaredBy } from "./declarations.js";
import { countingOf, isCorrection, recordedOf } from "./families.js";
import { canonical, type Frozen, type Recorded, rowOf } from "./record.js";
import { happenedAt, type Target, targetFaults } from "./sense.js";

export interface Fresh extends Posted {
  readonly index: number;
}

/** An entry of the request on its way to become a row. */
export interface Draft {
  readonly index: number;
  readonly sequence: number;
  readonly id: string;
  readonly entry: PostedEntry;
  readonly sent: unknown;
  /** For a correction, and a decision about a reading, the sequence of the original. */
  readonly root: number | null;
  readonly faults: readonly Fault[];
}

export function draftsOf(
  request: AppendRequest,
  fresh: readonly Fresh[],
  head: Head,
  stored: (id: string) => Target | undefined,
): Draft[] {
  const inRequest = new Map<string, Target>();
  const find = (id: string) => inRequest.get(id) ?? stored(id);
  return fresh.map(({ entry, sent, index }, i) => {
    const sequence = head.sequence + 1 + i;
    const id = entry.id ?? request.newId();
    const root = aboutOf(entry, find)?.root ?? null;
    const original = (named: Target) => originalOf(named, find);
    const faults = targetFaults(entry, index, find, original);
    const told: Target = { sequence, id, body: entry, root: root ?? sequence };
    inRequest.set(id, told);
    return { index, sequence, id, entry, sent, root, faults };
  });
}

/** The entry to whose family an entry belongs: what it corrects, or the reading it decides about. */
function aboutOf(entry: PostedEntry, find: (id: string) => Target | undefined): Target | undefined {
  if (isCorrection(entry)) return find(entry.entry);
  return entry.kind === "variance-settled" ? find(entry.reading) : undefined;
}

/** Follows a correction to what it corrects, down to an entry that is no correction. */
function originalOf(target: Target, find: (id: string) => Target | undefined): Target | undefined {
  let one: Target | undefined = target;
  while (one !== undefined && isCorrection(one.body)) one = find(one.body.entry);
  return one;
}

/** What a request declares: by itself, by an amendment, or by a void that brings a declaration back. */
export function declaringOf(drafts: readonly Draft[], families: readonly Row[]): Declaring[] {
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
export function stillDeclared(known: Declared, families: readonly Row[]): Declared {
  if (families.length === 0) return known;
  const corrected = new Set(families.flatMap((row) => declaredBy(recordedOf(row).body)?.key ?? []));
  return new Map([...known].filter(([key]) => !corrected.has(key)));
}

export function isAbout(pointer: string, index: number): boolean {
  return pointer === `#/entries/${index}` || pointer.startsWith(`#/entries/${index}/`);
}

export function rowsOf(
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
    const body = canonical(sent);
    const recorded: Recorded = {
      chain: request.chain,
      sequence,
      id,
      recordedAt,
      by: request.author,
      source: request.source,
      // With its fields in the order in which anybody who reads it back finds them.
      body: JSON.parse(body) as StoredBody,
      ...(kept === undefined || Object.keys(kept).length === 0 ? {} : { frozen: kept }),
      ...(root === null ? {} : { root }),
      previous,
    };
    const at = happenedAt(entry);
    const row = rowOf(recorded, { at, declares: declaredBy(entry)?.key ?? null }, body);
    // Spares reading the text back that has just been written.
    recordedOf.learn(row, recorded);
    previous = row.digest;
    return row;
  });
}
