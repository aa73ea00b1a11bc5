/**
 * The balance of an encounter over a period: everything since the stay began is worked out, since what is
 * brought forward is part of the answer.
 */

import { type Balance, balanceOf } from "../balance/balance.js";
import { type Irrigation, irrigationOver } from "../balance/irrigation.js";
import type { Loss } from "../balance/lost.js";
import { type Urine, urineOver, WINDOWS } from "../balance/urine.js";
import { type Weighing, weighings } from "../balance/weight.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, type Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { balanceText } from "./balance-text.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { lineLabels } from "./labels.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { type By, type Interval, intervalsOf, periodOf } from "./period.js";
import { beginningOf, postedOver } from "./posted.js";
import { done, type Outcome, refused } from "./refusal.js";

export interface BalanceQuery extends Asked {
  readonly period: PeriodAsked;
  readonly by: By;
  /** Whole microlitres; absent, what the unit has set. */
  readonly precision?: number | undefined;
  /** From when on the cumulative figures count; absent, from the first that is charted of the stay. */
  readonly start?: Instant | undefined;
}

export function* balance(encounter: string, query: BalanceQuery, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const { stretches } = at.facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const divided = intervalsOf(period.done, query.by, stretches);
  if (divided.refused) return divided;
  if (query.start !== undefined && query.start > period.done.start) return startsTooLate();
  const { intervals } = divided.done;
  const made = yield* balanceOver(at, period.done, intervals, query);
  const lines = made.balance.intake.rows.flatMap(({ parts }) => parts.flatMap(({ line }) => line ?? []));
  const labels = yield* lineLabels(at.known, [...new Set(lines)]);
  const { zone } = shiftAt(stretches, period.done.start);
  return done({
    zone,
    from: formatInstant(period.done.start, zone),
    to: formatInstant(period.done.end, zone),
    ...written(at),
    ...balanceText(made, { at, period: period.done, intervals, labels, since: query.start ?? null }),
  });
}

function startsTooLate() {
  const detail =
    "`start` must not lie after the start of the period: what comes before it is brought forward.";
  return refused({
    problem: "bad-parameter",
    errors: [{ parameter: "start", code: "inconsistent", detail }],
  });
}

/** A balance and what stands beside it. */
export interface BalanceMade {
  readonly balance: Balance;
  readonly losses: readonly Loss[];
  readonly irrigation: readonly Irrigation[];
  readonly urine: readonly Urine[];
  /** The weights known by the end, that of the admission among them. */
  readonly weights: readonly Weighing[];
}

/** The balance of a period's intervals, as they are known and as far as they have come. */
export function* balanceOver(
  at: Coordinates,
  period: Period,
  intervals: readonly Interval[],
  asked: Pick<BalanceQuery, "precision" | "start">,
): Inquiry<BalanceMade> {
  const { facts } = at;
  const { admittedAt, conventions } = facts;
  const begins = earliest(beginningOf(facts), period.start);
  const { precision, start: since = begins } = asked;
  const { postings, losses, irrigated, entries, end } = yield* postedOver(at, {
    intervals,
    from: begins,
    since,
    precision,
  });
  const { outputs } = irrigated;
  const weights = weighings(entries, end);
  const judged = earliest(end, facts.dischargedAt ?? end);
  const { boundary } = conventions.settingsOfAmount(judged);
  const weight = weights.at(-1)?.weight ?? null;
  return {
    balance: balanceOf(postings, intervals.length),
    losses: losses.filter((loss) => loss.start < period.end && period.start < loss.end),
    irrigation: irrigationOver(irrigated, { start: period.start, end }, (one, by) => {
      const ends = conventions.settingsOfAmount(one).boundary === "ends" && one !== admittedAt;
      return ends ? one <= by : one < by;
    }),
    urine: WINDOWS.map((hours) => urineOver(hours, { outputs, weight, admittedAt, end: judged, boundary })),
    weights,
  };
}
