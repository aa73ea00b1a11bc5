/**
 * What an entry that clears running totals may say when what they held is not going to be written
 * down: a coded reason, and words where the code is `other`.
 */

import { z } from "zod";
import { words } from "../text.js";

const CodedReason = z
  .strictObject({
    reason: z
      .enum(["already-cleared", "device-gone", "unreadable"])
      .describe("Somebody had cleared it before, the device is not there any more, or it cannot be read."),
    text: words("More about the reason.").optional(),
  })
  .meta({ id: "UncapturedForCodedReason", description: "Left uncaptured for one of the usual reasons." });

const OtherReason = z
  .strictObject({ reason: z.literal("other").describe("Another reason."), text: words("The reason.") })
  .meta({ id: "UncapturedForOtherReason", description: "Left uncaptured for a reason in words." });

export const LeaveUncaptured = z.discriminatedUnion("reason", [CodedReason, OtherReason]).meta({
  id: "LeaveUncaptured",
  description:
    "The totals at risk are knowingly left unread, and why: answers the question that would be asked otherwise.",
  examples: [{ reason: "device-gone" }, { reason: "other", text: "Sent with the patient to theatre." }],
});

/** On every entry that can clear totals. */
export const ClearedTotals = LeaveUncaptured.optional();
