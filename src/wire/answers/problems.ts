/**
 * Problem documents (RFC 9457): what a refused request answers. `type` resolves to a page that explains
 * it; programs switch on `type` and on the `code` of each error, never on the words.
 */

import { z } from "zod";
import { TotalName } from "../entries/totals.js";
import { FAULT_CODES } from "../fault.js";
import { InstantText } from "../instant.js";
import { Key } from "../text.js";
import { Finding } from "./findings.js";
import { LikelyReason, Ready } from "./ready.js";
import { SeenFigure } from "./shifts.js";

const PROBLEM = {
  title: z.string().describe("What kind of problem it is, in a few words."),
  status: z.int().min(400).max(599).describe("The HTTP status."),
  detail: z.string().optional().describe("What is wrong here, in a sentence."),
  instance: z.string().optional().describe("The request that was refused."),
};

/** A problem document of one type, with its own members. */
function problem<const Name extends string, S extends z.core.$ZodLooseShape>(name: Name, shape: S) {
  return z.strictObject({ type: z.literal(`/problems/${name}`), ...PROBLEM, ...shape });
}

const Pointer = z.string().describe("A JSON Pointer into the request body, such as `#/entries/0/rate`.");
const Detail = z.string().describe("A sentence for people.");

export const Problem = z
  .looseObject({ type: z.string().describe("Where it is explained."), ...PROBLEM })
  .meta({
    id: "Problem",
    description: "Why the request was refused.",
    examples: [{ type: "/problems/not-found", title: "Not found", status: 404 }],
  });

const Faults = z
  .array(
    z
      .strictObject({
        pointer: Pointer,
        code: z.enum(FAULT_CODES).describe("For programs."),
        detail: Detail,
      })
      .meta({ id: "Fault", description: "One thing wrong with a body." }),
  )
  .describe("Everything that is wrong, at most 1,000.");

export const InvalidEntries = problem("invalid-entries", { errors: Faults }).meta({
  id: "InvalidEntries",
  description: "422: the body is JSON, and not acceptable in form or sense.",
  examples: [
    {
      type: "/problems/invalid-entries",
      title: "The entries cannot be recorded",
      status: 422,
      errors: [{ pointer: "#/entries/0/rate", code: "out-of-range", detail: '"rate" must be above 0.' }],
    },
  ],
});

export const InvalidBody = problem("invalid-body", { errors: Faults }).meta({
  id: "InvalidBody",
  description: "422: the body of anything but entries is JSON, and not acceptable in form or sense.",
});

export const NotJson = problem("not-json", {}).meta({
  id: "NotJson",
  description: "400: the body is no JSON in UTF-8, or names a member of an object twice.",
});

export const BadParameter = problem("bad-parameter", {
  errors: z
    .array(
      z
        .strictObject({
          parameter: z.string().describe("The query parameter or header."),
          code: z.string().describe("For programs: a code of a fault, or one of the parameter's own."),
          detail: Detail,
        })
        .meta({ id: "ParameterFault", description: "One thing wrong with a query or header." }),
    )
    .min(1)
    .describe("Everything that is wrong with the query, or with a header."),
}).meta({
  id: "BadParameter",
  description: "400: a query parameter or header that cannot be used.",
});

export const Unauthenticated = problem("unauthenticated", {}).meta({
  id: "Unauthenticated",
  description: "401: no token, or one that is not known.",
});

export const CrossSite = problem("cross-site", {}).meta({
  id: "CrossSite",
  description: "403: a browser sent it from a page of another site.",
});

export const Forbidden = problem("forbidden", {}).meta({
  id: "Forbidden",
  description: "403: the caller's role may not do this.",
});

export const NotYourTime = problem("not-your-time", {}).meta({
  id: "NotYourTime",
  description: "403: another unit charts that time.",
});

export const NotFound = problem("not-found", {}).meta({
  id: "NotFound",
  description: "404: not there, or not the caller's to see.",
});

export const MethodNotAllowed = problem("method-not-allowed", {}).meta({
  id: "MethodNotAllowed",
  description: "405: there is something at this address, but not for this method.",
});

export const IdExists = problem("id-exists", { id: Key.describe("The id that is taken.") }).meta({
  id: "IdExists",
  description: "409: a unit or encounter with this id is there already.",
});

export const TooLarge = problem("too-large", {}).meta({
  id: "TooLarge",
  description: "413: the body is larger than 1 MiB.",
});

