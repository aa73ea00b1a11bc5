/** What three ways say of the same volume, as they are answered. */

import { z } from "zod";
import { TotalName } from "../entries/totals.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { COORDINATES, MaybeMillilitres, Millilitres } from "./explained.js";

const Why = z.string().describe("Why, in plain words.");

/** What all figures of a channel or bag in the period rest on. */
const RESTING = {
  restsOn: z
    .enum(["reading", "level", "rate-time", "several"])
    .nullable()
    .describe(
      "What the figures rest on; `several` is on readings for a part of it; null where nothing flowed.",
    ),
  why: Why,
};

const TotalsTogether = z
  .strictObject({
    start: InstantText.describe("Where the first of their spans begins."),
    end: InstantText.describe("The last of the readings."),
    rateTime: Millilitres.describe("Rate × time over the same spans, in mL."),
    read: Millilitres.describe("What the running totals say was delivered over their spans, in mL."),
    difference: Millilitres.describe("Read less rate × time, in mL."),
  })
  .meta({
    id: "TotalsTogether",
    description:
      "The running totals of a channel together: every span whose reading counts and that the period touches.",
  });

const ReadingCompared = z
  .strictObject({
    reading: Key.describe("The entry."),
    total: TotalName.nullable().describe("Null of a segment."),
    start: InstantText.describe("The reading or clear before it."),
    end: InstantText.describe("The reading."),
    shows: Millilitres.describe("What was read: the total, or the segment's volume, in mL."),
    rateTime: MaybeMillilitres.describe("Rate × time, in mL."),
    read: MaybeMillilitres.describe("What the readings say, in mL; null where the total fell."),
    difference: MaybeMillilitres.describe("Read less rate × time, in mL."),
    restsOn: z.enum(["reading", "rate-time"]).describe("What the figures rest on."),
    why: Why,
  })
  .meta({ id: "ReadingCompared", description: "A span between readings, by rate and time and as read." });

const LevelCompared = z
  .strictObject({
    entry: Key.describe("The entry."),
    method: z
      .enum(["weighed", "scale", "estimate"])
      .describe("How the level was told: by weighing, by the scale on the bag, or by eye."),
    start: InstantText.describe("When it was last known what the bag held."),
    end: InstantText.describe("When the level was read."),
    holds: Millilitres.describe("What the bag holds by the level, in mL."),
    rateTime: Millilitres.describe("What flowed out of it by rate and time, in mL."),
    byLevel: Millilitres.describe("What flowed out of it by the level, in mL."),
    difference: Millilitres.describe("By the level less by rate and time, in mL."),
    agrees: z.boolean().describe("Whether that is within the tolerance."),
    restsOn: z.enum(["level", "rate-time"]).describe("What the figures rest on."),
    why: Why,
  })
  .meta({ id: "LevelCompared", description: "What a level says was taken out of a bag." });

export const ThreeWays = z
  .strictObject({
    ...COORDINATES,
    channels: z
      .array(
        z.strictObject({
          channel: Key,
          rateTime: Millilitres.describe("Rate × time in the period, in mL."),
          charted: Millilitres.describe("What the figures of the period come to, in mL, not rounded."),
          ...RESTING,
          runningTotals: TotalsTogether.nullable().describe("Null where no reading counts."),
          readings: z.array(ReadingCompared).describe("Every span between readings that the period touches."),
        }),
      )
      .describe("One for each channel concerned, in order of their keys; empty where none is."),
    bags: z
      .array(
        z.strictObject({
          bag: Key,
          fluid: z
            .string()
            .nullable()
            .describe("What the bag holds, as charted; null where it is not known."),
          rateTime: Millilitres.describe("Rate × time in the period, in mL."),
          charted: Millilitres.describe("What the figures of the period come to, in mL, not rounded."),
          ...RESTING,
          levels: z
            .array(LevelCompared)
            .describe("The levels read of the bag in the period; empty where none was."),
        }),
      )
      .describe("One for each bag concerned, in order of their keys; empty where none is."),
  })
  .meta({
    id: "ThreeWays",
    description: "Rate × time, running totals and bag levels beside each other.",
  });
