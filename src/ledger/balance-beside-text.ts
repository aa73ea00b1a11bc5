/** What stands beside a balance, as JSON: how sure a figure is, weights, and the conventions in force. */

import type { Cumulative } from "../balance/balance.js";
import { type Certainty, isCertain } from "../balance/certainty.js";
import { shareOfWeight, type Weighing, weightAtAdmission, weightChange } from "../balance/weight.js";
import type { Conventions } from "../conventions/dated.js";
import type { BodyWeight } from "../infusion/body-weight.js";
import { type Instant, latest, type Period } from "../time/instant.js";
import { shiftAt, shiftsIn } from "../time/shifts.js";
import { encodeSettings } from "../wire/settings-codec.js";

export function certaintyText(certainty: Certainty): string {
  if (isCertain(certainty)) return "exact";
  if (!certainty.less) return "at-least";
  return certainty.more ? "uncertain" : "at-most";
}

/** The net as a share of the weight at admission, and how the weight itself changed: information, nothing more. */
export function weightTexts(
  weights: readonly Weighing[],
  admittedAt: Instant,
  net: Cumulative,
  time: (instant: Instant) => string,
) {
  const [first, last] = [weightAtAdmission(weights, admittedAt), weights.at(-1)];
  if (first === undefined || last === undefined) {
    const why = "Cannot judge, because no weight is known.";
    return { shareOfAdmissionWeight: { percent: null, weight: null, at: null, why }, weightChange: null };
  }
  const said = ({ at, weight }: Weighing) => ({ at: time(at), weight: weightText(weight) });
  return {
    shareOfAdmissionWeight: {
      percent: shareOfWeight(net.exact, first.weight),
      certainty: certaintyText(net.certainty),
      ...said(first),
    },
    weightChange:
      first === last
        ? null
        : { from: said(first), to: said(last), kilograms: weightChange(first.weight, last.weight) },
  };
}

function weightText({ value, unit }: BodyWeight) {
  return { value: value / 1_000, unit };
}

/**
 * The conventions in force, one after the other where they change within the period. Figures are rounded as was
 * decided by the start of their shift.
 */
export function conventionsText(
  { settingsIn, settingsAt, stretches }: Conventions,
  period: Period,
  time: (instant: Instant) => string,
) {
  const shifts = shiftsIn(stretches, period).map(({ start }) => start);
  const inForce = settingsIn(period).flatMap(({ start, end, settings }) => {
    const cuts = [start, ...shifts.filter((at) => start < at && at < end), end];
    return cuts.slice(1).map((cut, i) => ({ start: cuts[i]!, end: cut, settings }));
  });
  const spans: { start: Instant; end: Instant; told: string; what: object }[] = [];
  for (const { start, end, settings } of inForce) {
    const { precision: used } = settingsAt(shiftAt(stretches, start).start);
    const { household, iceFraction, softFoods, boundary, precision, counts } = encodeSettings({
      ...settings,
      precision: used,
    });
    const what = { household, iceFraction, softFoods, boundary, precision, counts, gramsPerMillilitre: 1 };
    const told = JSON.stringify(what);
    const before = spans.at(-1);
    if (before?.told === told) before.end = latest(before.end, end);
    else spans.push({ start, end, told, what });
  }
  return spans.map(({ start, end, what }) => ({ start: time(start), end: time(end), ...what }));
}
