/**
 * The ways of saying how fast a primary or secondary starts, one strict object each: a rate (and the dose
 * it stands for), a dose, drops per minute, a time for the volume, or that nobody knows.
 */

import type { z } from "zod";
import { way } from "./kind.js";
import { Dose, DripRate, LimitVolume, Over, PlainRate, UnknownRate, VolumeToInfuse } from "./speed.js";

export const HOW_FAST =
  'must say how fast in exactly one way: rate and/or dose, dripRate, over, or rate "unknown".';

/** With `over` there must be a limit to reach: `"none"` has no place beside it. */
const FINITE = LimitVolume.optional().describe(
  "The volume in mL that `over` is for; absent: what the bag holds. There must be a limit here.",
);

/** The five ways of a kind that carries `shape` besides; `who` begins their sentences: "A primary". */
export function waysToStart<const K extends string, S extends z.core.$ZodLooseShape>(
  kind: K,
  who: string,
  shape: S,
) {
  const any = { ...shape, volumeToInfuse: VolumeToInfuse.optional() };
  const says = (description: string, channel: string, example: object) => ({
    description: `${who} starts ${description}`,
    example: { channel, ...example },
  });
  return [
    way(
      kind,
      "ByRate",
      says(
        "at a rate. Where a dose is sent too, the rate is what flows and a disagreement is found.",
        "pump-1",
        {
          rate: 75,
        },
      ),
      { ...any, rate: PlainRate, dose: Dose.optional() },
    ),
    way(
      kind,
      "ByDose",
      says("at a dose, from which the rate follows, once, when recorded.", "pump-1", {
        dose: { value: 0.05, unit: "ug/kg/min" },
      }),
      { ...any, dose: Dose },
    ),
    way(
      kind,
      "ByDrops",
      says("at so many drops per minute; the channel's drop factor gives the rate.", "drip-1", {
        dripRate: 20,
      }),
      { ...any, dripRate: DripRate },
    ),
    way(
      kind,
      "OverTime",
      says("so that its volume to infuse takes so long.", "pump-1", { over: "PT8H", volumeToInfuse: 1000 }),
      { ...shape, volumeToInfuse: FINITE, over: Over },
    ),
    way(
      kind,
      "WideOpen",
      says("and nobody knows how fast; levels of its bag say what it delivered.", "drip-1", {
        rate: "unknown",
      }),
      { ...any, rate: UnknownRate },
    ),
  ] as const;
}
