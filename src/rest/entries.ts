/** Entries: the clinical facts of an encounter, recorded together and read back one by one. */

import { z } from "zod";
import { mayRecord, mayUse } from "../access/rules.js";
import type { Ledger } from "../ledger/ledger.js";
import { done, type Outcome, refused } from "../ledger/refusal.js";
import {
  DryRun,
  EntriesRecorded,
  EntriesTaken,
  EntryKind,
  EntryList,
  EntryWithAmendments,
} from "../wire/answers/entries.js";
import { EntriesBody, type PostedEntry, parseEntries } from "../wire/entry.js";
import { InstantText } from "../wire/instant.js";
import { expectedSequence, sequenceTag } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { listed } from "./lists.js";
import { COORDINATES, coordinatesOf, instantOf, limitOf, PAGE } from "./parameters.js";
import { type Answered, type AnyRoute, type Asked, route } from "./route.js";
import { sent } from "./written.js";

const ListQuery = z.strictObject({
  order: z.enum(["recorded", "at"]).optional().meta({
    description:
      "In the order in which they were recorded, or of the time at which they happened; corrections without a time of their own are left out of the latter.",
    default: "recorded",
  }),
  kind: z
    .array(EntryKind)
    .max(50)
    .optional()
    .describe("Only entries of this kind; may be sent several times."),
  from: InstantText.optional().describe("Only what happened at this instant or later."),
  to: InstantText.optional().describe("Only what happened before this instant."),
  ...COORDINATES,
  ...PAGE,
});

const RecordQuery = z.strictObject({
  dryRun: z.boolean().optional().meta({
    description: "With `true` nothing is recorded; the answer says what recording would do.",
    default: false,
  }),
  queued: z.boolean().optional().meta({
    description:
      "With `true` the entries were written down while there was no connection: nobody can be asked any more, so they are recorded without a question, and what would have been asked is found.",
    default: false,
  }),
});

export const ENTRIES: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/entries",
    operation: "listEntries",
    tag: "Entries",
    summary: "List entries",
    description:
      "Every entry with all its fields as it was posted, and how it was recorded. What was amended or voided is still there, and says so in `recorded.state`.",
    query: ListQuery,
    answers: [
      {
        status: 200,
        description: "A page of entries.",
        schema: EntryList,
        headers: ["ETag", "Link"],
      },
    ],
    problems: [],
    handle: async (ledger, { ids, query, url }) => {
      const page = await ledger.entries(ids.encounter ?? "", {
        ...coordinatesOf(query),
        order: query.order ?? "recorded",
        kinds: query.kind ?? [],
        from: instantOf(query.from),
        to: instantOf(query.to),
        after: query.after,
        limit: limitOf(query),
      });
      if (page.refused) return page;
      const { next, ...answer } = page.done as {
        readonly next?: string;
        readonly asOf: { readonly sequence: number };
      };
      const list = listed(answer, next, url);
      return done({ ...list, headers: { ...list.headers, etag: sequenceTag(answer.asOf.sequence) } });
    },
  }),
  route<z.infer<typeof RecordQuery>, readonly PostedEntry[]>({
    method: "POST",
    path: "/v1/encounters/{encounter}/entries",
    operation: "recordEntries",
    tag: "Entries",
    summary: "Record entries",
    description:
      "All of the request is recorded, durably, or nothing of it. A true fact is never refused: entries may come late and in any order. An id that is there with the same body is taken for a retry and not recorded again. Entries of a device's token are entries of a device, and only of kinds that a device can know; it is told where they stand, and nothing of the patient. A person is asked before running totals are lost, and when a reading disagrees (409).",
    query: RecordQuery,
    headers: ["If-Match", "Idempotency-Key"],
    body: {
      schema: EntriesBody,
      description: "1 to 500 entries, in any order of time.",
      read: (body) => {
        const parsed = parseEntries(body);
        return parsed.faults === undefined ? { value: parsed.entries } : parsed;
      },
      problem: "invalid-entries",
    },
    answers: [
      {
        status: 201,
        description: "They are recorded.",
        schema: z.union([EntriesRecorded, EntriesTaken]),
        headers: ["ETag"],
      },
      {
        status: 200,
        description: "All of them had been recorded before; or, of a dry run, what recording them would do.",
        schema: z.union([EntriesRecorded, DryRun, EntriesTaken]),
        headers: ["ETag"],
      },
    ],
    problems: ["entry-exists", "totals-at-risk", "reading-disagrees", "precondition-failed"],
    handle: recordEntries,
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/entries/{entry}",
    operation: "getEntry",
    tag: "Entries",
    summary: "Read an entry",
    description: "One entry, and every amendment and void of it, a page of them at a time.",
    query: z.strictObject({ asOf: COORDINATES.asOf, ...PAGE }),
    answers: [{ status: 200, description: "The entry.", schema: EntryWithAmendments, headers: ["Link"] }],
    problems: [],
    handle: async (ledger, { ids, query, url }) => {
      const asked = { ...coordinatesOf(query), after: query.after, limit: limitOf(query) };
      const found = await ledger.entry(ids.encounter ?? "", ids.entry ?? "", asked);
      if (found.refused) return found;
      const { next, ...answer } = found.done as { readonly next?: string };
      return done(listed(answer, next, url));
    },
  }),
];

/** Who may not read entries is not told of them by recording some. */
const READING = "GET /v1/encounters/{encounter}/entries";

type Recorded = Asked<z.infer<typeof RecordQuery>, readonly PostedEntry[]>;

async function recordEntries(ledger: Ledger, asked: Recorded): Promise<Outcome<Answered>> {
  const { caller, ids, query, body, sent: json, headers } = asked;
  const encounter = ids.encounter ?? "";
  const foreign = body.find(({ kind }) => !mayRecord(caller.role, kind));
  if (foreign !== undefined) {
    return refused({
      problem: "forbidden",
      detail: `A ${caller.role} does not record ${foreign.kind} entries.`,
    });
  }
  const ifMatch = await expectedSequence(headers["if-match"], ledger, encounter);
  if (ifMatch.refused) return ifMatch;
  const key = idempotencyKey(asked);
  if (key.refused) return key;
  // What is kept is the JSON as it was sent; what is judged is the same with its form checked.
  const { entries } = json as { readonly entries: readonly unknown[] };
  const posted = body.map((entry, index) => ({ sent: entries[index], entry }));
  return sent(
    await ledger.record(
      caller,
      encounter,
      {
        posted,
        ifMatch: ifMatch.done,
        dryRun: query.dryRun ?? false,
        queued: query.queued ?? false,
        reads: mayUse(caller.role, READING),
      },
      key.done,
    ),
  );
}
