/** Delivered volumes as they are answered: rows by intervals; every sum is a sum of what is shown. */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { Basis } from "./basis.js";
import { AsOf, ShownVolume, Until } from "./head.js";

export const Interval = z
  .strictObject({
    start: InstantText.describe("It belongs to the interval."),
    end: InstantText.describe("It does not belong to the interval."),
    label: z.string().describe("What people call it: the hour, the shift, the date."),
    complete: z.boolean().describe("Whether `until` has reached its end."),
  })
  .meta({ id: "Interval", description: "A half-open span of time by the unit's clocks." });

const Row = z
  .strictObject({
    key: z.string().nullable().describe("The line, channel, bag or category; null where none is known."),
    label: z.string().describe("What people call it."),
    volumes: z.array(ShownVolume).describe("Per interval, in mL."),
    computed: z
      .array(ShownVolume)
      .describe("Per interval: the same by rate and time alone, whatever was read, in mL."),
    basis: z.array(Basis.nullable()).describe("Per interval; null where the volume is."),
    since: z
      .array(InstantText.nullable())
      .describe(
        "Per interval: since when what was read or measured at one instant in it was delivered, where a span is known (a reading of a channel without a rate, an amount of a period); else null.",
      ),
    unknown: z.array(z.number().min(0)).describe("Per interval: minutes of which nobody knows what flowed."),
    total: z.number().describe("The sum of the volumes shown, in mL."),
  })
  .meta({ id: "VolumeRow", description: "What one line, channel, bag or category delivered." });

export const Volumes = z
  .strictObject({
    zone: z.string().describe("The zone of the unit's clocks."),
    from: InstantText,
    to: InstantText,
    asOf: AsOf,
    until: Until,
    boundary: z
      .enum(["ends", "starts"])
      .describe("Which interval an amount charted exactly on a boundary belongs to."),
    intervals: z
      .array(Interval)
      .describe("In order of time, without gaps; every list per interval has one value for each."),
    rows: z
      .array(Row)
      .describe(
        "One for each line, channel, bag or category, in order of their keys, what has no key last; empty where nothing flowed.",
      ),
    sums: z.array(ShownVolume).describe("Per interval: the sum of the rows shown."),
    total: z.number().describe("The sum of the sums, in mL."),
  })
  .meta({ id: "Volumes", description: "Delivered volumes per interval." });
