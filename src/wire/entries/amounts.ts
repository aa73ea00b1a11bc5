/**
 * Amounts charted as amounts: what the patient drank or was given by hand, what came out, and fluid
 * instilled to irrigate. Each is told in exactly one way of measuring.
 */

import { z } from "zod";
import { faultIssue } from "../fault.js";
import { InstantText } from "../instant.js";
import { atMostDecimals, Grams, microlitres, scaled, Volume } from "../quantity.js";
import { Key, words } from "../text.js";
import { IntakeCategory, OutputCategory } from "./categories.js";
import { kind, oneOfWays, way } from "./kind.js";
import { mustFollow } from "./period.js";

const Measure = z
  .strictObject({
    name: Key.describe("The measure, as the unit's settings name it, such as `cup`."),
    count: z
      .number()
      .gt(0)
      .max(1_000)
      .check(atMostDecimals(3))
      .describe("How many, above 0 and at most 1,000; at most 3 decimals, so half a cup is 0.5."),
  })
  .meta({
    id: "HouseholdMeasure",
    description: "So many of a household measure, whose volume the unit's settings say.",
    examples: [{ name: "cup", count: 1 }],
  });

const Measured = Volume.describe("The volume in mL, at most 3 decimals.");
const From = InstantText.optional().describe(
  "Where it is the sum of a period: the start of that, before `at`, which is its end.",
);

const INTAKE = {
  category: IntakeCategory,
  item: words("What it was, such as water; ice chips count half their volume.").optional(),
  line: Key.optional().describe(
    "The line it was given by, if by one; by a line that irrigates it is irrigant, and no intake.",
  ),
  from: From,
};

export const IntakeMeasured = oneOfWays(
  "intake-measured",
  {
    description: "An amount taken in that no channel delivered.",
    example: { category: "oral", volume: 150, item: "Water" },
  },
  "must say how much in exactly one way: volume or measure.",
  [
    way(
      "intake-measured",
      "AsVolume",
      { description: "Measured in mL.", example: { category: "oral", volume: 150, item: "Water" } },
      { ...INTAKE, volume: Measured },
      mustFollow("from", "at"),
    ),
    way(
      "intake-measured",
      "AsMeasure",
      {
        description: "Told in a household measure.",
        example: { category: "oral", measure: { name: "cup", count: 1 } },
      },
      { ...INTAKE, measure: Measure },
      mustFollow("from", "at"),
    ),
  ],
);

const Weighed = z
  .strictObject({
    wet: Grams.describe("What it weighs, in g."),
    dry: Grams.describe("What it weighed dry, in g; at most the wet weight."),
  })
  .check(({ value, issues }) => {
    if (value.wet >= value.dry) return;
    issues.push(faultIssue(value, "inconsistent", "must be at least as heavy wet as dry.", { goOn: true }));
  })
  .meta({
    id: "Weighed",
    description: "A pad or nappy weighed wet and dry, in grams; 1 g counts as 1 mL.",
    examples: [{ wet: 212, dry: 38 }],
  });

const SITE =
  "The drain or tube it comes by: the site of a line that irrigates it, or that line's key, or any name of its own; capitals make no other site.";

const OUTPUT = {
  category: OutputCategory,
  site: words(`${SITE} Irrigant of that site is taken off.`).optional(),
  from: From,
};
const Returned = Volume.optional().describe(
  "What of it was given back, in mL (gastric residual), at most all of it; it is taken off.",
);

interface Returning {
  readonly at: string;
  readonly from?: string;
  readonly returned?: number | undefined;
}

/** A check that no more is given back than came out, where the entry itself says how much that is, in microlitres. */
function mustHaveCome<How>(came: (value: How) => number) {
  return (payload: z.core.ParsePayload<How & Returning>): void => {
    mustFollow("from", "at")(payload);
    const { value, issues } = payload;
    if (value.returned === undefined || microlitres(value.returned) <= came(value)) return;
    const detail = "must be at most what came out: it is what of that was given back.";
    issues.push(faultIssue(value.returned, "inconsistent", detail, { path: ["returned"], goOn: true }));
  };
}

export const OutputMeasured = oneOfWays(
  "output-measured",
  {
    description: "An amount that came out, or that something came out which could not be measured.",
    example: { category: "urine", volume: 320 },
  },
  "must say how much in exactly one way: volume, measure, weighed or occurrences; returned only beside the first three.",
  [
    way(
      "output-measured",
      "AsVolume",
      { description: "Measured in mL.", example: { category: "urine", volume: 320 } },
      { ...OUTPUT, volume: Measured, returned: Returned },
      mustHaveCome(({ volume }: { volume: number }) => microlitres(volume)),
    ),
    way(
      "output-measured",
      "AsMeasure",
      {
        description: "Told in a household measure.",
        example: { category: "emesis", measure: { name: "cup", count: 0.5 } },
      },
      { ...OUTPUT, measure: Measure, returned: Returned },
      mustFollow("from", "at"),
    ),
    way(
      "output-measured",
      "AsWeight",
      { description: "Weighed.", example: { category: "urine", weighed: { wet: 212, dry: 38 } } },
      { ...OUTPUT, weighed: Weighed, returned: Returned },
      // 1 g counts as 1 mL.
      mustHaveCome(
        ({ weighed: { wet, dry } }: { weighed: { wet: number; dry: number } }) =>
          scaled(wet, 3) - scaled(dry, 3),
      ),
    ),
    way(
      "output-measured",
      "AsOccurrences",
      {
        description: "Not measured: how often it happened. The balance says how many it leaves out.",
        example: { category: "stool", occurrences: 1 },
      },
      { ...OUTPUT, occurrences: z.int().min(1).max(1_000).describe("How often, 1 to 1,000.") },
      mustFollow("from", "at"),
    ),
  ],
);

export const IrrigantInstilled = kind(
  "irrigant-instilled",
  {
    description: "Fluid put in to irrigate. It counts in no total; it is taken off what the site drains.",
    example: { site: "bladder", volume: 3000 },
  },
  { site: words(SITE), volume: Measured },
);
