/** Entries that the ledger proposes: ready to be posted, but for what only the device or a person can tell. */

import { z } from "zod";
import { TotalName } from "../entries/totals.js";
import { PostedEntry } from "../entry.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";

export const ReadingToTake = z
  .strictObject({
    kind: z.literal("total-read"),
    at: InstantText,
    channel: Key,
    total: TotalName,
    position: z
      .enum(["before", "after"])
      .optional()
      .describe("On which side of a clear at the same instant it stands; send it back as it is."),
  })
  .meta({
    id: "ReadingToTake",
    description: "A reading to be taken: look at the device and add `volume`, in mL. No number is proposed.",
  });

/** As loose as can be: what is missing may be anything, and stands at any depth. */
export const EntryToComplete = z
  .looseObject({ kind: z.string().describe("What kind of entry it is.") })
  .meta({
    id: "EntryToComplete",
    description:
      "An entry that lacks what only a person can tell: `fill` says where, and it is refused until that is filled in.",
  });

export const ReadyEntry = z.union([PostedEntry, ReadingToTake, EntryToComplete]).meta({
  id: "ReadyEntry",
  description: "An entry to post, a reading to take, or an entry to complete.",
});

export const Ready = z
  .strictObject({
    text: z.string().describe("What it means, in plain words."),
    entries: z.array(ReadyEntry).describe("Entries to send with the request."),
    fill: z
      .array(z.string())
      .describe(
        "JSON Pointers into `entries` of what a person still has to fill in: a number read off, or a reason.",
      ),
    instead: z
      .array(z.string())
      .describe("JSON Pointers into the request: what the entries are sent instead of. Empty: beside it."),
  })
  .meta({ id: "Ready", description: "One way to answer, ready to post." });

const REASON_KINDS = [
  "rate-change-missing",
  "rate-change-late",
  "pause-missing",
  "secondary-missing",
  "bolus-missing",
  "bag-missing",
  "entry-wrong",
  "clear-missing",
  "read-before-clear",
  "other-total",
  "other-channel",
  "digits",
  "time-of-reading",
  "segments-say",
] as const;

export const LikelyReason = z
  .strictObject({
    kind: z.enum(REASON_KINDS).describe("For programs."),
    place: z.int().min(1).describe("Its place among the reasons; those that cannot be told apart share one."),
    tied: z.boolean().describe("Whether it shares its place."),
    sentence: z.string().describe("What may have happened."),
    entries: z.array(ReadyEntry).describe("Entries that would settle it, ready to post."),
    fill: z.array(z.string()).describe("JSON Pointers into `entries` of what a person still has to fill in."),
    instead: z
      .array(z.string())
      .describe("JSON Pointers into the request: what the entries are sent instead of. Empty: beside it."),
  })
  .meta({ id: "LikelyReason", description: "What would explain a reading, from the numbers." });
