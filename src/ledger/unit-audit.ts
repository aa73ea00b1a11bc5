/**
 * The audit of a unit: how well one shift is documented, encounter by encounter and as n of N, each measure
 * with its definition. Who was there is read off the encounters' own chains, so that an audit as of an
 * earlier moment is what it was.
 */

import type { Value } from "../audit/measure.js";
import { measured } from "../audit/measures.js";
import { CLOCKS_APART } from "../infusion/counter.js";
import type { Inquiry, Stay } from "../store/store.js";
import { earliest, type Instant, later, type Period } from "../time/instant.js";
import { shiftNamed, shiftsIn } from "../time/shifts.js";
import { chainOf } from "./acknowledgements.js";
import { auditedOf } from "./audited.js";
import { broughtForward } from "./brought-forward.js";
import { type Coordinates, coordinates, future } from "./coordinates.js";
import type { KeptWork, Works } from "./kept-work.js";
import { done, type Outcome, refused } from "./refusal.js";
import { unitConventions, unitFacts } from "./unit.js";
import { auditText, type Row, type UnitAuditQuery } from "./unit-audit-text.js";
import { spansIn, staysAround } from "./who-was-there.js";

export function* unitAudit(
  unit: string,
  query: UnitAuditQuery,
  now: Instant,
  kept: KeptWork,
): Inquiry<Outcome<object>> {
  const { recordedBy } = query;
  if (recordedBy !== undefined && recordedBy > now) return future("asOf");
  if (query.until !== undefined && query.until > now) return future("until");
  const last = recordedBy ?? now;
  const until = earliest(query.until ?? last, last);
  const facts = yield* unitFacts(unit, recordedBy);
  if (facts === undefined) return noUnitBy(unit, recordedBy);
  const { stretches } = unitConventions(facts);
  const [date = "", name = ""] = query.shift.split("/");
  const shift = shiftNamed(stretches, date, name);
  if (shift === undefined || shift.start >= until) return noSuchShift(query.shift);
  const isNow = recordedBy === undefined && query.until === undefined;
  const rows: Row[] = [];
  for (const stay of yield* staysAround(unit, shift, recordedBy)) {
    rows.push(...(yield* rowsOf(stay, unit, shift, { recordedBy, until, isNow }, now, kept)));
  }
  rows.sort((a, b) => compare(a.encounter, b.encounter) || a.span.start - b.span.start);
  const [named] = shiftsIn(stretches, shift);
  return done(auditText(named!, shift, rows, { unit, query, last, until }));
}

function* rowsOf(
  { encounter }: Stay,
  unit: string,
  shift: Period,
  { recordedBy, until, isNow }: Pick<UnitAuditQuery, "recordedBy" | "until"> & { readonly isNow: boolean },
  now: Instant,
  kept: KeptWork,
): Inquiry<Row[]> {
  const asOf = recordedBy === undefined ? undefined : { recordedBy };
  const resolved = yield* coordinates(chainOf(encounter), { asOf, until }, now);
  // Nothing was recorded of it by then.
  if (resolved.refused) return [];
  const at = resolved.done;
  const spans = spansIn(at.facts, unit, shift, at.until);
  if (spans.length === 0) return [];
  const works = yield* kept.at(at, isNow);
  const rows: Row[] = [];
  for (const span of spans) {
    rows.push({ encounter, at, span, values: yield* valuesOf(at, span, works) });
  }
  return rows;
}

/** The values of every measure; of a span that is over they are kept. */
function* valuesOf(at: Coordinates, span: Period, works: Works): Inquiry<readonly Value[]> {
  const before = yield* broughtForward(at, span.start, works);
  const { endConfirmedWithin } = at.facts.conventions.settingsAt(span.end);
  const settled = later(span.end, endConfirmedWithin + CLOCKS_APART);
  const name = `audit ${span.start} ${span.end} ${before?.known} ${before?.since}`;
  return yield* works.of(name, settled, function* () {
    return measured(yield* auditedOf(at, span, before));
  });
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function noSuchShift(shift: string) {
  const detail = `No shift "${shift}" has begun here; a shift is named like 2026-03-04/day.`;
  return refused({ problem: "bad-parameter", errors: [{ parameter: "shift", code: "not-there", detail }] });
}

function noUnitBy(unit: string, recordedBy: Instant | undefined) {
  if (recordedBy === undefined) return refused({ problem: "not-found", what: "unit", id: unit });
  const detail = "This unit was not opened by then.";
  return refused({
    problem: "bad-parameter",
    errors: [{ parameter: "asOf", code: "before-the-record", detail }],
  });
}
