/** Flows as they are answered: what delivered what, one by one, for who draws or exports them. */

import { z } from "zod";
import { IntakeCategory } from "../entries/categories.js";
import { TotalName } from "../entries/totals.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { Basis } from "./basis.js";
import { AsOf, Until } from "./head.js";

export const FlowRole = z.enum(["primary", "secondary", "bolus", "keep-open"]).meta({
  id: "FlowRole",
  description: "Under what a delivered volume is charted.",
});

const WHERE = {
  channel: Key,
  line: Key.nullable().describe("The line; null where none is known."),
  bag: Key.nullable().describe("The bag; null where none is known."),
};

export const Flow = z
  .strictObject({
    ...WHERE,
    fluid: z
      .strictObject({
        name: z.string().describe("The fluid, as the bag was charted."),
        category: IntakeCategory,
      })
      .nullable()
      .describe("What the bag holds; null for unidentified fluid."),
    role: FlowRole,
    start: InstantText,
    end: InstantText.describe("Its end, which is not part of it."),
    rate: z
      .number()
      .gt(0)
      .nullable()
      .describe("In mL/h; null when nobody knew it and the volume was read afterwards."),
    volume: z.number().min(0).describe("Rate × time, in mL to the microlitre; not rounded further."),
    delivered: z
      .number()
      .min(0)
      .describe("What it delivered with the readings allowed for, in mL to the microlitre."),
    basis: Basis.describe("What `delivered` rests on."),
  })
  .meta({ id: "Flow", description: "A span of time in which one bag delivered at one rate." });

export const Unattributed = z
  .strictObject({
    ...WHERE,
    total: TotalName.nullable().describe("The running total; null of a level or a segment."),
    reading: Key.describe("The entry that says so; the amount stands at its time."),
    start: InstantText.describe("Since when it may have been delivered."),
    at: InstantText.describe("The time of the reading."),
    volume: z.number().describe("In mL, above 0."),
    basis: Basis,
  })
  .meta({
    id: "Unattributed",
    description:
      "An amount that a reading adds, and that no flow can be scaled to hold. What a reading takes off comes off what flowed last before it.",
  });

const UnknownSpan = z
  .strictObject({
    ...WHERE,
    role: FlowRole,
    start: InstantText,
    end: InstantText,
    reason: z
      .enum(["end-unconfirmed", "rate-unknown", "away", "unread"])
      .describe(
        "An end that was computed and that nobody confirmed, a rate nobody knows, time spent away with flows unknown, or a metered channel since it was last read.",
      ),
  })
  .meta({
    id: "UnknownSpan",
    description: "A span in which something may have flowed that no entry tells of.",
  });

export const Flows = z
  .strictObject({
    zone: z.string().describe("The zone of the unit's clocks."),
    from: InstantText,
    to: InstantText,
    asOf: AsOf,
    until: Until,
    flows: z.array(Flow).describe("In order of their start by channel."),
    unattributed: z.array(Unattributed).describe("What readings add that no flow can hold; mostly empty."),
    unknown: z
      .array(UnknownSpan)
      .describe("Spans in which nobody knows what flowed; empty where all is known."),
  })
  .meta({ id: "Flows", description: "The flows of a period, cut at its ends." });
