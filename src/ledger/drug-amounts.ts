/** The amounts of drugs that were delivered over a period, beside the volumes that carried them. */

import { CERTAIN, together } from "../balance/certainty.js";
import { type DrugAmounts, drugAmounts } from "../balance/drug-amounts.js";
import { stepOf } from "../conventions/settings.js";
import type { DeliveryLost } from "../infusion/entry.js";
import { type Ratio, ratio, reduced, sum, times } from "../infusion/ratio.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { type Instant, later } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { millilitres } from "../wire/quantity.js";
import { chainOf } from "./acknowledgements.js";
import { certaintyText } from "./balance-beside-text.js";
import { coordinates, written } from "./coordinates.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { type By, intervalsOf, periodOf } from "./period.js";
import { done, type Outcome } from "./refusal.js";
import { countingBetween, type Known } from "./replay.js";
import { windowOf } from "./window.js";

export interface DrugAmountsQuery extends Asked {
  readonly period: PeriodAsked;
  readonly by: By;
  /** Whole microlitres, for the volumes; absent, what the unit has set. */
  readonly precision?: number | undefined;
}

export function* drugAmountsOf(
  encounter: string,
  query: DrugAmountsQuery,
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const { known, until, facts } = resolved.done;
  const { conventions, admittedAt } = facts;
  const { stretches, settingsAt } = conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const divided = intervalsOf(period.done, query.by, stretches);
  if (divided.refused) return divided;
  const { intervals, anchors } = divided.done;
  const from = anchors[0]!;
  const window = yield* windowOf(known, { from, to: period.done.end, until }, settingsAt);
  const lost = yield* lossesSince(known, from, until);
  const given = query.precision === undefined ? undefined : stepOf(query.precision);
  const stepOfShift = (shift: Instant) => given ?? settingsAt(shift).precision;
  const asked = { intervals, anchors, until, admittedAt, stepOf: stepOfShift };
  // What irrigates reaches no patient.
  const isGiven = ({ line }: { readonly line: string | null }) =>
    line === null || !window.state.irrigating.has(line);
  const toPatient = {
    ...window,
    deliveries: window.deliveries.filter(isGiven),
    unattributed: window.unattributed.filter(isGiven),
    unknown: window.unknown.filter(isGiven),
  };
  const rows = drugAmounts({ ...toPatient, lost }, asked);
  const zoneOf = (at: Instant) => shiftAt(stretches, at).zone;
  const time = (at: Instant) => formatInstant(at, zoneOf(at));
  const begun = intervals.map(({ start }) => start < until);
  return done({
    zone: zoneOf(period.done.start),
    from: time(period.done.start),
    to: formatInstant(period.done.end, zoneOf(period.done.start)),
    ...written(resolved.done),
    intervals: intervals.map(({ start, end, label }) => ({
      start: time(start),
      end: formatInstant(end, zoneOf(start)),
      label,
      complete: end <= until,
    })),
    rows: rows.map((row) => rowText(row, begun)),
  });
}

/** What was lost since an instant, as far as it is charted by `until`: that may be long after. */
function* lossesSince(known: Known, from: Instant, until: Instant): Inquiry<DeliveryLost[]> {
  const charted = yield* countingBetween(known, later(from, -DAY), later(until, 1));
  return charted.flatMap(({ placed: { entry } }) =>
    entry.kind === "delivery-lost" && entry.to > from ? [entry] : [],
  );
}

const MILLIONTH = ratio(1, 1_000_000);

function rowText({ name, unit, shown, exact, volumes, certainty }: DrugAmounts, begun: readonly boolean[]) {
  const perInterval = <T, U>(all: readonly T[], text: (one: T) => U) =>
    all.map((one, i) => (begun[i] ? text(one) : null));
  return {
    name,
    unit,
    amounts: perInterval(shown, (millionths) => millionths / 1_000_000),
    exact: perInterval(exact, exactText),
    certainty: perInterval(certainty, certaintyText),
    total: shown.reduce((all, one) => all + one, 0) / 1_000_000,
    totalExact: exactText(exact.reduce(sum)),
    totalCertainty: certaintyText(certainty.reduce(together, CERTAIN)),
    volumes: perInterval(volumes, millilitres),
    volume: millilitres(volumes.reduce((all, one) => all + one, 0)),
  };
}

/** A whole number of the unit, or a fraction of two: "1250" or "12500/3". */
function exactText(millionths: Ratio): string {
  const { n, d } = reduced(times(millionths, MILLIONTH));
  return d === 1n ? String(n) : `${n}/${d}`;
}
