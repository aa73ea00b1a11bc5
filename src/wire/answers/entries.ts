/** Entries as they are answered: as they were posted, and how they were recorded. */

import { z } from "zod";
import { OutputCategory } from "../entries/categories.js";
import { POSTED_KINDS } from "../entry.js";
import { InstantText } from "../instant.js";
import { Volume, Weight } from "../quantity.js";
import { Key } from "../text.js";
import { Finding } from "./findings.js";
import { AsOf, Author, LedgerHead, Next, ShownVolume, Until } from "./head.js";
import { ChannelTotals } from "./totals.js";

/** Kinds that the ledger writes itself into an encounter's chain. */
const LEDGER_KINDS = [
  "admitted",
  "moved",
  "discharged",
  "settings-changed",
  "finding-acknowledged",
  "shift-signed",
  "chart-posted",
] as const;

const Frozen = z
  .strictObject({
    rate: z
      .union([z.number(), z.literal("unknown")])
      .optional()
      .describe("In mL/h; unknown where what it was told by could not be turned into a rate."),
    volume: Volume.optional().describe("What the dose of a bolus came to, in mL."),
    weight: Weight.optional().describe("The body weight it was computed with."),
    concentration: z
      .strictObject({
        additive: z.string().describe("The drug or electrolyte."),
        amount: z.number().describe("How much of it, in `unit`."),
        unit: z.string().describe("The UCUM unit of the amount."),
        in: z.number().describe("In how many mL."),
      })
      .optional()
      .describe("The concentration it was computed with."),
    countsFrom: InstantText.optional().describe(
      "Of a level of a gravity set: from when on the bag holds so much by the computation. What flowed until then was signed when the level was recorded.",
    ),
  })
  .meta({
    id: "Frozen",
    description:
      "What a dose, drops or a duration came to when it was recorded, and from when on a level counts; neither is ever computed again.",
  });

export const Recording = z
  .strictObject({
    sequence: z.int().min(1).describe("Its place in the chain, from 1."),
    at: InstantText.describe("When it was recorded."),
    by: Author,
    source: z.enum(["person", "device"]).describe("Which of the two recorded it."),
    digest: z.string().describe("SHA-256 of the entry, which holds the digest of the one before."),
    state: z
      .enum(["current", "amended", "voided"])
      .describe("Whether it counts, an amendment counts in its place, or it was made in error."),
    frozen: Frozen.optional(),
    linkedTo: Key.optional().describe(
      "The id of the same event's report by the other of the two, a person or a device, within three minutes. They count once, at the earlier time.",
    ),
  })
  .meta({ id: "Recording", description: "How an entry was recorded." });

const KINDS: readonly string[] = [...POSTED_KINDS, ...LEDGER_KINDS];

export const EntryKind = z.enum(KINDS).meta({
  id: "EntryKind",
  description: "A kind of entry: one that is posted, or one that the ledger writes itself.",
});

export const RecordedEntry = z
  .looseObject({
    id: Key.describe("The entry's id, sent or made."),
    kind: EntryKind,
    at: InstantText.optional().describe("When it happened; corrections have no time of their own."),
    recorded: Recording,
  })
  .meta({
    id: "RecordedEntry",
    description: "An entry with every field as it was posted, and how it was recorded.",
  });

export const EntryList = z
  .strictObject({
    asOf: AsOf,
    until: Until,
    entries: z
      .array(RecordedEntry)
      .describe(
        "A page of the entries that were asked for, in the order asked for; empty where there are none.",
      ),
    next: Next,
  })
  .meta({ id: "EntryList", description: "Entries, in the order asked for." });

export const EntryWithAmendments = RecordedEntry.extend({
  asOf: AsOf,
  amendments: z
    .array(RecordedEntry)
    .describe("A page of the amendments and voids of it, in the order of recording."),
  next: Next,
}).meta({ id: "EntryWithAmendments", description: "One entry and every correction of it." });

export const EntriesRecorded = z
  .strictObject({
    ledger: LedgerHead,
    entries: z.array(RecordedEntry).describe("In the order of the request."),
    findings: z
      .array(Finding)
      .describe(
        "What the entries raised, changed or settled, of what is judged when something is recorded; what is judged over the whole stay is told by its findings.",
      ),
  })
  .meta({ id: "EntriesRecorded", description: "The entries are recorded, durably." });

export const EntriesTaken = z
  .strictObject({
    ledger: LedgerHead,
    entries: z
      .array(
        z.strictObject({
          id: Key.describe("The entry's id, sent or made."),
          recorded: Recording.pick({ sequence: true, at: true, digest: true }).describe(
            "Where and when it was recorded: keep the digest to prove it later.",
          ),
        }),
      )
      .describe("In the order of the request."),
  })
  .meta({
    id: "EntriesTaken",
    description:
      "What a device is told, which reads nothing of a patient: that its entries are recorded, and where.",
  });

const Effect = z
  .strictObject({
    row: z
      .strictObject({
        line: Key.nullable().describe("The line; null for what no line is known of, and in the balance."),
        label: z.string().describe("What people call it."),
        balance: z
          .union([OutputCategory, z.literal("net")])
          .optional()
          .describe(
            "Of a figure of the balance: the category of output, or the net of all intake and output.",
          ),
      })
      .describe("The row whose figure it is: what was delivered or given by line, or a row of the balance."),
    start: InstantText.describe("The start of the interval."),
    end: InstantText.describe("Its end, which is not part of it."),
    before: ShownVolume.describe("What it shows now, in mL; a net, or output less irrigant, may be below 0."),
    after: ShownVolume.describe("What it would show, in mL."),
  })
  .meta({ id: "Effect", description: "A figure that the entries would change." });

export const DryRun = z
  .strictObject({
    ledger: LedgerHead,
    entries: z.array(RecordedEntry).describe("As they would be recorded, in the order of the request."),
    findings: z.array(Finding).describe("What they would raise, change or settle."),
    effects: z
      .array(Effect)
      .describe(
        "Every figure they would change, also of time before they happened, hour by hour or, over long, by shift.",
      ),
    totals: z.array(ChannelTotals).describe("The running totals as they would be."),
  })
  .meta({ id: "DryRun", description: "What recording the entries would do; nothing is recorded." });
