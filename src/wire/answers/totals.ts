/** Running totals as they are answered: what each device should show, and what only it knows. */

import { z } from "zod";
import { OutputCategory } from "../entries/categories.js";
import { TotalName } from "../entries/totals.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { FlowRole } from "./flows.js";
import { AsOf, Until } from "./head.js";

const Delivering = z.enum(["nothing", "primary", "secondary", "bolus"]);
const Speed = z.number().gt(0).nullable().describe("In mL/h; null when nobody knows it.");
const Bag = Key.nullable().describe("The bag; null where none is known.");

const Flow = z
  .strictObject({
    bag: Bag,
    role: FlowRole,
    rate: Speed,
    dripRate: z.number().min(0).optional().describe("Drops per minute of a gravity set."),
    left: z
      .number()
      .nullable()
      .describe("What the bag is said to hold, in mL, never below 0; null without a bag."),
    emptyAt: InstantText.nullable().describe(
      "Forecast: when the bag is empty, if the flow goes on as programmed.",
    ),
    endsAt: InstantText.nullable().describe("Forecast: when the flow ends by itself, if nothing is changed."),
  })
  .meta({ id: "RunningFlow", description: "What the channel delivers now." });

const PastFlow = z
  .strictObject({
    start: InstantText,
    end: InstantText,
    bag: Bag,
    rate: Speed,
    volume: z.number().describe("In mL."),
  })
  .meta({ id: "FlowAtRisk", description: "A flow that the total counted since it was last read." });

export const RunningTotal = z
  .strictObject({
    total: TotalName,
    expected: z.number().describe("What the device should show, in mL."),
    lastReading: z
      .number()
      .nullable()
      .describe("What was read last, in mL; null when nothing was since a clear."),
    atRisk: z.number().describe("What only the device knows, in mL."),
    since: InstantText.describe("Since when: the last reading or clear, or the connection."),
    atLeast: z
      .boolean()
      .describe(
        "Whether something was counted since at a rate nobody knows, so that it is at least so much.",
      ),
    waiting: z
      .strictObject({
        reading: Key.describe("The entry."),
        value: z.number().describe("What was read, in mL."),
        expected: z.number().describe("What the device should show now if that is right, in mL."),
      })
      .optional()
      .describe("A reading that disagrees, and waits for somebody to decide."),
    flows: z.array(PastFlow).describe("The flows that what is at risk comes from."),
  })
  .meta({ id: "RunningTotal", description: "One counter of a channel." });

const Segment = z
  .strictObject({
    reading: Key.describe("The entry."),
    start: InstantText,
    end: InstantText,
    shows: z.number().describe("What the device counted in it, in mL."),
    rateTime: z.number().describe("Rate × time over it, in mL."),
    outcome: z
      .enum(["agrees", "settled", "disputed", "waits", "not-used", "looked-again"])
      .describe(
        "Whether it counts: it agrees, somebody decided so, or somebody confirmed it though it disagrees. One that waits, that somebody decided against, or in whose place another look at the same segment counts, does not.",
      ),
  })
  .meta({ id: "SegmentTold", description: "What a device counted over a segment of its own." });

const Captured = z
  .strictObject({
    since: InstantText.describe(
      "Since the totals were last read or cleared; where the channel keeps none, 24 hours ago.",
    ),
    count: z.int().min(1).describe("How many segments ended since."),
    captured: z
      .number()
      .describe(
        "What those that count say was delivered since, in mL: it is written down, though no total was read.",
      ),
    untold: z.number().describe("Rate × time of the time since that none of those covers, in mL."),
    last: Segment.describe("The one that ended last."),
    waiting: z.array(Segment).describe("Those that disagree, and wait for somebody to decide."),
  })
  .meta({ id: "CapturedBySegments", description: "What a device's own segments say was delivered." });

export const ChannelTotals = z
  .strictObject({
    channel: Key,
    line: Key.nullable().describe("The line it is or was last connected to; null when none is known."),
    lineLabel: z.string().nullable().describe("What people call that line; its key where it has no label."),
    connected: z.boolean().describe("Whether it is connected to a line."),
    delivering: Delivering.describe("What it delivers from."),
    hold: z
      .enum(["none", "paused", "waiting", "stopped"])
      .describe(
        "Whether it stands still by a pause, waits for somebody after a secondary or bolus, or, metered, was stopped.",
      ),
    flow: Flow.nullable().describe("What flows; null when nothing does."),
    totals: z
      .array(RunningTotal)
      .describe("One for each counter that the device keeps; empty where it keeps none."),
    segments: Captured.nullable().describe(
      "What the device's own segments captured; null where it told none since.",
    ),
  })
  .meta({ id: "ChannelTotals", description: "A channel: what it delivers, and its running totals." });

export const ChamberNow = z
  .strictObject({
    chamber: Key,
    category: OutputCategory.describe("What its contents count as."),
    expected: z
      .null()
      .describe("What it should hold now, in mL: null, since nobody knows how fast it fills."),
    lastReading: z
      .number()
      .nullable()
      .describe(
        "What it held when it was last read or placed, in mL: it holds at least that. Null since it was emptied.",
      ),
    atRisk: z.null().describe("What it collected since, in mL, and only it knows: null."),
    since: InstantText.describe("Since when."),
    by: Key.describe("The entry that says so."),
  })
  .meta({ id: "ChamberNow", description: "A chamber: a counter whose rate nobody knows." });

export const Totals = z
  .strictObject({
    at: InstantText,
    asOf: AsOf,
    until: Until,
    channels: z
      .array(ChannelTotals)
      .describe(
        "Every connected channel, and every other one with something at risk, in order of their keys; empty where there is none.",
      ),
    chambers: z.array(ChamberNow).describe("Every chamber that collects."),
  })
  .meta({ id: "Totals", description: "Every channel's running totals, and every chamber, at an instant." });
