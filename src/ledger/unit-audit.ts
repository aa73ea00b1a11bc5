/**
 * The audit of a unit: how well one shift is documented, encounter by encounter and as n of N, each measure
 * with its definition. Who was there is read off the encounters' own chains, so that an audit as of an
 * earlier moment is what it was.
 */

import { isCounted, type Measure, overUnit, UNITS, type Value } from "../audit/measure.js";
import { MEASURES, measured } from "../audit/measures.js";
import { CALCULATION } from "../infusion/calculation.js";
import { CLOCKS_APART } from "../infusion/counter.js";
import { ask, type Inquiry, type Stay } from "../store/store.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { type ShiftSpan, shiftNamed, shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { auditedOf } from "./audited.js";
import { broughtForward } from "./brought-forward.js";
import { type Coordinates, coordinates, future, written } from "./coordinates.js";
import { type KeptWork, NOTHING_KEPT, type Works } from "./kept-work.js";
import { canonical, digestOf } from "./record.js";
import { done, type Outcome, refused } from "./refusal.js";
import type { StayFacts } from "./stay.js";
import { unitConventions, unitFacts } from "./unit.js";
import { valueText } from "./unit-audit-text.js";

export interface UnitAuditQuery {
  /** Such as `2026-03-04/day`. */
  readonly shift: string;
  /** Everything recorded by then, which is also what `until` is unless given; absent, everything. */
  readonly recordedBy?: Instant | undefined;
  readonly until?: Instant | undefined;
  /** Only the encounters that each of these counts, or that it does not though it can be told of them. */
  readonly counted: readonly string[];
  readonly notCounted: readonly string[];
  /** By which measure encounters are ordered, and whether the most comes first; absent, by their ids. */
  readonly sort?: string | undefined;
  readonly order: "most-first" | "least-first";
}

/** One row of the audit: the time of a stay in the unit within the shift. */
interface Row {
  readonly encounter: string;
  readonly at: Coordinates;
  readonly span: Period;
  readonly values: readonly Value[];
}

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

/** The stays that may have been in a unit in a shift, so far as was recorded by an instant. */
function* staysAround(
  unit: string,
  { start, end }: Period,
  recordedBy: Instant | undefined,
): Inquiry<Stay[]> {
  const after = start;
  const stays = yield* ask({ ask: "stays-since", unit, after, recordedBy: recordedBy ?? null });
  const around: Stay[] = [];
  for (const stay of stays) {
    if (stay.admittedAt >= end) continue;
    const isEnded = stay.unit === unit && stay.dischargedAt !== null && stay.dischargedAt <= start;
    // Of who has left by now that may have been recorded later.
    if (isEnded && recordedBy !== undefined) {
      const { recordedAt } = yield* ask({ ask: "head", chain: chainOf(stay.encounter) });
      if (recordedAt <= recordedBy) continue;
    }
    around.push(stay);
  }
  return around;
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
  const works = isNow ? yield* kept.at(at) : NOTHING_KEPT;
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

/** When a patient was in a unit within a shift, as far as that has come. */
function spansIn(facts: StayFacts, unit: string, shift: Period, until: Instant): Period[] {
  const { admittedAt, dischargedAt, conventions } = facts;
  const { stretches } = conventions;
  const over = earliest(shift.end, until, dischargedAt ?? until);
  const spans: { start: Instant; end: Instant }[] = [];
  for (const [i, stretch] of stretches.entries()) {
    if (stretch.unit !== unit) continue;
    const from = i === 0 ? admittedAt : latest(stretch.from, admittedAt);
    const start = latest(from, shift.start);
    const end = earliest(stretches[i + 1]?.from ?? over, over);
    if (start >= end) continue;
    const last = spans.at(-1);
    if (last?.end === start) last.end = end;
    else spans.push({ start, end });
  }
  return spans;
}

interface Told {
  readonly unit: string;
  readonly query: UnitAuditQuery;
  readonly last: Instant;
  readonly until: Instant;
}

function auditText(
  named: ShiftSpan,
  shift: Period,
  rows: readonly Row[],
  { unit, query, last, until }: Told,
) {
  const time = (at: Instant) => formatInstant(at, named.zone);
  const heads = rows.map(({ encounter, at }) => [encounter, at.asOf.sequence, at.asOf.digest]);
  return {
    unit,
    shift: query.shift,
    label: named.label ?? named.name,
    start: time(shift.start),
    end: time(shift.end),
    zone: named.zone,
    asOf: { recordedBy: time(last), digest: digestOf(canonical(heads)), calculation: CALCULATION },
    until: time(until),
    measures: MEASURES.map((measure, i) => {
      const { n, of, value } = overUnit(
        measure,
        rows.map(({ values }) => values[i]!),
      );
      const { key, label, definition, counting, over } = measure;
      const shown = valueText(measure, value, time);
      return { key, label, unit: UNITS[measure.form], definition, counting, n, of, over, value: shown };
    }),
    encounters: wanted(rows, query).map(({ encounter, at, span, values }) => ({
      encounter,
      from: time(span.start),
      to: time(span.end),
      asOf: written(at).asOf,
      values: Object.fromEntries(
        MEASURES.map((measure, i) => [measure.key, valueText(measure, values[i]!, time)]),
      ),
    })),
  };
}

/** The rows that are asked for, in the order that is. */
function wanted(rows: readonly Row[], { counted, notCounted, sort, order }: UnitAuditQuery): Row[] {
  const isAs = (row: Row, key: string, as: boolean) => {
    const { measure, place } = measureOf(key);
    return isCounted(measure, row.values[place]!) === as;
  };
  const own = rows.filter(
    (row) => counted.every((key) => isAs(row, key, true)) && notCounted.every((key) => isAs(row, key, false)),
  );
  if (sort === undefined) return own;
  const { place } = measureOf(sort);
  const direction = order === "most-first" ? -1 : 1;
  // What cannot be told comes last, whichever way; equal ones stay in order of their ids.
  return own.sort((a, b) => {
    const [of, than] = [a.values[place]!, b.values[place]!];
    if (of === null || than === null) return Number(of === null) - Number(than === null);
    return direction * (Number(of) - Number(than));
  });
}

function measureOf(key: string): { measure: Measure; place: number } {
  const place = MEASURES.findIndex((measure) => measure.key === key);
  if (place < 0) throw new RangeError(`no measure: ${key}`);
  return { measure: MEASURES[place]!, place };
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
