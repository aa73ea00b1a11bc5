/**
 * The problems a request can have: one table of every type with its status, its title, and what its page
 * says of it. A problem document (RFC 9457) is made here and nowhere else.
 */

import type { z } from "zod";
import * as documents from "../wire/answers/problems.js";

export interface ProblemType {
  readonly status: number;
  readonly title: string;
  /** What it means, in a sentence or two. */
  readonly means: string;
  /** What the caller can do about it. */
  readonly settle: string;
  /** Members of an example beside type, title and status; `detail` among them. */
  readonly example: Readonly<Record<string, unknown>>;
  readonly document: z.ZodType;
}

export const PROBLEMS = {
  "not-json": {
    status: 400,
    title: "Not JSON",
    means:
      "The body is not JSON text in UTF-8, or an object in it names the same member twice, of which all but one would be lost.",
    settle: "Send one JSON value, written by a JSON library.",
    example: { detail: 'The member "rate" stands twice in one object.' },
    document: documents.NotJson,
  },
  "bad-parameter": {
    status: 400,
    title: "A parameter cannot be used",
    means:
      "A query parameter is unknown, missing, of a wrong form or beyond what can be answered, or a header is. Every one of the query is named at once.",
    settle:
      "Correct what `errors` names. An instant carries an offset, and a plus sign in a query is written %2B.",
    example: {
      errors: [
        {
          parameter: "from",
          code: "no-offset",
          detail: '"from" must carry an offset, such as "-06:00" or "Z".',
        },
      ],
    },
    document: documents.BadParameter,
  },
  unauthenticated: {
    status: 401,
    title: "No valid token",
    means:
      "The request has no bearer token and no session, or one the ledger does not know any more; or the name or the password of a sign-in is not right.",
    settle: "Send `Authorization: Bearer` and a token that was made for you, or sign in.",
    example: { detail: "The token is not known here." },
    document: documents.Unauthenticated,
  },
  forbidden: {
    status: 403,
    title: "Not for this role",
    means: "The token is valid, but what was asked is not for its role.",
    settle: "Use a token of a role that may do this; `GET /v1/me` says which role yours has.",
    example: { detail: "A device does not read the record." },
    document: documents.Forbidden,
  },
  "not-your-time": {
    status: 403,
    title: "Not your unit's time",
    means:
      "The patient was in another unit at a time that the request is about, or has left yours: the unit a patient is in charts that time, and finishes it for 24 hours after they have left. A correction is about what counted before it as well, a loss about all of its span, and a move or discharge about everything from its instant on. Nothing was recorded.",
    settle:
      "Ask that unit to chart it. At the bedside, where it cannot wait, state an emergency: it is for reading and charting, and moves nobody.",
    example: {
      detail: "The patient was in east-4 at 2026-03-04T12:59:00-06:00, which charts that time.",
    },
    document: documents.NotYourTime,
  },
  "cross-site": {
    status: 403,
    title: "From another site",
    means:
      "The request came with a session's cookie, or was a sign-in, and a browser says that a page of another site made it.",
    settle: "Work in the service's own pages. A program sends a token, of which none of this is asked.",
    example: { detail: "The request comes from a page of another site." },
    document: documents.CrossSite,
  },
  "not-found": {
    status: 404,
    title: "Not found",
    means:
      "There is nothing at this address, or it belongs to a unit that the token is not for. The answer does not tell the two apart.",
    settle: "Look at the address and its ids. A patient who has moved belongs to the new unit.",
    example: { detail: 'There is no encounter "stay-1" here.' },
    document: documents.NotFound,
  },
  "method-not-allowed": {
    status: 405,
    title: "Not by this method",
    means: "There is something at this address, but not for this method.",
    settle: "Use a method that the header `Allow` names. Nothing of the record is ever put or deleted.",
    example: { detail: "DELETE is not for this address." },
    document: documents.MethodNotAllowed,
  },
  "id-exists": {
    status: 409,
    title: "The id is taken",
    means:
      "A unit, an encounter or an entry with this id is there already. Nothing was recorded. A chart of the same id with the same body would have been taken for a retry.",
    settle: "Choose another id, or leave it out and the ledger makes one.",
    example: { id: "stay-1", detail: 'There is an encounter "stay-1" already.' },
    document: documents.IdExists,
  },
  "entry-exists": {
    status: 409,
    title: "An entry with another body has this id",
    means:
      "Ids of the request are taken by entries that say something else. Nothing of the request was recorded. The same id with the same body would have been taken for a retry.",
    settle: "Give a new fact a new id. To correct an entry, post an `entry-amended` or `entry-voided`.",
    example: {
      entries: [{ pointer: "#/entries/0/id", id: "start-1" }],
      detail: 'Entries with other bodies have these ids: "start-1".',
    },
    document: documents.EntryExists,
  },
  "totals-at-risk": {
    status: 409,
    title: "Running totals would be lost",
    means:
      "An entry of the request clears running totals that hold more than the unit's limit and that nobody has written down. Nothing was recorded. A person is asked, since the device will have forgotten them afterwards; a device, or what is sent with `queued=true`, is recorded, and the loss is found.",
    settle:
      "Send the request again with one of the `answers`: the reading taken off the device, standing before the clear at the same instant, or the clear with `leaveUncaptured` and a reason.",
    example: {
      detail: "pump-1 would forget 137.5 mL of the primary that nobody has written down since 09:10.",
      atRisk: [
        {
          entry: "#/entries/0",
          at: "2026-03-04T11:00:00-06:00",
          channel: "pump-1",
          total: "primary",
          expected: 300,
          lastReading: 162.5,
          atRisk: 137.5,
          since: "2026-03-04T09:10:00-06:00",
          answers: [
            {
              text: "Read the primary total off the device, and record it together with this.",
              entries: [
                {
                  kind: "total-read",
                  at: "2026-03-04T11:00:00-06:00",
                  channel: "pump-1",
                  total: "primary",
                  position: "before",
                },
              ],
              fill: ["/0/volume"],
              instead: [],
            },
          ],
        },
      ],
    },
    document: documents.TotalsAtRisk,
  },
  "reading-disagrees": {
    status: 409,
    title: "A reading disagrees",
    means:
      "A running total of the request is not what the ledger expects. Nothing was recorded. A person is asked once, while the device can still be looked at. The `reasons` are what would explain the numbers, the likeliest first; those with the same `place` cannot be told apart.",
    settle:
      "Look at the device again. Send the request with the entries of the reason that is right, with the reading corrected, or with `confirmed: true` where the device does show it.",
    example: {
      detail: "The primary total of pump-1 was read as 320 mL; 300 mL was expected.",
      disagreements: [
        {
          entry: "#/entries/0",
          at: "2026-03-04T11:00:00-06:00",
          channel: "pump-1",
          total: "primary",
          reading: 320,
          expected: 300,
          difference: 20,
          since: "2026-03-04T09:10:00-06:00",
          reasons: [],
          answers: [],
        },
      ],
    },
    document: documents.ReadingDisagrees,
  },
  "digest-changed": {
    status: 409,
    title: "The figures have changed",
    means:
      "The figures that would be signed are not those whose digest was sent: something was recorded since they were looked at. Nothing was signed. `differences` are the figures that are others now, where the ledger can still tell which ones were looked at.",
    settle: "Look at the shift again, and sign with the digest it has then.",
    example: {
      digest: "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae",
      differences: [
        {
          row: { of: "volume", key: "forearm", label: "Left forearm" },
          start: "2026-03-04T09:00:00-06:00",
          end: "2026-03-04T10:00:00-06:00",
          seen: 75,
          now: 77.5,
        },
      ],
      detail: "The figures are not those that were looked at; nothing was signed.",
    },
    document: documents.DigestChanged,
  },
  "questions-open": {
    status: 409,
    title: "Questions are open",
    means:
      "Findings of the span to be signed are questions that nobody has answered or acknowledged. Nothing was signed. Figures may be signed all the same, but not without a word about it.",
    settle:
      "Answer the questions by the entries that settle them, acknowledge them, or send the request again with a `remark`.",
    example: {
      questions: [
        {
          id: "reading-disagrees~pump-1~read-3",
          code: "reading-disagrees",
          severity: "question",
          state: "open",
          concerns: {
            start: "2026-03-04T09:10:00-06:00",
            end: "2026-03-04T11:00:00-06:00",
            channel: "pump-1",
            entries: ["read-3"],
          },
          sentence: "The primary total of pump-1 was read as 320 mL; 300 mL was expected.",
          settledBy: [],
        },
      ],
      detail: "A question is open; a remark must say why the figures may be signed all the same.",
    },
    document: documents.QuestionsOpen,
  },
  "precondition-failed": {
    status: 412,
    title: "Something was recorded since",
    means: "`If-Match` names a state of the encounter that is no longer its last. Nothing was recorded.",
    settle:
      "Read the entries since, at the address in `entries`, and send the request again with the new ETag.",
    example: {
      sequence: 14,
      entries: "/v1/encounters/stay-1/entries?order=recorded&after=12",
      detail: "The encounter has 14 entries now.",
    },
    document: documents.PreconditionFailed,
  },
  "too-large": {
    status: 413,
    title: "The body is too large",
    means: "A body may have 1 MiB at most.",
    settle: "Send the entries in several requests, of 500 entries each at most.",
    example: { detail: "A body may have 1 MiB at most." },
    document: documents.TooLarge,
  },
  "media-type": {
    status: 415,
    title: "Not the media type",
    means: "A body is taken as `application/json` in UTF-8 only.",
    settle: "Send `Content-Type: application/json`.",
    example: { detail: "Send the body as application/json in UTF-8." },
    document: documents.MediaType,
  },
  "invalid-entries": {
    status: 422,
    title: "The entries cannot be recorded",
    means:
      "The body is JSON, but not acceptable in form, or its form is right and what it says cannot be. Form is looked at first, of the whole body: everything that is wrong with it is named at once, each with a JSON Pointer into the body; and so is everything that is wrong in sense once the form is right. Nothing was recorded.",
    settle: "Correct what `errors` names; programs switch on `code`, the sentences are for people.",
    example: {
      errors: [{ pointer: "#/entries/0/rate", code: "out-of-range", detail: '"rate" must be above 0.' }],
    },
    document: documents.InvalidEntries,
  },
  "invalid-body": {
    status: 422,
    title: "The body is not acceptable",
    means:
      "The body is JSON, but not acceptable in form, or its form is right and what it says cannot be. Form is looked at first, of the whole body: everything that is wrong with it is named at once, each with a JSON Pointer into the body; and so is everything that is wrong in sense once the form is right. Nothing was recorded.",
    settle: "Correct what `errors` names; programs switch on `code`, the sentences are for people.",
    example: {
      errors: [
        { pointer: "#/zone", code: "not-one-of", detail: '"zone" must be a zone of the tz database.' },
      ],
    },
    document: documents.InvalidBody,
  },
  "idempotency-key-reused": {
    status: 422,
    title: "The Idempotency-Key was used before",
    means: "The same caller has sent this key to this address with another request.",
    settle: "Make a new key for each new request, and send the same one only with a retry.",
    example: { detail: "This key came with another request before." },
    document: documents.IdempotencyKeyReused,
  },
  "too-many-requests": {
    status: 429,
    title: "Too many requests without a valid token",
    means:
      "This address has sent many requests that no valid token came with, or too many sign-ins failed, of this account or from this address. Valid tokens and sessions are let in all the same.",
    settle: "Wait for as many seconds as `Retry-After` says, and look at the token or the password.",
    example: { detail: "Try again in 60 s." },
    document: documents.TooManyRequests,
  },
  internal: {
    status: 500,
    title: "A mistake of the service",
    means:
      "The service made a mistake. It has written down which, under the id in the header `x-request-id`.",
    settle:
      "Tell whoever runs the service that id. A retry with the same ids or Idempotency-Key charts nothing twice.",
    example: {},
    document: documents.Internal,
  },
  unavailable: {
    status: 503,
    title: "The ledger cannot be reached",
    means: "The database cannot be read or written at the moment. Nothing was recorded.",
    settle: "Try again after as many seconds as `Retry-After` says, with the same ids or Idempotency-Key.",
    example: { detail: "Try again in 1 s." },
    document: documents.Unavailable,
  },
} as const satisfies Readonly<Record<string, ProblemType>>;

export type ProblemName = keyof typeof PROBLEMS;

export const PROBLEM_NAMES = Object.keys(PROBLEMS) as ProblemName[];

/** The type of a problem by its name; undefined for a name that is none. */
export function problemType(name: string): ProblemType | undefined {
  return Object.hasOwn(PROBLEMS, name) ? PROBLEMS[name as ProblemName] : undefined;
}

/** One problem of one request. */
export interface Problem {
  readonly name: ProblemName;
  readonly detail?: string | undefined;
  /** Members of the document that its type has beside those of every problem. */
  readonly members?: object | undefined;
  readonly headers?: Readonly<Record<string, string>> | undefined;
}

export const PROBLEM_JSON = "application/problem+json; charset=utf-8";

/** The document as JSON text. */
export function problemText({ name, detail, members }: Problem): string {
  const { title, status } = PROBLEMS[name];
  const said = detail === undefined ? {} : { detail };
  return JSON.stringify({ type: `/problems/${name}`, title, status, ...said, ...members });
}
