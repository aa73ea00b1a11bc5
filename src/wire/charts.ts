/**
 * Charts on the wire: the figures that another record holds, as they are kept and as they are compared. A row is
 * named as whoever charts names it: a category of the balance, a line, an item, or a sum.
 */

import { z } from "zod";
import { refuseUnknownFields } from "./choice.js";
import { IntakeCategory, OutputCategory } from "./entries/categories.js";
import { faultIssue } from "./fault.js";
import { InstantText, readInstant } from "./instant.js";
import { atMostDecimals } from "./quantity.js";
import { Key, text } from "./text.js";

/** The most figures of one chart: a day by the hour of 24 rows, its sums among them, with totals by shift and day. */
export const MOST_FIGURES = 700;
/** The most a charted figure may be, in mL: a litre taken for a millilitre is to be found, not refused. */
const MOST = 10_000_000;

const BalanceCategory = z
  .enum([...IntakeCategory.options, ...OutputCategory.options])
  .meta({ id: "BalanceCategory", description: "A category of intake or output." });

const Item = text(
  200,
  "What was taken in, as it is charted (`Tea`, the name of a fluid), or the drain or tube an output came by. At most 200 characters, in any case; a name that is nearly one in use is taken for it, and the answer says so.",
);

export const ChartRow = z
  .union(
    [
      z
        .strictObject({
          category: BalanceCategory.nullable().describe("Null for fluid that nobody identified."),
        })
        .check(refuseUnknownFields)
        .meta({ id: "ChartRowOfCategory", description: "All that counts under a category." }),
      z
        .strictObject({ line: Key.describe("The line, by its key.") })
        .check(refuseUnknownFields)
        .meta({ id: "ChartRowOfLine", description: "All that went in by a line." }),
      z
        .strictObject({ item: Item })
        .check(refuseUnknownFields)
        .meta({ id: "ChartRowOfItem", description: "All of one fluid, food or drink, or by one drain." }),
      z
        .strictObject({ sum: z.enum(["intake", "output", "net"]).describe("Net is intake less output.") })
        .check(refuseUnknownFields)
        .meta({ id: "ChartRowOfSum", description: "A sum of the balance." }),
    ],
    { inclusive: false, error: "must say exactly one of category, line, item and sum." },
  )
  .meta({
    id: "ChartRow",
    description: "What a figure is charted under: exactly one of category, line, item and sum.",
  });

export const ChartedVolume = z
  .number()
  .min(-MOST)
  .max(MOST)
  .check(atMostDecimals(3))
  .meta({
    id: "ChartedVolume",
    description:
      "A volume in mL as another record has it, 0 to 10,000,000 (a net from -10,000,000), with at most 3 decimals; more are refused.",
    examples: [410, -265],
  });

const Figure = z
  .strictObject({
    row: ChartRow,
    start: InstantText.describe("The start of its interval."),
    end: InstantText.describe("Its end, which is not part of it."),
    volume: ChartedVolume.nullable().describe("What is charted, in mL; null where it was left empty."),
  })
  .check(({ value, issues }) => {
    const { row, start, end, volume } = value;
    if (readInstant(start) >= readInstant(end)) {
      issues.push(faultIssue(value, "inconsistent", "must lie after start.", { path: ["end"], goOn: true }));
    }
    if (volume === null || volume >= 0 || ("sum" in row && row.sum === "net")) return;
    const said = "must be 0 at least: only a net can be below nothing.";
    issues.push(faultIssue(value, "out-of-range", said, { path: ["volume"], goOn: true }));
  })
  .meta({
    id: "ChartFigure",
    description: "One figure of a chart: a row over an interval.",
    examples: [
      {
        row: { category: "oral" },
        start: "2026-03-04T09:00:00-06:00",
        end: "2026-03-04T10:00:00-06:00",
        volume: 230,
      },
    ],
  });
export type ChartFigureText = z.infer<typeof Figure>;

const FIGURES = {
  figures: z
    .array(Figure)
    .min(1)
    .max(MOST_FIGURES)
    .describe(
      "Cells, totals and sums as they stand, 1 to 700 of them, none twice. Whatever can be added up from others is taken for their total.",
    ),
};

