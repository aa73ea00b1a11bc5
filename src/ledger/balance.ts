/**
 * The balance of an encounter over a period: everything since the stay began is worked out, since what is
 * brought forward is part of the answer.
 */

import { awayByEntry } from "../balance/away.js";
import { type Balance, balanceOf } from "../balance/balance.js";
import { counted } from "../balance/counted.js";
import { groundOf } from "../balance/ground.js";
import { intakePostings } from "../balance/intake.js";
import { type Irrigation, irrigationOver } from "../balance/irrigation.js";
import type { Loss } from "../balance/lost.js";
import { outputPostings } from "../balance/output.js";
import { type Urine, urineOver, WINDOWS } from "../balance/urine.js";
import { type Weighing, weighings } from "../balance/weight.js";
import { stepOf } from "../conventions/settings.js";
import type { DeliveryLost, Placed } from "../infusion/entry.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import { shiftAt, shiftsIn } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { chainOf } from "./acknowledgements.js";
import { balanceText } from "./balance-text.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { lineLabels } from "./labels.js";
import type { Asked, PeriodAsked } from "./ledger.js";
import { type By, type Interval, intervalsOf, periodOf } from "./period.js";
import { done, type Outcome, refused } from "./refusal.js";
import { countingBetween } from "./replay.js";
import { BEFORE_ADMISSION } from "./sense.js";
import { type Window, windowOf } from "./window.js";

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
  const { until, facts } = at;
  const { admittedAt, conventions } = facts;
  const { settingsAt, stretches } = conventions;
  const begins = earliest(later(admittedAt, -BEFORE_ADMISSION), period.start);
  const anchors = shiftsIn(stretches, { start: begins, end: period.end }).map(({ start }) => start);
  const end = latest(begins, earliest(period.end, until));
  const { window, lost } = yield* wholeOf(at, anchors[0]!, end);
  const entries = window.entries.map(({ placed }) => placed).filter(({ entry }) => entry.at <= end);
  const given = asked.precision === undefined ? undefined : stepOf(asked.precision);
  const ground = groundOf({
    intervals,
    anchors,
    until,
    admittedAt,
    since: asked.start ?? begins,
    stepOf: (shift) => given ?? settingsAt(shift).precision,
    settingsAt,
    changes: conventions.settingsIn({ start: begins, end: period.end }).map(({ start }) => start),
    awayOf: awayByEntry(entries),
  });
  const came = window.collected.outputs.filter((output) => output.at <= end);
  const { taken, losses, irrigated } = counted({ ...window, entries, lost, came, settingsAt });
  const { outputs } = irrigated;
  const postings = [...intakePostings(taken, ground), ...outputPostings(outputs, ground)];
  const weights = weighings(entries, end);
  const judged = earliest(end, facts.dischargedAt ?? end);
  const { boundary } = settingsAt(judged);
  const weight = weights.at(-1)?.weight ?? null;
  return {
    balance: balanceOf(postings, intervals.length),
    losses: losses.filter((loss) => loss.start < period.end && period.start < loss.end),
    irrigation: irrigationOver(irrigated, { start: period.start, end }, (one, by) => {
      const ends = settingsAt(one).boundary === "ends" && one !== admittedAt;
      return ends ? one <= by : one < by;
    }),
    urine: WINDOWS.map((hours) => urineOver(hours, { outputs, weight, admittedAt, end: judged, boundary })),
    weights,
  };
}

/** The course since the stay began, and on to the end of every loss that the period has a part of. */
function* wholeOf(at: Coordinates, from: Instant, end: Instant) {
  const { known, until, facts } = at;
  const after = end < until ? yield* countingBetween(known, later(end, 1), later(until, 1)) : [];
  const charted = after.map(({ placed }) => placed).filter(isLost);
  const latelyLost = charted.filter(({ entry }) => entry.from < end);
  const to = latest(end, ...latelyLost.map(({ entry }) => earliest(entry.to, until)));
  let window: Window = yield* windowOf(known, { from, to, until }, facts.conventions);
  const own = window.entries.map(({ placed }) => placed).filter(isLost);
  // A loss that was charted in the period may reach beyond its end as well.
  const further = latest(to, ...own.map(({ entry }) => earliest(entry.to, until)));
  if (further > to) window = yield* windowOf(known, { from, to: further, until }, facts.conventions);
  const lost = new Map([...own, ...latelyLost].map((placed) => [placed.id, placed]));
  return { window, lost: [...lost.values()] };
}

function isLost(placed: Placed): placed is Placed<DeliveryLost> {
  return placed.entry.kind === "delivery-lost";
}
