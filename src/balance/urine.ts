/**
 * Urine per body weight and hour over the windows that are looked at, each with what it was reckoned over; or
 * why it cannot be judged. A figure, never advice: windows are those of KDIGO 2012 (Kidney Int Suppl 2:1–138),
 * whose stages are told over 6, 12 and 24 hours, and the last hour.
 */

import { type BodyWeight, kilograms } from "../infusion/body-weight.js";
import { inMillilitres, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { decimal, dividedBy, ratio, times } from "../infusion/ratio.js";
import { earliest, HOUR, type Instant, later, type Period } from "../time/instant.js";
import type { Output } from "./true-output.js";

export const WINDOWS = [1, 6, 12, 24] as const;

export interface UrineAsked {
  readonly outputs: readonly Output[];
  /** The last weight known. */
  readonly weight: BodyWeight | null;
  readonly admittedAt: Instant;
  readonly end: Instant;
  readonly boundary: "ends" | "starts";
}

export interface Urine extends Period {
  readonly hours: number;
  /** What was measured in the window. */
  readonly volume: Volume;
  /** To a hundredth; null where it cannot be judged. */
  readonly perKilogramAndHour: number | null;
  /** Why not, going on after "cannot judge, because". */
  readonly why: string | null;
  /** Since when it was collected, where that reaches back before the window. */
  readonly collectedSince: Instant | null;
}

export function urineOver(hours: number, asked: UrineAsked): Urine {
  const { weight, end } = asked;
  const start = later(end, -hours * HOUR);
  const own = asked.outputs.filter((one) => one.category === "urine" && isIn(one.at, start, asked));
  const volume = own.map((one) => one.volume).reduce(plus, NOTHING);
  const since = own.flatMap(({ from }) => (from !== null && from < start ? [from] : []));
  const why = obstacle(own, start, volume, asked);
  return {
    hours,
    start,
    end,
    volume,
    perKilogramAndHour: why === null ? perKilogramAndHour(volume, weight!, hours) : null,
    why,
    collectedSince: since.length === 0 ? null : earliest(...since),
  };
}

/** Millilitres per kilogram and hour, to a hundredth. */
export function perKilogramAndHour(volume: Volume, weight: BodyWeight, hours: number): number {
  return decimal(dividedBy(inMillilitres(volume), times(kilograms(weight), ratio(hours))), 2);
}

/** An amount on the boundary of a window is in it as it would be in an interval. */
function isIn(at: Instant, start: Instant, { end, boundary }: UrineAsked): boolean {
  return boundary === "ends" ? start < at && at <= end : start <= at && at < end;
}

function obstacle(
  own: readonly Output[],
  start: Instant,
  volume: Volume,
  { outputs, weight, admittedAt, end }: UrineAsked,
): string | null {
  if (weight === null) return "no weight is known";
  if (start < admittedAt) return "the patient has not been here that long";
  const seen = outputs.some((one) => one.category === "urine" && one.at <= end);
  if (!seen) return "no urine was ever charted";
  const leftOut = own.reduce((sum, one) => sum + one.leftOut, 0);
  if (leftOut > 0) return `urine came ${leftOut === 1 ? "once" : `${leftOut} times`} and nobody measured it`;
  if (own.some(({ unsure, orMore }) => unsure || orMore))
    return "nobody knows how much irrigant came back with it";
  return volume < NOTHING ? "more irrigant went in than came out" : null;
}
