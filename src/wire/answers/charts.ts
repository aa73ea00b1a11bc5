/** Charts as they are answered: kept ones, and what reconciling one with the ledger comes to. */

import { z } from "zod";
import { ChartBody, ChartRow } from "../charts.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { BalanceConventions, Certainty } from "./balance.js";
import { Recording } from "./entries.js";
import { AsOf, LedgerHead, Next, Until } from "./head.js";

const HEAD = {
  id: Key.describe("The chart's id."),
  source: ChartBody.shape.source,
  start: InstantText.describe("The start of the span it is about."),
  end: InstantText.describe("The end of that span, which is not part of it."),
};

const KEPT = {
  ...HEAD,
  latest: z
    .boolean()
    .describe("Whether no chart of the same span was kept after it: findings are about this one."),
  recorded: Recording,
};

export const Chart = z
  .strictObject({ asOf: AsOf, until: Until, ...KEPT, figures: ChartBody.shape.figures })
  .meta({ id: "Chart", description: "A kept chart, every figure as it was sent." });

export const ChartKept = z
  .strictObject({ ledger: LedgerHead, ...KEPT, figures: ChartBody.shape.figures })
  .meta({ id: "ChartKept", description: "The chart is kept, durably." });

export const ChartList = z
  .strictObject({
    asOf: AsOf,
    until: Until,
    charts: z
      .array(
        z
          .strictObject({ ...KEPT, count: z.int().min(1).describe("How many figures it has.") })
          .meta({ id: "ChartHead", description: "A kept chart without its figures." }),
      )
      .describe("A page of the kept charts, in the order of recording; empty where none was kept."),
    next: Next,
  })
  .meta({ id: "ChartList", description: "Kept charts, in the order of recording." });

const NAMED = {
  row: ChartRow,
  start: InstantText.describe("The start of the figure's interval."),
  end: InstantText.describe("Its end, which is not part of it."),
};
const Exact = z.number().describe("In mL to the microlitre.");
const COMPARED = {
  ...NAMED,
  charted: Exact.describe("What the chart has, in mL."),
  ledger: Exact.describe("What the ledger has, in mL, rounded as in the balance."),
  certainty: Certainty,
  takenFor: z
    .string()
    .nullable()
    .describe("The name in the ledger that the row's was taken for; null where it is the same."),
};

const SLIPS = [
  "left-out",
  "carrier-left-out",
  "counted-twice",
  "neighbouring-interval",
  "other-side",
  "bag-for-delivered",
  "ice-whole",
  "output-whole",
  "secondary-in-primary",
  "unit-slip",
  "transposed-digits",
  "reading-not-differenced",
  "addition-slip",
  "outside-hours",
  "not-in-totals",
  "other-row",
  "sign-turned",
  "brought-forward",
  "not-known",
] as const;

const CAUSE = {
  kind: z
    .enum(SLIPS)
    .describe(
      "What may have gone wrong: something left out (a carrier: a flush, keep-open flow), counted twice, in the neighbouring interval or on the other side; the bag's label for what went in; ice, or output before what is taken off, charted whole; a secondary in the primary as well; a decimal point or litres; two digits swapped; a reading without the one before taken off; a slip of addition; in the hours what stands outside them (before admission, away); in a total what the unit counts in none; in another row of the same side; a net with its sign turned; a sum with what was brought forward counted in. Last, what the ledger does not know itself.",
    ),
  entries: z
    .array(Key)
    .describe(
      "The ids of the entries concerned; none where the chart's own figures do not add up or what was brought forward is counted in.",
    ),
  accountsFor: Exact.describe("How much of the difference it accounts for, in mL, signed as the difference."),
  sentence: z.string().describe("What seems to have happened and what to do about it, in plain words."),
};

const Explanation = z
  .strictObject({
    ...CAUSE,
    remaining: Exact.describe("What is left of the difference with all that stands together here, in mL."),
    together: z
      .array(
        z
          .strictObject(CAUSE)
          .meta({ id: "ChartSlip", description: "A slip that stands together with another." }),
      )
      .describe("The other slip, where it takes two."),
    place: z.int().min(1).describe("Its place, from 1; those that cannot be told apart share it."),
    tied: z.boolean().describe("Whether another has the same place."),
    hedged: z
      .boolean()
      .describe(
        "It would fit, and so may others or chance: none of the figure's is claimed, all share place 1.",
      ),
  })
  .meta({ id: "ChartExplanation", description: "One way to explain a difference: a slip, or two together." });

