/**
 * Corrections: an amendment puts another fact in an entry's place, a void marks it entered in error.
 * Neither has a time of its own, and nothing is ever edited.
 */

import { z } from "zod";
import { faultIssue } from "../fault.js";
import { Key, words } from "../text.js";
import { PostedFact } from "./facts.js";
import { COMMON } from "./kind.js";

const Corrected = Key.describe("The id of the entry that is corrected.");
const Reason = words("Why; it stands in the record beside both.");

export const EntryAmended = z
  .strictObject({
    kind: z.literal("entry-amended"),
    ...COMMON,
    entry: Corrected,
    replaces: Key.optional().describe("The id of the amendment that stood before, as the author saw it."),
    reason: Reason,
    replacement: PostedFact.meta({
      description:
        "The whole entry as it should have been: of the same kind, with its own `at`, without `id`; it keeps the original's id and its place among ties.",
      not: { required: ["id"], properties: { id: { type: "string" } } },
    }),
  })
  .check(({ value, issues }) => {
    // An id inside a replacement would promise a second entry; there is none.
    if (value.replacement.id === undefined) return;
    const detail = "has no place here: a replacement keeps the id of its original.";
    issues.push(faultIssue(value, "unknown-field", detail, { path: ["replacement", "id"], goOn: true }));
  })
  .meta({
    id: "EntryAmended",
    description:
      "An entry was wrong, and this is how it should have been. The last amendment recorded counts.",
    examples: [
      {
        kind: "entry-amended",
        entry: "start-1",
        reason: "The rate was read from the wrong channel.",
        replacement: { kind: "flow-started", at: "2026-03-04T07:00:00-06:00", channel: "pump-1", rate: 57 },
      },
    ],
  });

export const EntryVoided = z
  .strictObject({ kind: z.literal("entry-voided"), ...COMMON, entry: Corrected, reason: Reason })
  .meta({
    id: "EntryVoided",
    description:
      "An entry was made in error. Voiding an amendment brings back what it replaced; voiding a void brings the entry back.",
    examples: [{ kind: "entry-voided", entry: "reading-1", reason: "Charted on the wrong patient." }],
  });
