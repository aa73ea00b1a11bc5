/**
 * The two coordinates of every answer: what was known (`asOf`), and up to when it is computed
 * (`until`). The schemas of answers describe and test; nothing is serialised through them, so that no
 * slip of theirs can turn a recorded entry into an error.
 */

import { z } from "zod";
import { InstantText } from "../instant.js";

const Sequence = z.int().min(0).describe("How many entries the encounter's chain has.");
const Digest = z
  .string()
  .regex(/^(?:[0-9a-f]{64})?$/)
  .describe("SHA-256 of the last entry in lower-case hex; empty where there is none.");

export const LedgerHead = z
  .strictObject({ sequence: Sequence, digest: Digest })
  .meta({ id: "LedgerHead", description: "Where an encounter's chain of entries ends." });

export const AsOf = z
  .strictObject({
    sequence: Sequence,
    recordedAt: InstantText.describe("When the last of them was recorded."),
    digest: Digest,
    calculation: z
      .string()
      .describe("The version of the calculation; it rises when any figure would change."),
  })
  .meta({ id: "AsOf", description: "What was known: every entry up to this one, and none after it." });

export const Until = InstantText.describe(
  "Up to when the answer is computed; by default now. Nothing is projected beyond it.",
);

/** A volume of an answer, rounded to the precision asked for; null where nothing can be said yet. */
export const ShownVolume = z.number().nullable().meta({
  id: "ShownVolume",
  description: "A volume in mL, of any sign, rounded to the precision; null for an interval not begun.",
});

export const Author = z
  .strictObject({
    id: z
      .string()
      .describe(
        "The id of their account or token; of who signs in at the identity provider, what it calls them.",
      ),
    name: z.string().describe("What pages and charts call the person, program or device."),
    role: z
      .enum(["nurse", "charge-nurse", "integration", "device", "administrator"])
      .describe("What they may do: the role they had then."),
  })
  .meta({ id: "Author", description: "Who recorded it, as they were then." });

/** The page that comes after a list, where there is one. */
export const Next = z.string().optional().describe("The address of the next page; absent on the last.");
