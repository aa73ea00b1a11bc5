/**
 * Running totals: read, cleared, and judged. A reading of 0 at a clear stands after it; any other at
 * the same instant before it, unless `position` says.
 */

import { z } from "zod";
import { faultIssue } from "../fault.js";
import { InstantText, readInstant } from "../instant.js";
import { Volume } from "../quantity.js";
import { Key, words } from "../text.js";
import { ClearedTotals } from "./clears.js";
import { kind } from "./kind.js";
import { Channel } from "./lines-and-channels.js";
import { mustFollow } from "./period.js";

export const TotalName = z.enum(["primary", "secondary", "combined"]).meta({
  id: "TotalName",
  description: "Which of a channel's counters: combined is one that adds both up.",
});

export const TotalRead = kind(
  "total-read",
  {
    description:
      "A running total as the device shows it. It is judged by what it gained since it was last read or cleared; what agrees is what was delivered. A person whose reading disagrees is asked once (409); what they confirm counts, in dispute, until an entry explains it or somebody settles it. A device's waits to be settled.",
    example: { channel: "pump-1", total: "primary", volume: 162.5 },
  },
  {
    channel: Channel,
    total: TotalName,
    volume: Volume.describe("What the counter shows, in mL, at most 3 decimals."),
    position: z
      .enum(["before", "after"])
      .optional()
      .describe("On which side of a clear at the same instant it stands."),
    confirmed: z
      .boolean()
      .optional()
      .describe("The device was looked at again and does show this, though the ledger expects otherwise."),
  },
);

export const TotalsReset = kind(
  "totals-reset",
  {
    description:
      "Running totals were set to zero: by somebody, or since the device was switched off. A person is asked first (409) where that would lose more than the unit's limit.",
    example: { channel: "pump-1", totals: ["primary"], leaveUncaptured: { reason: "already-cleared" } },
  },
  {
    channel: Channel,
    totals: z.array(TotalName).min(1).max(3).optional().describe("Which; absent: all the channel has."),
    cause: z
      .enum(["by-hand", "power-off"])
      .optional()
      .describe(
        "What set them to zero; absent: somebody did. `power-off` says so of the totals alone: what ended with it is charted as what it is, such as a pause.",
      ),
    between: z
      .tuple([InstantText, InstantText])
      .optional()
      .describe(
        "Where nobody knows when: the earliest and the latest it can have been, in this order. It counts from the earliest; a reading afterwards agrees if it was cleared at any time between.",
      ),
    leaveUncaptured: ClearedTotals,
  },
  ({ value, issues }) => {
    if (value.between === undefined) return;
    const [earliest, latest] = value.between;
    if (readInstant(earliest) <= readInstant(latest)) return;
    issues.push(
      faultIssue(value.between, "inconsistent", "must name the earlier instant first.", {
        path: ["between"],
      }),
    );
  },
);

export const TherapyChanged = kind(
  "therapy-changed",
  {
    description:
      "A new therapy is programmed: all flows of the channel end, and the totals it clears on a therapy change are cleared. A person is asked first (409) where that would lose more than the unit's limit.",
    example: { channel: "pump-1" },
  },
  { channel: Channel, leaveUncaptured: ClearedTotals },
);

export const VarianceSettled = kind(
  "variance-settled",
  {
    description: "A person decides what counts where a reading and the ledger disagree.",
    example: { reading: "reading-1", use: "reading", reason: "The rate change at 09:30 was charted late." },
  },
  {
    reading: Key.describe("The id of the total-read or segment-read entry."),
    use: z.enum(["reading", "computed"]).describe("What counts as delivered."),
    reason: words("Why."),
  },
);

export const SegmentRead = kind(
  "segment-read",
  {
    description:
      "What a device counted over a segment of its own, which ends at `at`. It is judged as a reading is, by what was computed of exactly that span: what agrees is what was delivered. A person whose segment disagrees is asked once (409); what they confirm counts, in dispute, until an entry explains it or somebody settles it. A device's waits to be settled.",
    example: {
      at: "2026-03-04T08:00:00-06:00",
      channel: "pump-1",
      start: "2026-03-04T07:30:00-06:00",
      volume: 37.5,
    },
  },
  {
    channel: Channel,
    start: InstantText.describe("When the segment began; it must lie before `at`."),
    volume: Volume.describe("What was delivered in the segment, in mL, at most 3 decimals."),
    confirmed: z
      .boolean()
      .optional()
      .describe("The device was looked at again and does show this, though the ledger expects otherwise."),
  },
  mustFollow("start", "at"),
);
