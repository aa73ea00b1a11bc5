/** A bundle of one encounter, as it is sent. */

import { z } from "zod";
import { AsOf } from "./answers/head.js";
import { EncounterAnswer } from "./encounters.js";

const Digest = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .describe("SHA-256, in lower-case hex, of `recorded` written as canonical JSON (RFC 8785).");

const Recorded = z
  .looseObject({
    chain: z.string().describe("The chain it belongs to: `encounter/` and the encounter's id."),
    sequence: z.int().min(1).describe("Its place in the chain: 1, 2, 3, … without a gap."),
    previous: z.string().describe("The digest of the entry before it; empty for the first."),
    body: z
      .looseObject({
        kind: z
          .string()
          .describe("What kind of entry it is, such as `flow-started`; it says which fields the body has."),
      })
      .describe("The entry as it was posted, or as the ledger wrote it."),
  })
  .describe("The entry as it was hashed: with who recorded it, when, and what doses came to then.");

const BundledEncounter = EncounterAnswer.omit({ ledger: true })
  .extend({
    patientSalt: z
      .string()
      .optional()
      .describe(
        "`patient` of the admission is SHA-256 of `{ identifier, name?, salt }` as canonical JSON, with this salt; absent where an earlier release recorded the admission, which then holds nothing of the patient.",
      ),
  })
  .meta({
    id: "BundledEncounter",
    description:
      "Whom the stay is of, as the directory says now, and the stay, of an earlier moment as its entries tell it. All of it is held to the entries, but for the bed, which may be changed without one.",
  });

const HEAD = {
  form: z.literal(1).describe("The form of the bundle."),
  caution: z.string().describe("What a reader of its figures has to know."),
  asOf: AsOf,
  encounter: BundledEncounter,
};

/** What stands before the entries. */
export const BundleHead = z.strictObject(HEAD);
export type BundleHead = z.infer<typeof BundleHead>;

export const Bundle = z
  .strictObject({
    ...HEAD,
    entries: z
      .array(
        z
          .strictObject({ digest: Digest, recorded: Recorded })
          .meta({ id: "BundledEntry", description: "One entry, and the digest it was given." }),
      )
      .describe("Every entry of the chain in order of sequence: settings, charts and signatures too."),
  })
  .meta({ id: "Bundle", description: "One encounter for itself, which can be verified without the ledger." });
