/** Why a figure is what it is, and what three ways say of the same volume, as they are answered. */

import { z } from "zod";
import { IntakeCategory } from "../entries/categories.js";
import { TotalName } from "../entries/totals.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { Basis } from "./basis.js";
import { FlowRole, Unattributed } from "./flows.js";
import { AsOf, Until } from "./head.js";

const COORDINATES = {
  zone: z.string().describe("The zone of the unit's clocks."),
  from: InstantText,
  to: InstantText,
  asOf: AsOf,
  until: Until,
};
const Millilitres = z.number().describe("In mL.");
const MaybeMillilitres = z.number().nullable().describe("In mL; null where nobody knows.");

const Delivery = z
  .strictObject({
    channel: Key,
    line: Key.nullable().describe("The line; null where none is known."),
    bag: Key.nullable().describe("The bag; null where none is known."),
    role: FlowRole,
    start: InstantText,
    end: InstantText,
    rate: z.number().gt(0).describe("As charted, or what a level says on average, in mL/h."),
    computed: Millilitres.describe("Rate × time, in mL."),
    volume: Millilitres.describe("With what was read allowed for, in mL."),
    basis: Basis,
    reading: Key.nullable().describe("The entry that says how much it was; null where nothing was read."),
    startedBy: Key.describe("The entry that started it."),
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
    computed: MaybeMillilitres.describe("Rate × time, in mL; null of a segment."),
    difference: MaybeMillilitres.describe("Delivered less computed, in mL."),
    basis: z.enum(["apportioned", "disputed"]).describe("Whether it agrees, or is in dispute."),
  })
  .meta({ id: "SpanRead", description: "What a reading, level or segment says of the span before it." });

export const Explanation = z
  .strictObject({
    ...COORDINATES,
    row: z.strictObject({
      per: z.enum(["line", "channel", "bag", "category"]),
      key: z.string().nullable(),
      label: z.string(),
    }),
    volume: Millilitres.describe("The figure, as the volumes show it, in mL."),
    computed: Millilitres.describe("The same by rate and time alone, in mL."),
    basis: Basis.nullable().describe("What it rests on; null before it begins."),
    unknown: z.number().min(0).describe("Minutes of which nobody knows what flowed."),
    sentence: z.string().describe("Why it is what it is, in plain words."),
    deliveries: z.array(Delivery),
    unattributed: z.array(Unattributed),
    amounts: z.array(
      z.strictObject({ entry: Key, at: InstantText, category: IntakeCategory, volume: Millilitres }),
    ),
    readings: z.array(SpanRead),
    entries: z.array(Key).describe("Every entry it is made of."),
  })
  .meta({ id: "Explanation", description: "What one figure is made of." });

const Rests = z.string().describe("Why, in plain words.");

const ReadingCompared = z
  .strictObject({
    reading: Key.describe("The entry."),
    total: TotalName.nullable().describe("Null of a segment."),
    start: InstantText.describe("The reading or clear before it."),
    end: InstantText.describe("The reading."),
    rateTime: MaybeMillilitres.describe("Rate × time, in mL; null of a segment."),
    read: MaybeMillilitres.describe("What the readings say, in mL; null where the total fell."),
    difference: MaybeMillilitres.describe("Read less rate × time, in mL."),
    restsOn: z.enum(["reading", "rate-time"]).describe("What the figures rest on."),
    why: Rests,
  })
  .meta({ id: "ReadingCompared", description: "A span between readings, by rate and time and as read." });

const LevelCompared = z
  .strictObject({
    entry: Key.describe("The entry."),
    method: z.enum(["weighed", "scale", "estimate"]),
    start: InstantText.describe("When it was last known what the bag held."),
    end: InstantText.describe("When the level was read."),
    holds: Millilitres.describe("What the bag holds by the level, in mL."),
    rateTime: Millilitres.describe("What flowed out of it by rate and time, in mL."),
    byLevel: Millilitres.describe("What flowed out of it by the level, in mL."),
    difference: Millilitres.describe("By the level less by rate and time, in mL."),
    agrees: z.boolean().describe("Whether that is within the tolerance."),
    restsOn: z.enum(["level", "rate-time"]).describe("What the figures rest on."),
    why: Rests,
  })
  .meta({ id: "LevelCompared", description: "What a level says was taken out of a bag." });

export const ThreeWays = z
  .strictObject({
    ...COORDINATES,
    channels: z.array(
      z.strictObject({
        channel: Key,
        rateTime: Millilitres.describe("Rate × time in the period, in mL."),
        charted: Millilitres.describe("What the figures of the period come to, in mL, not rounded."),
        readings: z.array(ReadingCompared).describe("Every span between readings that the period touches."),
      }),
    ),
    bags: z.array(
      z.strictObject({
        bag: Key,
        fluid: z.string().nullable(),
        rateTime: Millilitres.describe("Rate × time in the period, in mL."),
        charted: Millilitres.describe("What the figures of the period come to, in mL, not rounded."),
        levels: z.array(LevelCompared),
      }),
    ),
  })
  .meta({
    id: "ThreeWays",
    description: "Rate × time, running totals and bag levels beside each other.",
  });
