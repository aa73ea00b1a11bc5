/** Amounts of drugs as they are answered, per additive and interval, beside the volumes that carried them. */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { Certainty } from "./balance.js";
import { AsOf, ShownVolume, Until } from "./head.js";
import { Interval } from "./volumes.js";

const ExactAmount = z
  .string()
  .regex(/^-?\d+(?:\/\d+)?$/)
  .describe("The amount exactly: a whole number of the unit, or a fraction of two.");

const Row = z
  .strictObject({
    name: z.string().describe("The additive, as it was charted first."),
    unit: z.string().describe("The unit in which the bag's amount was charted, as UCUM spells it."),
    amounts: z
      .array(z.number().nullable())
      .describe("Per interval, in the unit, to 6 decimals; null where it has not begun."),
    exact: z
      .array(ExactAmount.nullable())
      .describe("Per interval: the same amounts exactly, in the unit; null where it has not begun."),
    certainty: z
      .array(Certainty.nullable())
      .describe(
        "Per interval: at least, where nobody knows what flowed, or something was added to the bag; at most, where something was lost, or the bag gave more than all that was put in.",
      ),
    total: z.number().describe("The sum of the amounts shown."),
    totalExact: ExactAmount,
    totalCertainty: Certainty,
    volumes: z.array(ShownVolume).describe("Per interval: the fluid that carried it, in mL."),
    volume: z.number().describe("The sum of those volumes, in mL."),
  })
  .meta({ id: "DrugDelivered", description: "What was delivered of one additive." });

export const DrugAmountsAnswer = z
  .strictObject({
    zone: z.string().describe("The zone of the unit's clocks."),
    from: InstantText,
    to: InstantText,
    asOf: AsOf,
    until: Until,
    intervals: z
      .array(Interval)
      .describe("In order of time, without gaps; every list per interval has one value for each."),
    rows: z
      .array(Row)
      .describe("One for each additive and unit; empty where no bag that flowed had additives."),
  })
  .meta({ id: "DrugAmounts", description: "Amounts of drugs per interval." });
