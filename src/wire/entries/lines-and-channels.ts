/**
 * Lines and channels: where fluid enters the patient, and what is connected there. Declaring a key
 * again with other properties is refused by the ledger; connecting a channel again moves it.
 */

import { z } from "zod";
import { RateNumber } from "../quantity.js";
import { Key, words } from "../text.js";
import { ClearedTotals } from "./clears.js";
import { DEFAULTS } from "./defaults.js";
import { kind } from "./kind.js";

const Line = Key.describe("The line: one access, or one lumen of an access.");
export const Channel = Key.describe("The pump channel, syringe, gravity set or metered source.");

export const LinePlaced = kind(
  "line-placed",
  {
    description: "A line is there: one access, or lumen of one, that fluid enters the patient by.",
    example: { line: "forearm", label: "Left forearm 20 G", route: "intravenous" },
  },
  {
    line: Line,
    label: words("What people call the line.").optional(),
    site: words(
      "Where on the body it is; of a line that irrigates, what its output names as the site it comes by.",
    ).optional(),
    route: z
      .enum(["intravenous", "arterial", "enteral", "subcutaneous", "epidural", "intraosseous", "irrigation"])
      .describe("What the line enters. Irrigation is no intake."),
  },
);

export const LineRemoved = kind(
  "line-removed",
  {
    description: "A line is gone: what flowed into it ends there.",
    example: { line: "forearm" },
  },
  { line: Line },
);

export const ChannelConnected = kind(
  "channel-connected",
  {
    description:
      "A channel is connected to a line. Connected again to another line, what it delivers goes there from then; with another device, its totals are cleared and nothing flows until started.",
    example: { channel: "pump-1", line: "forearm", type: "pump", totals: "separate", rateStep: 0.1 },
  },
  {
    channel: Channel,
    line: Line,
    type: z
      .enum(["pump", "syringe", "gravity", "metered"])
      .describe(
        "`metered`: it counts what it delivers, at a rate nobody states (an enteral pump, a patient-controlled pump).",
      ),
    device: words("The device that is now this channel, such as its asset number.").optional(),
    totals: z.enum(["separate", "combined", "none"]).optional().meta({
      description: "Whether its counters tell primary and secondary apart, add them up, or do not exist.",
      default: DEFAULTS.totals,
    }),
    clearsOn: z
      .array(z.enum(["therapy-change", "new-secondary", "disconnect", "power-off"]))
      .max(4)
      .optional()
      .meta({
        description:
          "What makes the device forget its totals, besides being told to. That it was switched off has no entry of its own: it is charted as a `totals-reset` with the cause `power-off`.",
        default: DEFAULTS.clearsOn,
      }),
    rateStep: RateNumber.optional().describe(
      "The step of its rates in mL/h; a dose is rounded to it, half up.",
    ),
    maxRate: RateNumber.optional().describe("The highest rate it runs at, in mL/h."),
    dropFactor: z
      .int()
      .min(1)
      .max(200)
      .optional()
      .describe("Drops per mL of a gravity set, as printed on it."),
    leaveUncaptured: ClearedTotals,
  },
);

export const ChannelDisconnected = kind(
  "channel-disconnected",
  {
    description: "A channel is taken off its line: its flows end.",
    example: { channel: "pump-1" },
  },
  { channel: Channel, leaveUncaptured: ClearedTotals },
);
