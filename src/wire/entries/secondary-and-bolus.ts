/**
 * What interrupts the primary: a secondary, with a bag and a total of its own, and a bolus, which
 * draws the primary's bag and counts in the primary's total. Also what left the device and did not
 * reach the patient.
 */

import { z } from "zod";
import { InstantText } from "../instant.js";
import { Volume } from "../quantity.js";
import { ClearedTotals } from "./clears.js";
import { DEFAULTS } from "./defaults.js";
import { HOW_FAST, waysToStart } from "./how-fast.js";
import { kind, oneOfWays, way } from "./kind.js";
import { Channel } from "./lines-and-channels.js";
import { mustFollow } from "./period.js";
import { BolusVolume, DrugAmount, Over, PlainRate } from "./speed.js";

export const SecondaryStarted = oneOfWays(
  "secondary-started",
  {
    description:
      "A secondary starts and the primary waits. Without a secondary bag it draws the primary's (a flush).",
    example: { channel: "pump-1", rate: 200, volumeToInfuse: 100, primaryClamped: false },
  },
  HOW_FAST,
  waysToStart("secondary-started", "A secondary", {
    channel: Channel,
    whenDone: z.enum(["resume-primary", "wait"]).optional().meta({
      description: "What follows when it is done: the primary goes on, or the channel waits until resumed.",
      default: DEFAULTS.afterSecondary,
    }),
    primaryClamped: z.boolean().optional().describe("Whether the primary's line was seen to be clamped."),
    leaveUncaptured: ClearedTotals,
  }),
);

export const SecondaryEnded = kind(
  "secondary-ended",
  {
    description: "The secondary ends before its volume is reached, or as seen.",
    example: { channel: "pump-1" },
  },
  { channel: Channel },
);

const BOLUS = {
  channel: Channel,
  whenDone: z.enum(["return", "wait"]).optional().meta({
    description:
      "What follows when it is done: what it interrupted goes on, or the channel waits until resumed.",
    default: DEFAULTS.afterBolus,
  }),
};
const BOLUS_WAYS = [
  way(
    "bolus-started",
    "VolumeOverTime",
    { description: "A volume in a time.", example: { channel: "pump-1", volume: 250, over: "PT15M" } },
    { ...BOLUS, volume: BolusVolume, over: Over },
  ),
  way(
    "bolus-started",
    "VolumeAtRate",
    { description: "A volume at a rate.", example: { channel: "pump-1", volume: 250, rate: 999 } },
    { ...BOLUS, volume: BolusVolume, rate: PlainRate },
  ),
  way(
    "bolus-started",
    "DoseOverTime",
    {
      description: "An amount of drug in a time.",
      example: { channel: "pump-1", dose: { value: 2, unit: "mg" }, over: "PT5M" },
    },
    { ...BOLUS, dose: DrugAmount, over: Over },
  ),
  way(
    "bolus-started",
    "DoseAtRate",
    {
      description: "An amount of drug at a rate.",
      example: { channel: "pump-1", dose: { value: 2500, unit: "[iU]" }, rate: 300 },
    },
    { ...BOLUS, dose: DrugAmount, rate: PlainRate },
  ),
] as const;

export const BolusStarted = oneOfWays(
  "bolus-started",
  {
    description: "A bolus from the primary's bag. It ends a pause and interrupts what delivers.",
    example: { channel: "pump-1", volume: 250, over: "PT15M" },
  },
  "must say how much in exactly one way (volume or dose) and how fast in exactly one way (over or rate).",
  BOLUS_WAYS,
);

export const BolusStopped = kind(
  "bolus-stopped",
  { description: "The bolus ends before its volume is reached.", example: { channel: "pump-1" } },
  { channel: Channel },
);

export const DeliveryLost = kind(
  "delivery-lost",
  {
    description: "What the channel delivered in a span left the device and did not reach the patient.",
    example: {
      at: "2026-03-04T09:20:00-06:00",
      channel: "pump-1",
      from: "2026-03-04T09:00:00-06:00",
      to: "2026-03-04T09:20:00-06:00",
      volume: "unknown",
      reason: "disconnected",
    },
  },
  {
    channel: Channel,
    from: InstantText.describe("From when; it must lie before `to`."),
    to: InstantText.describe("Until when; this instant is not part of it."),
    volume: z
      .union([Volume, z.literal("unknown")], { error: 'must be a number of mL, or the word "unknown".' })
      .describe("How much was lost in mL, or that nobody knows."),
    reason: z.enum(["leaked", "disconnected", "infiltrated", "other"]).describe("Where it went, or why."),
  },
  mustFollow("from", "to"),
);
