/** The balance as it is answered: rows by intervals on either side, net, cumulative net, and what stands beside. */

import { z } from "zod";
import { IntakeCategory, OutputCategory } from "../entries/categories.js";
import { InstantText } from "../instant.js";
import { Weight } from "../quantity.js";
import { SettingsText } from "../settings.js";
import { Key } from "../text.js";
import { FlowRole } from "./flows.js";
import { AsOf, ShownVolume, Until } from "./head.js";
import { Interval } from "./volumes.js";

export const Certainty = z.enum(["exact", "at-least", "at-most", "uncertain"]).meta({
  id: "Certainty",
  description:
    "How sure a figure is: exact as far as anybody charted; at least this, since something is left out that nobody measured; at most this, since something was lost or irrigant came back and nobody knows how much, or, of a net, something came out that nobody measured; or uncertain, for both reasons or because a reading in it is in dispute.",
});
const Certainties = z.array(Certainty.nullable()).describe("Per interval; null where it has not begun.");
const Shown = z.number().describe("In mL, as rounded; of any sign.");
const Exact = z.number().describe("In mL to the microlitre, not rounded further.");

const FIGURES = {
  volumes: z.array(ShownVolume).describe("Per interval, in mL."),
  certainty: Certainties,
  total: Shown.describe("The sum of the volumes shown, in mL."),
  totalCertainty: Certainty,
};

const Part = z
  .strictObject({
    label: z.string().describe("What people call it."),
    line: Key.nullable().describe("Of an intake: the line."),
    role: FlowRole.nullable().describe("Of what a channel gave: under what."),
    item: z.string().nullable().describe("Of an intake: the fluid, or what was taken."),
    site: z
      .string()
      .nullable()
      .describe("Of an output: the drain, tube or chamber, as its line or its first entry has it."),
    channel: Key.nullable().describe("The channel, where no bag or flow accounts for it."),
    counts: z
      .number()
      .describe(
        "Of an intake: the share of it that counts, and that its figures are, by the conventions: below 1 of ice and of some soft foods.",
      ),
    ...FIGURES,
    since: z
      .array(InstantText.nullable())
      .describe(
        "Per interval: since when what was measured, read or emptied at one instant in it was collected or given, where a span is known; else null.",
      ),
  })
  .meta({ id: "BalancePart", description: "A part of a category: by line, role and item, or by site." });

const Code = z
  .strictObject({
    system: z.literal("http://loinc.org"),
    code: z.string().describe("The LOINC code of the volume."),
  })
  .nullable()
  .describe("The category's code where LOINC has one for a volume; else null.");

const Category = z.union([IntakeCategory, OutputCategory]);
const CategoryKey = Category.nullable().describe("The category; null for fluid nobody identified.");

const Row = z
  .strictObject({
    key: CategoryKey,
    label: z.string().describe("What people call it."),
    code: Code,
    ...FIGURES,
    parts: z.array(Part).describe("What it consists of; they add up to it."),
  })
  .meta({ id: "BalanceRow", description: "One category of intake or output." });

const Side = z
  .strictObject({
    rows: z
      .array(Row)
      .describe(
        "The categories inside the totals, always in the same order; empty where nothing was charted.",
      ),
    sums: z.array(ShownVolume).describe("Per interval: the sum of the rows shown."),
    certainty: Certainties,
    total: Shown.describe("The sum of the sums, in mL."),
    totalCertainty: Certainty,
    apart: z.array(Row).describe("What the unit does not have inside the totals."),
  })
  .meta({ id: "BalanceSide", description: "Intake or output." });

const RowBeside = z.strictObject({
  key: CategoryKey,
  label: z.string().describe("What people call the category."),
  total: Shown,
  certainty: Certainty,
});

const SideBeside = z
  .strictObject({
    rows: z
      .array(RowBeside)
      .describe(
        "The categories inside the totals, always in the same order; empty where nothing was charted.",
      ),
    total: Shown,
    certainty: Certainty,
    apart: z.array(RowBeside).describe("What the unit does not have inside the totals."),
  })
  .meta({ id: "SideBeside", description: "Intake or output of what stands beside the intervals." });

const Beside = z
  .strictObject({
    when: z
      .enum(["before-admission", "away"])
      .describe(
        "Whether the amounts are of before the admission, or of a time the patient was away from the unit.",
      ),
    place: z.string().nullable().describe("Where the patient was, of a time away."),
    start: InstantText.nullable().describe("When the patient left; null of before the admission."),
    end: InstantText.nullable().describe("When the patient was back; null while away."),
    intake: SideBeside,
    output: SideBeside,
    net: Shown.describe("Intake less output, in mL."),
    certainty: Certainty,
  })
  .meta({
    id: "Beside",
    description: "Amounts of a time that is in no interval, and inside the cumulative figures.",
  });

const Unmeasured = z
  .strictObject({
    side: z.enum(["intake", "output"]).describe("Which side of the balance is short of it."),
    key: CategoryKey,
    label: z.string().describe("What people call the category."),
    occurrences: z.array(z.int().min(0)).describe("Per interval."),
    total: z.int().min(1).describe("How often over all intervals."),
  })
  .meta({ id: "Unmeasured", description: "How often something is left out that nobody measured." });

const Loss = z
  .strictObject({
    entry: Key.describe("The entry that says so."),
    channel: Key,
    start: InstantText,
    end: InstantText,
    reason: z
      .enum(["leaked", "disconnected", "infiltrated", "other"])
      .describe("How it was lost, as it was charted."),
    volume: z.number().min(0).nullable().describe("In mL; null where nobody knows."),
    takenOff: z
      .number()
      .min(0)
      .describe(
        "What of it is taken off the intake, or off the irrigant, in mL; no more than was delivered and other losses left.",
      ),
  })
  .meta({ id: "Loss", description: "What left a device and did not reach the patient." });

