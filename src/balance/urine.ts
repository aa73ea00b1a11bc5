/**
 * Urine per body weight and hour over the windows that are looked at, each with what it was reckoned over; or
 * why it cannot be judged. A figure, never advice: windows are those of KDIGO 2012 (Kidney Int Suppl 2:1–138),
 * whose stages are told over 6, 12 and 24 hours, and the last hour.
 *
 * Nothing charted is not nothing made: a window in which nobody measured, or not lately, cannot be judged.
 */

import { type BodyWeight, kilograms } from "../infusion/body-weight.js";
import { inMillilitres, minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { decimal, dividedBy, ratio, times } from "../infusion/ratio.js";
import { earliest, HOUR, type Instant, later, latest, type Period } from "../time/instant.js";
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
  /** What was measured in the window; of what was collected since before it, the even share of its time. */
  readonly volume: Volume;
  /** To a hundredth; null where it cannot be judged. */
  readonly perKilogramAndHour: number | null;
  /** Why not; null where it can. */
  readonly why: Obstacle | null;
  /** When urine was last measured in the window. */
  readonly measuredAt: Instant | null;
  /** Since when some of it was collected, where that is charted and reaches back before the window. */
  readonly collectedSince: Instant | null;
}

/** Why a window cannot be judged. */
export type Obstacle =
  | {
      readonly is:
        | "no-weight"
        | "not-here"
        | "never-charted"
        | "not-measured"
        | "irrigant-unknown"
        | "negative";
    }
  | { readonly is: "not-since" | "collected-longer"; readonly at: Instant }
  | { readonly is: "unmeasured"; readonly times: number };

export function urineOver(hours: number, asked: UrineAsked): Urine {
  const { weight, end } = asked;
  const start = later(end, -hours * HOUR);
  const own = asked.outputs.filter((one) => one.category === "urine" && isIn(one.at, start, asked));
  const volume = own.map((one) => shareIn(one, start)).reduce(plus, NOTHING);
  const since = own.flatMap(({ from }) => (from !== null && from < start ? [from] : []));
  const measured = own.filter(({ leftOut }) => leftOut === 0).map(({ at }) => at);
  const measuredAt = measured.length === 0 ? null : latest(...measured);
  const why = obstacle({ own, start, volume, measuredAt, ...asked });
  return {
    hours,
    start,
    end,
    volume,
    perKilogramAndHour: why === null ? perKilogramAndHour(volume, weight!, hours) : null,
    why,
    measuredAt,
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

/** Of what was collected since before the window, the share of the time that lies in it. */
function shareIn({ from, at, volume }: Output, start: Instant): Volume {
  if (from === null || from >= start) return volume;
  const before = (volume * BigInt(start - from)) / BigInt(at - from);
  return minus(volume, before as Volume);
}

/** A sum says little of a window of which half, or six hours, are still to be measured (our own limit). */
function longestUnmeasured(window: number): number {
  return Math.min(6 * HOUR, Math.max(HOUR, window / 2));
}

interface Found extends UrineAsked {
  readonly own: readonly Output[];
  readonly start: Instant;
  readonly volume: Volume;
  readonly measuredAt: Instant | null;
}

function obstacle({
  own,
  start,
  volume,
  measuredAt,
  outputs,
  weight,
  admittedAt,
  end,
}: Found): Obstacle | null {
  if (weight === null) return { is: "no-weight" };
  if (start < admittedAt) return { is: "not-here" };
  const seen = outputs.some((one) => one.category === "urine" && one.at <= end);
  if (!seen) return { is: "never-charted" };
  const leftOut = own.reduce((sum, one) => sum + one.leftOut, 0);
  if (leftOut > 0) return { is: "unmeasured", times: leftOut };
  if (measuredAt === null) return { is: "not-measured" };
  if (end - measuredAt > longestUnmeasured(end - start)) return { is: "not-since", at: measuredAt };
  const longer = own.find(({ from, at }) => from !== null && from < start && at - from > end - start);
  if (longer !== undefined) return { is: "collected-longer", at: longer.from! };
  if (own.some(({ unsure, orMore }) => unsure || orMore)) return { is: "irrigant-unknown" };
  return volume < NOTHING ? { is: "negative" } : null;
}
