/**
 * Posted entries: the union of every kind, the body that carries them, and the one way in. What comes
 * out says exactly what was sent, with nothing filled in, and every fact of it can be decoded.
 */

import { z } from "zod";
import { EntryAmended, EntryVoided } from "./entries/corrections.js";
import { FACTS } from "./entries/facts.js";
import type { Fault } from "./fault.js";
import { parse } from "./parse.js";

export type { PostedFact } from "./entries/facts.js";

/** The most entries one request may carry. */
export const MOST_ENTRIES = 500;

const KINDS = [...FACTS, EntryAmended, EntryVoided] as const;

export const PostedEntry = z.discriminatedUnion("kind", KINDS).meta({
  id: "PostedEntry",
  description: "An entry of any kind that can be posted, told by its `kind`.",
});
export type PostedEntry = z.infer<typeof PostedEntry>;

/** The kinds that a caller may post, in the order of the API description. */
export const POSTED_KINDS: readonly PostedEntry["kind"][] = KINDS.flatMap(
  ({ _zod }) => [..._zod.propValues.kind] as PostedEntry["kind"][],
);

export const EntriesBody = z
  .strictObject({
    entries: z
      .array(PostedEntry)
      .min(1)
      .max(MOST_ENTRIES)
      .describe("1 to 500 entries, in any order of time; all are recorded, or none."),
  })
  .meta({
    id: "EntriesBody",
    description: "Entries to be recorded together.",
    examples: [
      { entries: [{ kind: "flow-started", at: "2026-03-04T07:00:00-06:00", channel: "pump-1", rate: 75 }] },
    ],
  });

/** The entries of a request body, or every fault in them, each at its place and with its code. */
export function parseEntries(
  body: unknown,
):
  | { readonly entries: PostedEntry[]; readonly faults?: undefined }
  | { readonly entries?: undefined; readonly faults: readonly Fault[] } {
  const parsed = parse(EntriesBody, body);
  return parsed.faults === undefined ? { entries: parsed.value.entries } : { faults: parsed.faults };
}
