/**
 * The primary infusion of a channel: started, changed, paused, resumed, stopped. How fast is told in
 * exactly one way, so starting a flow and changing its rate are each one object per way.
 */

import { z } from "zod";
import { RateNumber, Weight } from "../quantity.js";
import { Role } from "./bags.js";
import { HOW_FAST, waysToStart } from "./how-fast.js";
import { kind, oneOfWays, way } from "./kind.js";
import { Channel } from "./lines-and-channels.js";
import { Dose, DripRate, PlainRate, UnknownRate, VolumeToInfuse } from "./speed.js";

export const FlowStarted = oneOfWays(
  "flow-started",
  {
    description:
      "The primary of a channel starts. It takes over from whatever delivered or waited; volume to infuse and programme start anew, running totals do not.",
    example: { channel: "pump-1", rate: 75, volumeToInfuse: 500 },
  },
  HOW_FAST,
  waysToStart("flow-started", "A primary", {
    channel: Channel,
    keepOpenRate: RateNumber.optional().describe(
      "The rate in mL/h it goes on at once the volume to infuse is reached; absent: it ends.",
    ),
    programmedWeight: Weight.optional().describe(
      "The body weight the device was programmed with, for a dose.",
    ),
  }),
);

const CHANGE = { channel: Channel, role: Role };

export const RateChanged = oneOfWays(
  "rate-changed",
  {
    description:
      "The rate of a channel's primary or secondary changes; of one that waits, from when it flows again.",
    example: { channel: "pump-1", role: "primary", rate: 80 },
  },
  'must say how fast in exactly one way: rate and/or dose, dripRate, or rate "unknown".',
  [
    way(
      "rate-changed",
      "ToRate",
      { description: "Changed to a rate.", example: { channel: "pump-1", rate: 80 } },
      { ...CHANGE, rate: PlainRate, dose: Dose.optional() },
    ),
    way(
      "rate-changed",
      "ToDose",
      {
        description: "Changed to a dose, from which the rate follows.",
        example: { channel: "pump-1", dose: { value: 0.08, unit: "ug/kg/min" } },
      },
      { ...CHANGE, dose: Dose },
    ),
    way(
      "rate-changed",
      "ToDrops",
      { description: "Changed to so many drops per minute.", example: { channel: "drip-1", dripRate: 30 } },
      { ...CHANGE, dripRate: DripRate },
    ),
    way(
      "rate-changed",
      "ToUnknown",
      { description: "Changed to nobody knows what.", example: { channel: "drip-1", rate: "unknown" } },
      { ...CHANGE, rate: UnknownRate },
    ),
  ],
);

export const VolumeToInfuseSet = kind(
  "volume-to-infuse-set",
  {
    description: "A new volume to infuse, counted from this instant.",
    example: { channel: "pump-1", role: "primary", volumeToInfuse: 250 },
  },
  { ...CHANGE, volumeToInfuse: VolumeToInfuse },
);

const Reason = z
  .enum(["by-clinician", "alarming", "switching-source", "not-specified"])
  .describe("Why, in the words of the IHE infusion profiles.");
const HALT = { channel: Channel, reason: Reason.optional() };

export const FlowPaused = kind(
  "flow-paused",
  {
    description: "The channel stands still; whatever was delivering keeps its place.",
    example: { channel: "pump-1", reason: "by-clinician" },
  },
  HALT,
);

export const FlowResumed = kind(
  "flow-resumed",
  { description: "What was paused, or waits, goes on.", example: { channel: "pump-1" } },
  HALT,
);

export const FlowStopped = kind(
  "flow-stopped",
  {
    description: "The primary and a bolus end; a secondary finishes, then nothing flows.",
    example: { channel: "pump-1", reason: "by-clinician" },
  },
  HALT,
);
