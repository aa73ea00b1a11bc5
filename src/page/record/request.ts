/**
 * What is sent: the entries of a form, and the answers to what the ledger asked, which come ready to post in its
 * own problem document. An answer stands beside what was sent or instead of some of it, and lacks at most what only
 * a person can tell.
 */

import type { Posted } from "../api/shapes.js";

/** An answer or a likely reason, as the ledger has it ready. */
export interface Ready {
  readonly entries: readonly object[];
  /** JSON Pointers into the entries of what is to be filled in. */
  readonly fill: readonly string[];
  /** JSON Pointers into the request of what they stand instead of. */
  readonly instead: readonly string[];
}

/** One that was chosen, with what was filled in by its pointer. */
export interface Filled {
  readonly ready: Ready;
  readonly values: Readonly<Record<string, number | string>>;
}

/** A request with its answers: those beside it first, those instead of an entry in its place. */
export function withAnswers(request: readonly Posted[], answers: readonly Filled[]): Posted[] {
  const beside: Posted[] = [];
  const instead = new Map<number, Posted[]>();
  for (const { ready, values } of answers) {
    const entries = filledIn(ready, values);
    const places = ready.instead.map((pointer) => Number(pointer.split("/")[2]));
    const [first, ...others] = places;
    if (first === undefined) beside.push(...entries);
    // Two totals that one clear would lose have an answer each, and the clear is sent once.
    else if (!instead.has(first)) instead.set(first, entries);
    for (const other of others) instead.set(other, []);
  }
  return [...beside, ...request.flatMap((entry, index) => instead.get(index) ?? [entry])];
}

/** The entries of an answer with what was filled in; `values` are by pointer. */
export function filledIn(ready: Ready, values: Readonly<Record<string, number | string>>): Posted[] {
  const entries = structuredClone(ready.entries) as Record<string, unknown>[];
  for (const pointer of ready.fill) {
    const path = pointer.split("/").slice(1);
    const last = path.pop();
    let place = entries as unknown as Record<string, unknown>;
    for (const step of path) place = place[step] as Record<string, unknown>;
    if (last !== undefined && values[pointer] !== undefined) place[last] = values[pointer];
  }
  return entries as unknown as Posted[];
}

/** Entries with ids of their own made of a base: the same ones however often they are sent. */
export function withIds(entries: readonly Posted[], base: string): Posted[] {
  return entries.map((entry, index) =>
    entry.id === undefined ? { ...entry, id: `${base}.${index}` } : entry,
  );
}

/** Whether what a pointer names is a number; else it is a reason in words. */
export function isNumber(pointer: string): boolean {
  return !/(reason|text|note)$/.test(pointer);
}
