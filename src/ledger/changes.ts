/**
 * What changed between two moments of recording: the entries in between, and the figures they moved, both
 * computed up to the same instant, so that time alone changes nothing. Each figure names what moved it.
 */

import { ask, type Inquiry, type Row } from "../store/store.js";
import { earliest, type Instant } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { intervalsSince } from "./effects.js";
import { entryText } from "./entries.js";
import { statesOf } from "./families.js";
import { type Figures, figuresOver, movedBetween } from "./figures.js";
import type { Asked, AsOf } from "./ledger.js";
import { linkedAmong } from "./linked.js";
import { movedFrom, toldSince } from "./reach.js";
import { done, type Outcome, refused } from "./refusal.js";
import { placeText, valueText } from "./signature-text.js";
import { causesOf, momentAsOf, rowsBetween, stepsBetween } from "./steps.js";

export interface ChangesQuery extends Asked {
  /** The earlier of the two moments. */
  readonly since: AsOf;
}

/** How many entries one answer tells of. */
const MOST_ENTRIES = 1_000;

export function* changes(encounter: string, query: ChangesQuery, now: Instant): Inquiry<Outcome<object>> {
  const chain = chainOf(encounter);
  const resolved = yield* coordinates(chain, query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const earlier = yield* coordinates(chain, { asOf: query.since }, now);
  if (earlier.refused)
    return earlier.refused.problem === "bad-parameter" ? ofSince(earlier.refused) : earlier;
  const since = earlier.done.asOf;
  const { upTo } = at.known;
  if (since.sequence > upTo) return badSince("inconsistent", "`since` must not lie after `asOf`.");
  if (upTo - since.sequence > MOST_ENTRIES) {
    const detail = `More than ${MOST_ENTRIES} entries were recorded in between; ask in parts, by \`asOf\`.`;
    return badSince("too-long", detail);
  }
  const rows = yield* rowsBetween(chain, since.sequence, upTo);
  const families = rows.length === 0 ? [] : yield* ask({ ask: "ids", chain, ids: rows.map(({ id }) => id) });
  const whole = families.filter(({ sequence }) => sequence <= upTo);
  const { zone } = at.facts.conventions.stretchAt(since.recordedAt);
  return done({
    since: {
      sequence: since.sequence,
      recordedAt: formatInstant(since.recordedAt, zone),
      digest: since.digest,
    },
    ...written(at),
    entries: yield* entriesTexts(at, rows, whole),
    figures: yield* movedFigures(at, since.sequence, rows, whole),
  });
}

function* entriesTexts({ known, facts }: Coordinates, rows: readonly Row[], whole: readonly Row[]) {
  const { settingsAt, stretchAt } = facts.conventions;
  const states = statesOf(whole);
  const linked = yield* linkedAmong(known, settingsAt, whole);
  return rows.map((row) =>
    entryText(row, states.get(row.sequence) ?? "current", stretchAt(row.recordedAt).zone, linked),
  );
}

/** The figures that differ, from the shift on in which what was recorded in between, or what it corrects, begins to tell. */
function* movedFigures(at: Coordinates, since: number, rows: readonly Row[], whole: readonly Row[]) {
  const corrected = new Set(rows.flatMap(({ root }) => root ?? []));
  const concerned = [...rows, ...whole.filter(({ root, sequence }) => corrected.has(root ?? sequence))];
  const [first, ...others] = concerned.flatMap((row) => row.at ?? []);
  if (first === undefined) return [];
  const then = yield* momentAsOf(at, since);
  if (then === undefined) return [];
  const happened = earliest(first, ...others);
  const told = [yield* toldSince(then, happened), yield* toldSince(at, happened)];
  const from = yield* movedFrom(at, happened, told, at.until);
  const intervals = intervalsSince(at.facts, from, at.until);
  if (intervals.length === 0) return [];
  const before: Figures = yield* figuresOver(then, intervals);
  const after: Figures = yield* figuresOver(at, intervals);
  const steps = yield* stepsBetween(at, rows, before, after);
  return movedBetween(before, after).map((one) => {
    const { of } = one.row;
    const values = { before: valueText(one.before, of), after: valueText(one.after, of) };
    return { ...placeText(one, at), ...values, causes: causesOf(one, steps) };
  });
}

function ofSince({ errors }: Extract<Refused, { problem: "bad-parameter" }>) {
  return refused({
    problem: "bad-parameter",
    errors: errors.map((error) => ({
      ...error,
      parameter: "since",
      detail: error.detail.replaceAll("`asOf`", "`since`"),
    })),
  });
}

type Refused = NonNullable<Outcome<never>["refused"]>;

function badSince(code: string, detail: string) {
  return refused({ problem: "bad-parameter", errors: [{ parameter: "since", code, detail }] });
}
