/** Why a figure is what it is, as it is answered. */

import { z } from "zod";
import { IntakeCategory } from "../entries/categories.js";
import { TotalName } from "../entries/totals.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { Basis } from "./basis.js";
import { COORDINATES, MaybeMillilitres, Millilitres } from "./explained.js";
import { FlowRole, Unattributed } from "./flows.js";

const Delivery = z
  .strictObject({
    channel: Key,
    line: Key.nullable().describe("The line; null where none is known."),
    bag: Key.nullable().describe("The bag; null where none is known."),
    role: FlowRole,
    start: InstantText,
    end: InstantText,
    rate: z
      .number()
      .gt(0)
      .nullable()
      .describe("As charted, in mL/h; null where nobody knew it and what was read is shared evenly."),
    computed: Millilitres.describe("Rate × time, in mL."),
    volume: Millilitres.describe("With what was read allowed for, in mL."),
    basis: Basis,
    reading: Key.nullable().describe("The entry that says how much it was; null where nothing was read."),
    startedBy: Key.describe("The entry that started it."),
    setBy: Key.describe(
      "The entry that set the rate: the one that started it, or the last change of its rate.",
    ),
  })
  .meta({ id: "Delivery", description: "A part of a flow, as a figure takes it." });

const SpanRead = z
  .strictObject({
    kind: z.enum(["total", "level", "segment"]).describe("What was read."),
    channel: Key,
    total: TotalName.nullable().describe("The running total; null of a level or segment."),
    bag: Key.nullable().describe("The bag, of a level."),
    entry: Key.describe("The reading."),
    over: Key.describe("The reading or clear before it."),
    start: InstantText,
    end: InstantText,
    shows: Millilitres.describe("What was read, in mL."),
    delivered: MaybeMillilitres.describe("What that says was delivered, in mL; null where it says nothing."),
    computed: MaybeMillilitres.describe("Rate × time, in mL."),
    difference: MaybeMillilitres.describe("Delivered less computed, in mL."),
    unplaced: Millilitres.describe(
      "How much more than that the figures keep, in mL: what is signed stays, and what a segment counted. Mostly 0.",
    ),
    basis: z.enum(["apportioned", "disputed"]).describe("Whether it agrees, or is in dispute."),
  })
  .meta({ id: "SpanRead", description: "What a reading, level or segment says of the span before it." });

const Held = z
  .strictObject({
    channel: Key,
    how: z
      .enum(["paused", "waiting", "stopped", "disconnected", "ended", "other-source"])
      .describe(
        "`waiting` is for somebody to resume it; `ended` is with nothing left to run; `other-source` is while the channel gave something else, such as a secondary.",
      ),
    since: InstantText,
    by: Key.describe("The entry that made it so, or that had started what came to its end by itself."),
  })
  .meta({ id: "Held", description: "Why a channel did not run." });

export const Explanation = z
  .strictObject({
    ...COORDINATES,
    row: z
      .strictObject({
        per: z
          .enum(["line", "channel", "bag", "category"])
          .describe("What the rows of the volumes stand for, as asked."),
        key: z
          .string()
          .nullable()
          .describe("The line, channel, bag or category; null for what none is known of."),
        label: z.string().describe("What people call the row."),
      })
      .describe("The row of the volumes whose figure is explained."),
    volume: z
      .number()
      .nullable()
      .describe("The figure, as the volumes show it, in mL; null before it begins."),
    computed: z
      .number()
      .nullable()
      .describe("The same by rate and time alone, in mL; null before it begins."),
    basis: Basis.nullable().describe("What it rests on; null before it begins."),
    unknown: z.number().min(0).describe("Minutes of which nobody knows what flowed."),
    sentence: z.string().describe("Why it is what it is, in plain words."),
    deliveries: z
      .array(Delivery)
      .describe("The flows in the figure, piece by piece; empty where nothing ran."),
    unattributed: z
      .array(Unattributed)
      .describe("What readings add to the figure and no flow holds; mostly empty."),
    amounts: z
      .array(z.strictObject({ entry: Key, at: InstantText, category: IntakeCategory, volume: Millilitres }))
      .describe("What was charted as an amount and not as a flow, such as a flush; empty where nothing was."),
    readings: z
      .array(SpanRead)
      .describe(
        "The readings, levels and segments that say something of these flows; empty where nothing was read.",
      ),
    held: z.array(Held).describe("What held the channels, where none of them ran."),
    entries: z.array(Key).describe("Every entry it is made of."),
  })
  .meta({ id: "Explanation", description: "What one figure is made of." });
