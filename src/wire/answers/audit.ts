/** The audit of a unit as it is answered: each measure with its definition, n of N, and encounter by encounter. */

import { z } from "zod";
import { type Form, UNITS } from "../../audit/measure.js";
import { MEASURES } from "../../audit/measures.js";
import { csv, type Field } from "../csv.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { AsOf, Until } from "./head.js";

const [first, ...others] = MEASURES.map(({ key }) => key) as [string, ...string[]];

/** The name of a measure: a closed list. */
export const MeasureKey = z.enum([first, ...others]).meta({
  id: "MeasureKey",
  description: `A measure of the audit. ${MEASURES.map(({ key, definition }) => `\`${key}\`: ${definition}`).join(" ")}`,
});

const FORMS: Readonly<Record<Form, { readonly schema: z.ZodType; readonly said: string }>> = {
  volume: { schema: z.number(), said: "mL" },
  duration: { schema: z.number().min(0), said: "minutes, to a tenth and rounded up" },
  count: { schema: z.int().min(0), said: "how many" },
  "yes-no": { schema: z.boolean(), said: "true or false" },
  instant: { schema: InstantText, said: "an instant" },
};

const Values = z
  .strictObject(
    Object.fromEntries(
      MEASURES.map(({ key, label, form }) => [
        key,
        FORMS[form].schema
          .nullable()
          .describe(`${label}: ${FORMS[form].said}; null where it cannot be told.`),
      ]),
    ),
  )
  .meta({ id: "MeasureValues", description: "The value of every measure for one encounter." });

const MeasureOver = z
  .strictObject({
    key: MeasureKey,
    label: z.string().describe("What people call the measure."),
    unit: z.enum(UNITS).describe("What the values are in."),
    definition: z.string().describe("What is measured, in words."),
    counting: z
      .string()
      .describe("Of which encounters it can be told (N), and which of them are counted (n)."),
    n: z.int().min(0).describe("How many encounters are counted."),
    of: z.int().min(0).describe("Of how many encounters it can be told."),
    over: z.enum(["sum", "most"]).nullable().describe("How `value` is made of the encounters' values."),
    value: z
      .number()
      .nullable()
      .describe("The sum, or the most, over the unit; null where neither makes sense."),
  })
  .meta({ id: "MeasureOverUnit", description: "One measure over a unit." });

const EncounterAudited = z
  .strictObject({
    encounter: Key,
    from: InstantText.describe("From when on the patient was in the unit in this shift."),
    to: InstantText.describe("Until when, as far as the shift has come."),
    asOf: AsOf,
    values: Values,
  })
  .meta({
    id: "EncounterAudited",
    description:
      "One encounter's part of the shift. Who left the unit and came back within it has a row for each time.",
  });

export const UnitAudit = z
  .strictObject({
    unit: Key,
    shift: z.string().describe("The shift, such as `2026-03-04/day`."),
    label: z.string().describe("What people call the shift."),
    start: InstantText,
    end: InstantText,
    zone: z.string().describe("The zone of the unit's clocks."),
    asOf: z
      .strictObject({
        recordedBy: InstantText.describe("Everything that was recorded by then is known."),
        digest: z
          .string()
          .regex(/^[0-9a-f]{64}$/)
          .describe(
            "SHA-256 over where the chains of all encounters of the shift ended, in the order of their ids.",
          ),
        calculation: z.string().describe("The version of the calculation."),
      })
      .describe("What was known, over the unit."),
    until: Until,
    measures: z.array(MeasureOver).describe("Over all encounters of the shift, whichever are shown."),
    encounters: z.array(EncounterAudited).describe("Those that were asked for, in the order that was."),
  })
  .meta({ id: "UnitAudit", description: "How well a shift of a unit is documented." });

/** What stands in the first column of a row that is about all encounters, and what of a measure it says. */
const OVER_THE_UNIT: readonly (readonly [string, (measure: z.infer<typeof MeasureOver>) => Field])[] = [
  ["n", ({ n }) => n],
  ["N", ({ of }) => of],
  ["unit", ({ value }) => value],
  ["n of N", ({ counting }) => counting],
  ["definition", ({ definition }) => definition],
];

/**
 * An audit as a table: a row for each encounter, and in the header every measure with its unit. Below them what is
 * told over the unit; a first column says which is which, so that either can be filtered away.
 */
export function auditTable(audit: object): string {
  const { unit, shift, until, measures, encounters } = audit as z.infer<typeof UnitAudit>;
  const header = [
    ...["row", "unit", "shift", "encounter", "from", "to", "sequence", "digest", "until"],
    ...MEASURES.map(({ key, form }) => `${key} (${UNITS[form]})`),
  ];
  const each = encounters.map(({ encounter, from, to, asOf, values }): Field[] => [
    ...["encounter", unit, shift, encounter, from, to, asOf.sequence, asOf.digest, until],
    ...MEASURES.map(({ key }) => (values as Readonly<Record<string, Field>>)[key] ?? null),
  ]);
  const over = OVER_THE_UNIT.map(([row, told]): Field[] => [
    ...[row, unit, shift, null, null, null, null, null, until],
    ...measures.map(told),
  ]);
  return csv(header, [...each, ...over]);
}
