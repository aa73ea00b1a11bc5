/**
 * How fast a flow or bolus goes, and how much a bolus is, of what was sent and what that came to when it
 * was recorded. Where a rate was sent beside a dose, the rate is what flows.
 */

import type { FlowRate, Microlitres } from "../infusion/entry.js";
import type { Rate } from "../infusion/quantity.js";
import type { PostedFact } from "./entries/facts.js";
import { microlitres, rate } from "./quantity.js";

/** What an entry came to when it was recorded, in units of the wire. */
export interface Resolved {
  /** mL/h, at most three decimals. */
  readonly rate?: number | "unknown" | undefined;
  /** mL, at most three decimals; of a bolus given by dose. */
  readonly volume?: number | undefined;
  /** mL/h that a dose alone would come to, where a rate was sent beside it. */
  readonly doseRate?: number | undefined;
  /** Of a level: from when on the bag holds so much, where that is later than when it was read. */
  readonly countsFrom?: string | undefined;
}

type Flow = Extract<PostedFact, { kind: "flow-started" | "rate-changed" | "secondary-started" }>;
type Bolus = Extract<PostedFact, { kind: "bolus-started" }>;

/** Throws a RangeError when neither the entry nor `resolved` says how fast. */
export function flowRate(posted: Flow, resolved: Resolved): FlowRate {
  if (!("rate" in posted)) return resolved.rate === "unknown" ? "unknown" : resolvedRate(resolved);
  return posted.rate === "unknown" ? posted.rate : rate(posted.rate);
}

/** Throws a RangeError when neither the entry nor `resolved` says how fast. */
export function bolusRate(posted: Bolus, resolved: Resolved): Rate {
  return "rate" in posted ? rate(posted.rate) : resolvedRate(resolved);
}

/** Throws a RangeError when neither the entry nor `resolved` says how much. */
export function bolusVolume(posted: Bolus, resolved: Resolved): Microlitres {
  if ("volume" in posted) return microlitres(posted.volume);
  if (resolved.volume === undefined) throw new RangeError("nothing says what volume this came to");
  return microlitres(resolved.volume);
}

function resolvedRate(resolved: Resolved): Rate {
  if (typeof resolved.rate !== "number") throw new RangeError("nothing says what rate this came to");
  return rate(resolved.rate);
}
