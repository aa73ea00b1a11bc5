/**
 * How fast and how much: the values from which a flow's rate and limit come. A dose or drops per
 * minute become a rate once, when recorded; here they are only written down.
 */

import { z } from "zod";
import { Duration } from "../instant.js";
import { Amount, atMostDecimals, LabelVolume, RateNumber, Volume } from "../quantity.js";
import { words } from "../text.js";
import { UnitOfMeasure } from "./bags.js";

const of = words(
  "Which additive of the bag is meant, by its name; absent when there is only one.",
).optional();

export const Dose = z
  .strictObject({
    value: Amount.describe(
      "The number, above 0 and at most 1,000,000,000, at most 6 decimals; more are refused.",
    ),
    unit: UnitOfMeasure,
    of,
  })
  .meta({
    id: "Dose",
    description: "A dose per time, per body weight or not. It becomes a rate once, when recorded.",
    examples: [{ value: 0.05, unit: "ug/kg/min", of: "Norepinephrine" }],
  });

export const DrugAmount = z
  .strictObject({
    value: Amount.describe(
      "The number, above 0 and at most 1,000,000,000, at most 6 decimals; more are refused.",
    ),
    unit: UnitOfMeasure,
    of,
  })
  .meta({
    id: "DrugAmount",
    description: "An amount of drug. It becomes a volume once, when recorded.",
    examples: [{ value: 2500, unit: "[iU]" }],
  });

const RATE_OR_UNKNOWN = 'must be a number of mL/h above 0, or the word "unknown".';

export const PlainRate = RateNumber.describe(
  "The rate in mL/h, above 0, at most 3 decimals; more are refused.",
);

export const DripRate = z
  .number()
  .gt(0)
  .max(2_000)
  .check(atMostDecimals(3))
  .describe(
    "Drops per minute, above 0 and at most 2,000, at most 3 decimals; with the set's drop factor they give the rate.",
  );

export const UnknownRate = z
  .literal("unknown", { error: RATE_OR_UNKNOWN })
  .describe("Nobody knows how fast: a gravity set wide open.");

export const Over = Duration.describe("The time in which the volume is to be delivered.");

/** A limit in mL; 0 ends the flow at once. */
export const LimitVolume = Volume.describe("The volume in mL after which the flow ends, at most 3 decimals.");

export const VolumeToInfuse = z
  .union([LimitVolume, z.literal("none")], { error: 'must be a number of mL, or the word "none".' })
  .meta({
    id: "VolumeToInfuse",
    description:
      'The volume in mL after which the flow ends or drops to its keep-open rate; `"none"` for no limit. Where it may be absent, it is then what the bag holds. null is refused.',
    examples: [500, "none"],
  });

export const BolusVolume = LabelVolume.describe(
  "The volume of the bolus in mL, above 0, at most 3 decimals.",
);
