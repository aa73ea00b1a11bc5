/** An audit as it is answered: n of N for every measure, and the encounters that were asked for in the order that was. */

import { isCounted, type Measure, overUnit, UNITS, type Value } from "../audit/measure.js";
import { MEASURES } from "../audit/measures.js";
import { CALCULATION } from "../infusion/calculation.js";
import { type Instant, instant, type Period } from "../time/instant.js";
import type { ShiftSpan } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { type Coordinates, written } from "./coordinates.js";
import { minutesOf, shownMilliseconds } from "./figures.js";
import { canonical, digestOf } from "./record.js";

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
export interface Row {
  readonly encounter: string;
  readonly at: Coordinates;
  readonly span: Period;
  readonly values: readonly Value[];
}

export interface Told {
  readonly unit: string;
  readonly query: UnitAuditQuery;
  readonly last: Instant;
  readonly until: Instant;
}

export function auditText(
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
        rows.map(({ values }) => asShown(measure, values[i]!)),
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

/** A value as its row shows it, so that what is shown adds up: durations are rounded there, and nothing else is. */
function asShown({ form }: Measure, value: Value): Value {
  return form === "duration" && typeof value === "number" ? shownMilliseconds(value) : value;
}

/** A value in the unit of its measure. */
function valueText({ form }: Measure, value: Value, time: (at: Instant) => string) {
  if (value === null || typeof value === "boolean") return value;
  switch (form) {
    case "volume":
      return millilitres(value);
    case "duration":
      return minutesOf(value);
    case "instant":
      return time(instant(value));
    default:
      return value;
  }
}