export const CHART_SEVERITIES = ["note", "attention"] as const;

const Difference = z
  .strictObject({
    ...COMPARED,
    difference: Exact.describe("Charted less ledger, in mL."),
    severity: z.enum(CHART_SEVERITIES).describe("By the unit's tolerance for charts."),
    follows: z
      .array(
        z.strictObject(NAMED).meta({ id: "NamedFigure", description: "A figure of the chart, by name." }),
      )
      .describe("Of a total: the figures in it that differ or were left empty, from which it follows."),
    explanations: z
      .array(Explanation)
      .describe(
        "Best first; where none stands out all that would fit, hedged. None where nothing explains it, or where it follows from other figures.",
      ),
    sentence: z.string().describe("The difference in plain words, and whether anything explains it."),
  })
  .meta({ id: "ChartDifference", description: "A figure in which chart and ledger differ." });

const tolerance = z.number().min(0);

export const Reconciliation = z
  .strictObject({
    zone: z.string().describe("The zone of the unit's clocks."),
    from: InstantText.describe("The start of the span that was compared."),
    to: InstantText.describe("Its end, which is not part of it."),
    asOf: AsOf,
    until: Until,
    chart: z
      .strictObject({ id: HEAD.id, source: HEAD.source })
      .nullable()
      .describe("The kept chart; null where the figures were sent along."),
    tolerance: z
      .strictObject({
        note: tolerance.describe("Figures match within this, in mL."),
        attention: tolerance.describe("Above this a difference needs attention, in mL."),
      })
      .describe("By the unit's settings, at the start of the span."),
    matches: z
      .array(
        z
          .strictObject(COMPARED)
          .meta({ id: "ChartMatch", description: "A figure in which chart and ledger agree." }),
      )
      .describe("Figures that agree within the tolerance; empty where none does."),
    differences: z
      .array(Difference)
      .describe(
        "Figures that differ by more than the tolerance, each with what may explain it; empty where none does.",
      ),
    habits: z
      .array(
        z
          .strictObject({
            kind: CAUSE.kind,
            entries: CAUSE.entries,
            figures: z.int().min(1).describe("In how many figures it shows."),
            sentence: z.string().describe("What is done each time, where it shows, and what to do about it."),
          })
          .meta({ id: "ChartHabit", description: "One habit behind several differences, said once." }),
      )
      .describe(
        "What explains at least three figures and three entries in the same way; the differences say each of them.",
      ),
    notInUse: z
      .array(
        z
          .strictObject({
            ...NAMED,
            charted: Exact.describe("What the chart has, in mL."),
            sentence: z.string().describe("That nothing of the name was in use, and what was."),
          })
          .meta({ id: "NotInUse", description: "A figure of a line or item of which nothing was in use." }),
      )
      .describe(
        "Figures of rows that name a line or an item of which nothing was in use, and that say nothing went in; those that say more are differences.",
      ),
    notCharted: z
      .array(
        z
          .strictObject({
            ...NAMED,
            ledger: Exact.describe("What the ledger has, in mL."),
            entries: z.array(Key).describe("The ids of the entries concerned."),
            standsIn: z
              .string()
              .nullable()
              .describe(
                "Of what stands outside the hours: in which row of the balance, in words; a chart by the hours may leave it out. Null for what counts in them.",
              ),
          })
          .meta({ id: "NotCharted", description: "Something the ledger has and no row of the chart." }),
      )
      .describe("What the ledger has where the chart was left empty or has no row."),
    notBegun: z
      .array(
        z
          .strictObject({ ...NAMED, charted: Exact.nullable().describe("What the chart has, in mL.") })
          .meta({ id: "NotBegun", description: "A figure of an interval of which nothing is known yet." }),
      )
      .describe("Figures of intervals that had not begun by `until`; they are not compared."),
    conventions: z
      .array(BalanceConventions)
      .describe(
        "The conventions the ledger's figures were made by, in order of time: one for the whole span, or one for each span between changes.",
      ),
  })
  .meta({ id: "Reconciliation", description: "A chart compared with the ledger, figure by figure." });
