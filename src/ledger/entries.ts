/** Entries as they are read back: as posted, with who recorded them when, and whether they still count. */

import { ask, type Inquiry, type Row } from "../store/store.js";
import type { Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { coordinates, written } from "./coordinates.js";
import { type EntryState, recordedOf, statesOf } from "./families.js";
import type { Asked, EntriesQuery } from "./ledger.js";
import { type Linked, linkedAmong } from "./linked.js";
import { done, type Outcome, refused } from "./refusal.js";
import { BEFORE_EVERYTHING, END_OF_TIME } from "./replay.js";

/** One entry as it was posted, and what the ledger adds. */
export function entryText(row: Row, state: EntryState, zone: string, linked: Linked): object {
  const { id, body, frozen } = recordedOf(row);
  const linkedTo = linked.get(id);
  return {
    ...body,
    id,
    recorded: {
      ...recordedText(row, state, zone),
      ...(frozen === undefined ? {} : { frozen }),
      ...(linkedTo === undefined ? {} : { linkedTo }),
    },
  };
}

/** Who recorded a row, when, and whether it still counts. */
export function recordedText(row: Row, state: EntryState, zone: string) {
  const { by, source, recordedAt } = recordedOf(row);
  const at = formatInstant(recordedAt, zone);
  return { sequence: row.sequence, at, by, source, digest: row.digest, state };
}

/** Rows of one answer; a cursor says where the next begins, in words of this file alone. */
export function* entriesPage(encounter: string, query: EntriesQuery, now: Instant): Inquiry<Outcome<object>> {
  const chain = `encounter/${encounter}` as const;
  const resolved = yield* coordinates(chain, query, now);
  if (resolved.refused) return resolved;
  const { known, facts } = resolved.done;
  const rows =
    query.order === "recorded"
      ? yield* byRecording(chain, query, known.upTo)
      : yield* byTime(chain, query, known.upTo);
  if (rows === undefined) return badCursor();
  const [page, more] = [rows.slice(0, query.limit), rows.length > query.limit];
  const families = page.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids: page.map(({ id }) => id) });
  const whole = families.filter(({ sequence }) => sequence <= known.upTo);
  const states = statesOf(whole);
  const linked = yield* linkedAmong(known, facts.conventions.settingsAt, whole);
  const zoneAt = (at: Instant) => facts.conventions.stretchAt(at).zone;
  const last = page.at(-1);
  return done({
    ...written(resolved.done),
    entries: page.map((row) => entryText(row, states.get(row.sequence)!, zoneAt(row.recordedAt), linked)),
    ...(more && last !== undefined ? { next: cursorAfter(last, query.order) } : {}),
  });
}

export interface EntryQuery extends Pick<Asked, "asOf"> {
  readonly after?: string | undefined;
  /** The most corrections of one answer. */
  readonly limit: number;
}

/** One entry with its corrections, in the order in which they were recorded. */
export function* entryHistory(
  encounter: string,
  id: string,
  query: EntryQuery,
  now: Instant,
): Inquiry<Outcome<object>> {
  const chain = `encounter/${encounter}` as const;
  const resolved = yield* coordinates(chain, query, now);
  if (resolved.refused) return resolved;
  const { known, facts } = resolved.done;
  const after = sequenceOf(query.after);
  if (after === undefined) return badCursor();
  const stored = yield* ask({ ask: "ids", chain, ids: [id] });
  const family = stored.filter(({ sequence }) => sequence <= known.upTo);
  const row = family.find((one) => one.id === id);
  if (row === undefined) return refused({ problem: "not-found", what: "entry", id });
  const { conventions } = facts;
  const linked = yield* linkedAmong(known, conventions.settingsAt, family);
  const states = statesOf(family);
  const text = (one: Row) =>
    entryText(one, states.get(one.sequence)!, conventions.stretchAt(one.recordedAt).zone, linked);
  const corrections = family
    .filter(({ root, kind }) => root !== null && kind !== "variance-settled")
    .filter(({ sequence }) => sequence > Math.max(row.sequence, after));
  const page = corrections.slice(0, query.limit);
  return done({
    ...text(row),
    asOf: written(resolved.done).asOf,
    amendments: page.map(text),
    ...(corrections.length > page.length ? { next: String(page.at(-1)!.sequence) } : {}),
  });
}

type Chain = `encounter/${string}`;

/** The sequence a cursor says, 0 for none; undefined for what is no sequence. */
function sequenceOf(cursor: string | undefined): number | undefined {
  const sequence = Number(cursor ?? 0);
  return Number.isSafeInteger(sequence) && sequence >= 0 ? sequence : undefined;
}

/** How many rows are read at once while looking for those that fit. */
const AT_ONCE = 1_000;

function* byRecording(chain: Chain, query: EntriesQuery, upTo: number): Inquiry<Row[] | undefined> {
  const begins = sequenceOf(query.after);
  if (begins === undefined) return undefined;
  let after = begins;
  const found: Row[] = [];
  while (found.length <= query.limit) {
    const page = yield* ask({ ask: "page", chain, after, upTo, limit: AT_ONCE });
    found.push(...page.filter((row) => fits(row, query)));
    if (page.length < AT_ONCE) break;
    after = page.at(-1)!.sequence;
  }
  return found;
}

/** In order of the time an entry says, then of recording; a void has no time and is not among them. */
function* byTime(chain: Chain, query: EntriesQuery, upTo: number): Inquiry<Row[] | undefined> {
  const [at, sequence] = (query.after ?? "").split("-").map(Number);
  if (query.after !== undefined && (!Number.isSafeInteger(at) || !Number.isSafeInteger(sequence)))
    return undefined;
  const from = query.from ?? BEFORE_EVERYTHING;
  const rows = yield* ask({ ask: "span", chain, from, to: query.to ?? END_OF_TIME, upTo });
  return rows
    .filter((row) => row.at !== null && fits(row, query))
    .filter(
      (row) => query.after === undefined || row.at! > at! || (row.at === at && row.sequence > sequence!),
    )
    .sort((a, b) => a.at! - b.at! || a.sequence - b.sequence);
}

function fits(row: Row, { kinds, from, to }: EntriesQuery): boolean {
  if (kinds.length > 0 && !kinds.includes(row.kind)) return false;
  if (from === undefined && to === undefined) return true;
  return row.at !== null && row.at >= (from ?? BEFORE_EVERYTHING) && row.at < (to ?? END_OF_TIME);
}

function cursorAfter(row: Row, order: EntriesQuery["order"]): string {
  return order === "recorded" ? String(row.sequence) : `${row.at}-${row.sequence}`;
}

function badCursor() {
  const detail = "`after` is no cursor of this list; use the `next` of the page before.";
  return refused({ problem: "bad-parameter", errors: [{ parameter: "after", code: "no-cursor", detail }] });
}
