/** Computed answers: volumes and flows of an encounter, ready to be serialised. */

import { stepOf } from "../conventions/settings.js";
import { amountOf } from "../infusion/amount.js";
import type { IntakeMeasured, Placed } from "../infusion/entry.js";
import { volumeRows } from "../infusion/volumes.js";
import type { Inquiry } from "../store/store.js";
import { type Instant, latest, type Period } from "../time/instant.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { flowsText, unattributedText, unknownText } from "./flow-text.js";
import { labelsOf } from "./labels.js";
import type { Asked, PeriodAsked, VolumesQuery } from "./ledger.js";
import { type Interval, intervalsOf, periodOf } from "./period.js";
import { done, type Outcome } from "./refusal.js";
import type { CountingEntry } from "./replay.js";
import { type VolumesText, volumesText } from "./volumes-text.js";
import { windowOf } from "./window.js";

const chainOf = (encounter: string) => `encounter/${encounter}` as const;

export function* volumes(encounter: string, query: VolumesQuery, now: Instant): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const { stretches, settingsAt } = at.facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const divided = intervalsOf(period.done, query.by, stretches);
  if (divided.refused) return divided;
  const figures = yield* volumesOver(at, period.done, divided.done, query);
  const { zone } = shiftAt(stretches, period.done.start);
  return done({
    zone,
    from: formatInstant(period.done.start, zone),
    to: formatInstant(period.done.end, zone),
    ...written(at),
    boundary: settingsAt(period.done.start).boundary,
    ...figures,
  });
}

/** The rows of a period's intervals, as they are known and as far as they have come. */
export function* volumesOver(
  at: Coordinates,
  period: Period,
  { intervals, anchors }: { intervals: readonly Interval[]; anchors: readonly Instant[] },
  asked: Pick<VolumesQuery, "per" | "precision">,
): Inquiry<VolumesText> {
  const { known, until, facts } = at;
  const { conventions } = facts;
  const { settingsAt, settingsOfAmount, stretches } = conventions;
  const window = yield* windowOf(known, { from: anchors[0]!, to: period.end, until }, settingsAt);
  const given = asked.precision === undefined ? undefined : stepOf(asked.precision);
  const stepOfShift = (shift: Instant) => given ?? settingsAt(shift).precision;
  const amounts = intakesOf(window.entries).flatMap(
    (one) => amountOf(one, settingsOfAmount(one.entry.at)) ?? [],
  );
  const rows = volumeRows(
    { ...window, amounts },
    { intervals, anchors, until, admittedAt: facts.admittedAt, stepOf: stepOfShift, per: asked.per },
  );
  const labels = yield* labelsOf(known, asked.per, rows);
  return volumesText(rows, labels, intervals, until, stretches);
}

export function intakesOf(entries: readonly CountingEntry[]): Placed<IntakeMeasured>[] {
  return entries
    .map(({ placed }) => placed)
    .filter((placed): placed is Placed<IntakeMeasured> => placed.entry.kind === "intake-measured");
}

/** The flows of a period one by one, for who draws or exports them. */
export function* flows(
  encounter: string,
  query: Asked & { readonly period: PeriodAsked },
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const { stretches, settingsAt } = at.facts.conventions;
  const period = periodOf(query.period, stretches);
  if (period.refused) return period;
  const { start, end } = period.done;
  const checked = intervalsOf(period.done, "hour", stretches);
  if (checked.refused) return checked;
  const window = yield* windowOf(at.known, { from: start, to: end, until: at.until }, settingsAt);
  const { zone } = shiftAt(stretches, start);
  return done({
    zone,
    from: formatInstant(start, zone),
    to: formatInstant(end, zone),
    ...written(at),
    flows: flowsText(window.collected.flows, window, zone),
    unattributed: window.unattributed.map((amount) => unattributedText(amount, zone)),
    unknown: window.unknown.map((span) => unknownText({ ...span, start: latest(span.start, start) }, zone)),
  });
}