export const MediaType = problem("media-type", {}).meta({
  id: "MediaType",
  description: "415: the body is not sent as application/json in UTF-8.",
});

export const IdempotencyKeyReused = problem("idempotency-key-reused", {}).meta({
  id: "IdempotencyKeyReused",
  description: "422: the Idempotency-Key came with another request before.",
});

export const TooManyRequests = problem("too-many-requests", {}).meta({
  id: "TooManyRequests",
  description: "429: too many requests without a valid token.",
});

export const Internal = problem("internal", {}).meta({
  id: "Internal",
  description: "500: a mistake of the service itself.",
});

export const Unavailable = problem("unavailable", {}).meta({
  id: "Unavailable",
  description: "503: the ledger cannot be reached or written at the moment; nothing was recorded.",
});

const AtRisk = z
  .strictObject({
    entry: Pointer.describe("The entry of the request that would clear it."),
    at: InstantText,
    channel: Key.optional().describe("The channel whose total it is."),
    total: TotalName.optional(),
    chamber: Key.optional().describe("The chamber, where that is what would be lost."),
    expected: z
      .number()
      .nullable()
      .describe("What the device should show, in mL; null where nobody knows its rate."),
    lastReading: z.number().nullable().describe("What was read last, in mL; null when nothing was."),
    atRisk: z.number().nullable().describe("What would be lost, in mL; null where nobody knows its rate."),
    since: InstantText.describe("Since when only the device knows it."),
    answers: z.array(Ready).describe("What answers the question, ready to post."),
  })
  .meta({ id: "TotalAtRisk", description: "A running total that a clear would lose." });

const Disagreement = z
  .strictObject({
    entry: Pointer.describe("The reading in the request."),
    at: InstantText,
    channel: Key.optional().describe("The channel whose total, or segment, was read."),
    total: TotalName.optional().describe("The total; absent of a segment."),
    chamber: Key.optional().describe("The chamber, where that is what was read."),
    reading: z.number().describe("What was read, in mL."),
    expected: z
      .number()
      .describe("What the device should show, in mL; of a segment what was computed over it."),
    difference: z.number().describe("Reading less expected, in mL."),
    since: InstantText.describe("The reading or clear before it; of a segment its start."),
    reasons: z.array(LikelyReason).describe("Likely reasons, the likeliest first."),
    answers: z.array(Ready).describe("What answers the question without explaining it, ready to post."),
  })
  .meta({ id: "Disagreement", description: "A reading that disagrees with what was computed." });

export const TotalsAtRisk = problem("totals-at-risk", {
  atRisk: z
    .array(AtRisk)
    .min(1)
    .describe("The totals and chambers that the clears of the request would lose, each with ways to answer."),
  disagreements: z
    .array(Disagreement)
    .optional()
    .describe("Readings of the same request that disagree; absent where none does."),
}).meta({
  id: "TotalsAtRisk",
  description: "409: a clear would lose running totals; a person is asked first.",
});

export const ReadingDisagrees = problem("reading-disagrees", {
  disagreements: z
    .array(Disagreement)
    .min(1)
    .describe("The readings of the request that disagree, each with likely reasons and ways to answer."),
}).meta({
  id: "ReadingDisagrees",
  description:
    "409: a reading disagrees; look at the device again, and post it with `confirmed` or what explains it.",
});

export const EntryExists = problem("entry-exists", {
  entries: z
    .array(z.strictObject({ pointer: Pointer, id: Key }))
    .min(1)
    .describe("The entries of the request whose ids are taken: send them with other ids, if they are new."),
}).meta({ id: "EntryExists", description: "409: ids that are used for other bodies; nothing was recorded." });

export const PreconditionFailed = problem("precondition-failed", {
  sequence: z.int().min(0).describe("Where the chain is now."),
  entries: z.string().describe("The address of the entries recorded since."),
}).meta({ id: "PreconditionFailed", description: "412: something was recorded since." });

export const DigestChanged = problem("digest-changed", {
  digest: z.string().describe("The digest of the figures as they are now."),
  differences: z
    .array(SeenFigure)
    .describe("Figures that are not what was looked at; none where that can no longer be told."),
}).meta({ id: "DigestChanged", description: "409: the figures are not those that were seen." });

export const QuestionsOpen = problem("questions-open", {
  questions: z.array(Finding).min(1).describe("The questions that wait for an answer."),
}).meta({ id: "QuestionsOpen", description: "409: questions are open; signing needs a remark." });
