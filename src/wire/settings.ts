/**
 * A unit's settings on the wire: mL, mL/h, shares and ISO 8601 durations. Every setting has a default
 * (src/conventions/settings.ts), and what a caller leaves out stays as it is, in groups too.
 */

import { z } from "zod";
import { Delay } from "./instant.js";
import { atMostDecimals, LabelVolume, RateNumber, Volume } from "./quantity.js";

export type { ShiftText } from "./shifts.js";

const decimals = "at most 3 decimals; more are refused";
const Percent = z.int().min(0).max(100);

const ReadingTolerance = z
  .strictObject({
    percent: Percent.describe("Of the computed increment, in whole per cent."),
    pump: Volume.describe(`The floor of a pump, in mL, ${decimals}.`),
    syringe: Volume.describe(`The floor of a syringe, in mL, ${decimals}.`),
  })
  .describe("A reading agrees within the larger of a share and a floor by type of channel.");

const LevelTolerance = z
  .strictObject({
    weighed: Percent.describe("Of a weighed level, in whole per cent."),
    scale: Percent.describe("Of a level on the bag's own scale, in whole per cent."),
  })
  .describe("How far a bag's level may be from the computed one.");

const ChartTolerance = z
  .strictObject({
    note: Volume.describe(`Worth a note, in mL, ${decimals}.`),
    attention: Volume.describe(`Needs attention, in mL, ${decimals}.`),
  })
  .describe("By how much a chart must differ from the ledger.");

const UnaccountedAbove = z
  .strictObject({
    volume: Volume.describe(`In mL, ${decimals}.`),
    percent: Percent.describe("Of the label volume, in whole per cent."),
  })
  .describe("What may be missing of a bag's contents: the larger of a volume and a share.");

const MeasureName = z.string().regex(/^[a-z][a-z0-9._-]{0,63}$/, {
  error:
    "must begin with a lower-case letter and go on with up to 63 of a-z, 0-9, dot, underscore or hyphen.",
});

const ItemName = z.string().regex(/^[a-z][a-z0-9 ._-]{0,63}$/, {
  error:
    "must begin with a lower-case letter and go on with up to 63 of a-z, 0-9, space, dot, underscore or hyphen.",
});

const Counts = z
  .strictObject({
    bloodProducts: z.boolean().describe("Blood products, which have a row of their own."),
    flushes: z.boolean().describe("What flushes a line."),
    returned: z
      .boolean()
      .describe(
        "What was given back of what came out, such as gastric residual; unless it counts it is taken off.",
      ),
  })
  .describe("What is inside the totals of the balance.");

export const SettingsText = z
  .strictObject({
    precision: z
      .literal([0.001, 0.01, 0.1, 0.5, 1, 5, 10])
      .describe("The step in mL to which shown volumes are rounded."),
    boundary: z
      .enum(["ends", "starts"])
      .describe(
        "Which interval an amount charted exactly on a boundary belongs to: the one that ends or starts there.",
      ),
    readingTolerance: ReadingTolerance,
    levelTolerance: LevelTolerance,
    chartTolerance: ChartTolerance,
    chartingGrain: z.enum(["PT1M", "PT5M"]).describe("The span that a charted time stands for."),
    overfillAllowance: z
      .number()
      .min(0)
      .max(10)
      .check(atMostDecimals(3))
      .describe(`What a bag may hold beyond its label, as a share of the label, 0 to 10, ${decimals}.`),
    household: z
      .record(MeasureName, LabelVolume)
      .describe(
        "The volume in mL of household measures by their lower-case names; a name sent is added or changed, the others stay.",
      ),
    iceFraction: z
      .number()
      .min(0)
      .max(1)
      .check(atMostDecimals(3))
      .describe(`The share of its volume that ice counts for, 0 to 1, ${decimals}.`),
    softFoods: z
      .record(ItemName, z.number().min(0).max(1).check(atMostDecimals(3)))
      .describe(
        `The share of its volume that a soft food counts for, 0 to 1, ${decimals}, by the item's lower-case name; an item not named counts whole. A name sent is added or changed, the others stay.`,
      ),
    counts: Counts,
    askAbove: Volume.describe(
      `The question before a clear is asked above this volume at risk, in mL, ${decimals}.`,
    ),
    askClampedAbove: RateNumber.describe(
      `Whether the primary was clamped is asked of a secondary above this rate, in mL/h, ${decimals}.`,
    ),
    lateAfter: Delay.describe("An entry is late when recorded this long after it happened."),
    unattendedAfter: Delay.describe("A running flow is unattended when nothing was recorded for this long."),
    unattendedFrom: Volume.describe(`A flow slower than this is never unattended, in mL/h, ${decimals}.`),
    outputGapAfter: Delay.describe("This long without any output is a gap."),
    unsignedAfter: Delay.describe("This long after its end a shift should have been signed."),
    keepOpenAfter: Delay.describe("This long a flow may run at its keep-open rate."),
    pausedAfter: Delay.describe("This long a pause may last."),
    dryAfter: Delay.describe("This long a bag may be dry."),
    endConfirmedWithin: Delay.describe(
      "Within this time of a computed end an entry on the channel confirms it.",
    ),
    unaccountedAbove: UnaccountedAbove,
  })
  .meta({ id: "Settings", description: "All settings of a unit, as in force." });
export type SettingsText = z.infer<typeof SettingsText>;

export const SomeSettingsText = SettingsText.extend({
  readingTolerance: ReadingTolerance.partial().describe(
    "When a reading agrees: what is to change of the share and the floors; the rest stays.",
  ),
  levelTolerance: LevelTolerance.partial().describe(
    "How far a bag's level may be from the computed one: what is to change, by method; the rest stays.",
  ),
  chartTolerance: ChartTolerance.partial().describe(
    "By how much a chart must differ from the ledger: what is to change; the rest stays.",
  ),
  unaccountedAbove: UnaccountedAbove.partial().describe(
    "What may be missing of a bag's contents: what is to change of the volume and the share; the rest stays.",
  ),
  counts: Counts.partial().describe(
    "What is inside the totals of the balance: what is to change; the rest stays.",
  ),
})
  .partial()
  .meta({
    id: "SomeSettings",
    description: "The settings that are to change; what is left out stays, in groups too.",
    examples: [{ precision: 1, readingTolerance: { pump: 3 }, household: { mug: 300 } }],
  });
export type SomeSettingsText = z.infer<typeof SomeSettingsText>;
