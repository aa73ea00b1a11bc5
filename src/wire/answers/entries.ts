/** Entries as they are answered: as they were posted, and how they were recorded. */

import { z } from "zod";
import { POSTED_KINDS } from "../entry.js";
import { InstantText } from "../instant.js";
import { Volume } from "../quantity.js";
import { Key } from "../text.js";
import { Finding } from "./findings.js";
import { Author, LedgerHead, Next, ShownVolume } from "./head.js";
import { ChannelTotals } from "./totals.js";

/** Kinds that the ledger writes itself into an encounter's chain. */
export const LEDGER_KINDS = [
  "admitted",
  "moved",
  "discharged",
  "settings-changed",
  "finding-acknowledged",
  "shift-signed",
  "chart-posted",
] as const;

const Recording = z
  .strictObject({
    sequence: z.int().min(1).describe("Its place in the chain, from 1."),
    at: InstantText.describe("When it was recorded."),
    by: Author,
    source: z.enum(["person", "device"]).describe("Which of the two recorded it."),
    digest: z.string().describe("SHA-256 of the entry, which holds the digest of the one before."),
    state: z
      .enum(["current", "amended", "voided"])
      .describe("Whether it counts, an amendment counts in its place, or it was made in error."),
    rate: z.number().optional().describe("What a dose, drops or a duration came to, in mL/h."),
    volume: Volume.optional().describe("What the dose of a bolus came to, in mL."),
  })
  .meta({ id: "Recording", description: "How an entry was recorded." });

const KINDS: readonly string[] = [...POSTED_KINDS, ...LEDGER_KINDS];

export const RecordedEntry = z
  .looseObject({
    id: Key.describe("The entry's id, sent or made."),
    kind: z.enum(KINDS as [string, ...string[]]).describe("What kind of entry it is."),
    at: InstantText.optional().describe("When it happened; corrections have no time of their own."),
    recorded: Recording,
  })
  .meta({
    id: "RecordedEntry",
    description: "An entry with every field as it was posted, and how it was recorded.",
  });

export const EntryList = z
  .strictObject({ entries: z.array(RecordedEntry), next: Next })
  .meta({ id: "EntryList", description: "Entries, in the order asked for." });

export const EntryWithAmendments = RecordedEntry.extend({
  amendments: z.array(RecordedEntry).describe("Amendments and voids of it, in the order of recording."),
}).meta({ id: "EntryWithAmendments", description: "One entry and every correction of it." });

export const EntriesRecorded = z
  .strictObject({
    ledger: LedgerHead,
    entries: z.array(RecordedEntry).describe("In the order of the request."),
    findings: z.array(Finding).describe("What the entries raised, changed or settled."),
  })
  .meta({ id: "EntriesRecorded", description: "The entries are recorded, durably." });

const Effect = z
  .strictObject({
    row: z.string().nullable().describe("The key of the row; null for fluid that no bag is known of."),
    start: InstantText.describe("The start of the interval."),
    end: InstantText.describe("Its end, which is not part of it."),
    before: ShownVolume.describe("What it shows now, in mL."),
    after: ShownVolume.describe("What it would show, in mL."),
  })
  .meta({ id: "Effect", description: "A figure that the entries would change." });

export const DryRun = z
  .strictObject({
    ledger: LedgerHead,
    entries: z.array(RecordedEntry.partial({ recorded: true })),
    findings: z.array(Finding),
    effects: z.array(Effect),
    totals: z.array(ChannelTotals),
  })
  .meta({ id: "DryRun", description: "What recording the entries would do; nothing is recorded." });