const Irrigation = z
  .strictObject({
    site: z.string().describe("As its line or the first entry that names it has it."),
    broughtForward: Exact.describe("Irrigant at the site when the period began, in mL."),
    instilled: Exact.describe("Put in during the period, in mL."),
    drained: Exact.describe("Emptied during the period, irrigant included, in mL."),
    trueOutput: Exact.describe("What of that is output, in mL."),
    retained: Exact.describe("Irrigant at the site at its end, in mL."),
    certainty: Certainty,
  })
  .meta({ id: "Irrigation", description: "Irrigant and output of one site; irrigant is in no total." });

const Urine = z
  .strictObject({
    hours: z.int().describe("The length of the window."),
    start: InstantText,
    end: InstantText.describe("The end of the answer."),
    volume: Exact.describe(
      "What was measured in the window, in mL; of what was collected since before it, the even share of its time.",
    ),
    mLPerKgPerHour: z
      .number()
      .nullable()
      .describe("By the last weight known; null where it cannot be judged."),
    why: z.string().optional().describe("Why it cannot be judged."),
    measuredAt: InstantText.optional().describe("When urine was last measured in the window."),
    collectedSince: InstantText.optional().describe(
      "Since when some of it was collected, if before the window.",
    ),
  })
  .meta({ id: "UrinePerWeight", description: "Urine per body weight and hour; a figure, no advice." });

const WeighedAt = { at: InstantText, weight: Weight };

const ShareOfWeight = z
  .union([
    z.strictObject({
      percent: z.number().describe("To a hundredth; a litre weighs a kilogram."),
      certainty: Certainty,
      ...WeighedAt,
    }),
    z.strictObject({
      percent: z.null().describe("Null: it cannot be judged."),
      weight: z.null().describe("Null: none is known."),
      at: z.null().describe("Null: nobody weighed the patient."),
      why: z.string().describe("Why it cannot be judged, in plain words."),
    }),
  ])
  .meta({
    id: "ShareOfWeight",
    description:
      "The cumulative net at the end as a share of the weight at admission, or the first one after it.",
  });

const WeightChange = z
  .strictObject({
    from: z
      .strictObject(WeighedAt)
      .describe("The weight at admission, or the first one after it, and when it was taken."),
    to: z.strictObject(WeighedAt).describe("The last weight known, and when it was taken."),
    kilograms: z.number().describe("The last weight less the first one, in kg."),
  })
  .meta({
    id: "WeightChange",
    description: "How the weight changed: information beside the balance, from which nothing is corrected.",
  });

const { household, iceFraction, softFoods, boundary, precision, counts } = SettingsText.shape;

export const BalanceConventions = z
  .strictObject({
    start: InstantText,
    end: InstantText,
    household,
    iceFraction,
    softFoods,
    boundary,
    precision,
    counts,
    gramsPerMillilitre: z.literal(1).describe("Pads and nappies: 1 g weighs for 1 mL."),
  })
  .meta({
    id: "BalanceConventions",
    description: "The unit's conventions in force over a span of the period.",
  });

export const BalanceAnswer = z
  .strictObject({
    zone: z.string().describe("The zone of the unit's clocks."),
    from: InstantText,
    to: InstantText,
    asOf: AsOf,
    until: Until,
    intervals: z
      .array(Interval)
      .describe("In order of time, without gaps; every list per interval has one value for each."),
    intake: Side,
    output: Side,
    net: z.array(ShownVolume).describe("Per interval: intake less output, as shown."),
    netCertainty: Certainties,
    netTotal: Shown.describe("Intake less output of the period, in mL."),
    netTotalCertainty: Certainty,
    cumulativeFrom: InstantText.nullable().describe("Since when it is cumulated; null for all of the stay."),
    broughtForward: Shown.describe("The net of everything before the period, in mL."),
    broughtForwardCertainty: Certainty,
    cumulative: z
      .array(ShownVolume)
      .describe("Per interval: brought forward, with every net since, and what stands beside, in mL."),
    cumulativeCertainty: Certainties,
    unrounded: z
      .strictObject({
        broughtForward: Exact,
        cumulative: z
          .array(Exact.nullable())
          .describe("Per interval: the cumulative net in mL; null where it has not begun."),
      })
      .describe("The same without any rounding, in mL to the microlitre."),
    beside: z
      .array(Beside)
      .describe(
        "What the cumulative figures hold and no interval does: of before the admission, and of each time away; empty where there is none.",
      ),
    unmeasured: z
      .array(Unmeasured)
      .describe(
        "By category: what came or was taken in the period and nobody measured; empty where all was.",
      ),
    unmeasuredBefore: z
      .int()
      .min(0)
      .describe("How often before the period something came or was taken that nobody measured."),
    lost: z
      .array(Loss)
      .describe("What leaked or was otherwise lost in the period, each as charted; empty where nothing was."),
    irrigation: z
      .array(Irrigation)
      .describe("One for each irrigated site, in order of their names; empty where nothing was irrigated."),
    urine: z
      .array(Urine)
      .describe("One for each window that ends with the answer; `hours` says which it is."),
    shareOfAdmissionWeight: ShareOfWeight,
    weightChange: WeightChange.nullable().describe("Null where fewer than two weights are known."),
    conventions: z
      .array(BalanceConventions)
      .describe("In order of time: one for the whole period, or one for each span between changes."),
  })
  .meta({ id: "Balance", description: "The balance of intake and output per interval." });