const SPAN = {
  shift: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}\/[A-Za-z0-9._-]{1,64}$/, {
      error: "must be the date on which the shift starts and its name, such as 2026-03-04/day.",
    })
    .optional()
    .describe("The shift it is about, by the date on which it starts and its name."),
  day: z
    .string()
    .regex(/^\d{4}-\d{2}-\d{2}$/, { error: "must be a date, such as 2026-03-04." })
    .optional()
    .describe("The day of the unit it is about, by its date."),
  from: InstantText.optional().describe("The start of the span it is about, with `to`."),
  to: InstantText.optional().describe("The end of that span, which is not part of it, with `from`."),
};
export type SpanText = { readonly [Name in keyof typeof SPAN]?: string | undefined };

/** A check that a body names its span in one way at most: a shift, a day, or from and to. */
function oneSpan({ value, issues }: z.core.ParsePayload<SpanText>): void {
  const { shift, day, from, to } = value;
  const fault = (field: keyof SpanText, code: "exactly-one-of" | "required" | "inconsistent", said: string) =>
    issues.push(faultIssue(value, code, said, { path: [field], goOn: true }));
  if ([shift, day, from ?? to].filter((way) => way !== undefined).length > 1) {
    const said = "must stand alone: a span is a shift, a day, or from and to, one of the three at most.";
    fault(shift === undefined ? "day" : "shift", "exactly-one-of", said);
  } else if (from !== undefined && to === undefined) {
    fault("to", "required", "is required with from.");
  } else if (to !== undefined && from === undefined) {
    fault("from", "required", "is required with to.");
  } else if (from !== undefined && to !== undefined && readInstant(from) >= readInstant(to)) {
    fault("to", "inconsistent", "must lie after from.");
  }
}

const CHART = [
  {
    row: { item: "Tea" },
    start: "2026-03-04T07:00:00-06:00",
    end: "2026-03-04T19:00:00-06:00",
    volume: 240,
  },
  {
    row: { sum: "intake" },
    start: "2026-03-04T07:00:00-06:00",
    end: "2026-03-04T19:00:00-06:00",
    volume: 1775,
  },
] as const;

export const ChartBody = z
  .strictObject({
    id: Key.optional().describe(
      "The chart's id, unique among the encounter's entries. Absent: the ledger makes one. The same id with the same body is taken for a retry.",
    ),
    source: text(
      200,
      "What record it was copied from, for people. At most 200 characters, not blank.",
    ).optional(),
    ...SPAN,
    ...FIGURES,
  })
  .check(oneSpan)
  .meta({
    id: "ChartBody",
    description:
      "A chart to be kept, as another record holds it: which span it is about (absent: from its first interval to its last) and its figures.",
    examples: [{ id: "paper-day", source: "Paper sheet", shift: "2026-03-04/day", figures: CHART }],
  });
export type ChartBody = z.infer<typeof ChartBody>;

const OfFigures = z
  .strictObject({ ...SPAN, ...FIGURES })
  .check(oneSpan)
  .check(refuseUnknownFields)
  .meta({
    id: "ReconciliationOfFigures",
    description: "A chart that is sent along, and not kept.",
    examples: [{ shift: "2026-03-04/day", figures: CHART }],
  });

const OfChart = z
  .strictObject({ chart: Key.describe("The id of a kept chart."), ...SPAN })
  .check(oneSpan)
  .check(refuseUnknownFields)
  .meta({
    id: "ReconciliationOfChart",
    description: "A kept chart; with a span, only what of it lies within.",
    examples: [{ chart: "paper-day" }],
  });

export const ReconciliationBody = z
  .union([OfFigures, OfChart], {
    inclusive: false,
    error: "must say exactly one of figures and chart.",
  })
  .meta({
    id: "ReconciliationBody",
    description: "What is reconciled: figures, or a kept chart by its id.",
  });
export type ReconciliationBody = z.infer<typeof ReconciliationBody>;
