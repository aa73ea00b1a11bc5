/** A shift in one answer, its signature, and what changed between two moments of recording. */

import { z } from "zod";
import { mayUse } from "../access/rules.js";
import { Changes, ShiftAnswer, SignatureAnswer } from "../wire/answers/shifts.js";
import { InstantText } from "../wire/instant.js";
import { sentence } from "../wire/text.js";
import { unlessKnown } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { COORDINATES, coordinatesOf, SINCE, sinceOf } from "./parameters.js";
import { type AnyRoute, bodyOf, route, UNCHANGED } from "./route.js";
import { sent } from "./written.js";

const ShiftQuery = z.strictObject(COORDINATES);

const ChangesQuery = z.strictObject({ ...SINCE, ...COORDINATES });

const SignatureBody = z
  .strictObject({
    digest: z
      .string()
      .regex(/^[0-9a-f]{64}$/, { error: "must be a digest of 64 lower-case hex digits." })
      .describe("The digest of the figures that were looked at: `toSign.digest` of the shift."),
    remark: sentence("What is to be said to the figures; needed while questions are open.").optional(),
    to: InstantText.optional().describe(
      "Up to when: `toSign.to` of the shift. Absent: the end of the shift, or of the unit's time in it, which must be over.",
    ),
  })
  .meta({
    id: "SignatureBody",
    description: "A statement over figures somebody has looked at.",
    examples: [
      {
        digest: "2c26b46b68ffc68ff99b453c1d30413413422d706483bfa0f98a5e886266e7ae",
        to: "2026-03-04T15:00:00-06:00",
      },
    ],
  });

const SIGNATURE = "/v1/encounters/{encounter}/shifts/{date}/{shift}/signature";

const shiftName = ({ date = "", shift = "" }: Readonly<Record<string, string>>) => `${date}/${shift}`;

export const SHIFTS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/shifts/{date}/{shift}",
    operation: "getShift",
    tag: "Answers",
    summary: "A shift in one answer",
    description:
      "Volumes and balance by the hour, running totals, what is found of the shift and what of it is unknown, and its signatures. `toSign` is the span that a signature of the caller's would cover next, with the digest of its figures: a unit signs for its own time, so of a shift in the middle of which the patient moved each unit signs its part, in any order. Figures are preliminary until signed, final then, and corrected where something changed them since; each difference is shown, with the entries that made it.",
    query: ShiftQuery,
    headers: ["If-None-Match"],
    answers: [{ status: 200, description: "The shift.", schema: ShiftAnswer, headers: ["ETag"] }, UNCHANGED],
    problems: [],
    handle: async (ledger, { caller, ids, query, headers }) => {
      const units = mayUse(caller.role, `POST ${SIGNATURE}`) ? caller.units : [];
      const asked = { ...coordinatesOf(query), shift: shiftName(ids), units };
      const shift = await ledger.shift(ids.encounter ?? "", asked);
      return shift.refused ? shift : unlessKnown(shift.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "POST",
    path: SIGNATURE,
    operation: "signShift",
    tag: "Answers",
    summary: "Sign a shift",
    description:
      "Signs the figures of the caller's own time in the shift, from the first that nobody signed or that changed since somebody did, up to `to`; what is signed and unchanged beyond it stays as it is. They are computed again, and signed only if their digest is the one that was looked at. Kept with the signature are the figures, the conventions in force, the version of the calculation, and what was open, unknown and unmeasured. A signature is never void: where its figures change, a later one stands for it. What is read later leaves signed figures as they are; what happened, or a correction, may still change them, and that shows.",
    headers: ["Idempotency-Key"],
    body: bodyOf(SignatureBody, "What is signed."),
    answers: [{ status: 201, description: "It is signed.", schema: SignatureAnswer, headers: ["ETag"] }],
    problems: ["digest-changed", "questions-open"],
    handle: async (ledger, asked) => {
      const key = idempotencyKey(asked);
      if (key.refused) return key;
      const { caller, ids, body } = asked;
      return sent(await ledger.sign(caller, ids.encounter ?? "", shiftName(ids), body, key.done));
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/changes",
    operation: "getChanges",
    tag: "Answers",
    summary: "What changed between two moments",
    description:
      "The entries recorded after `since` and up to `asOf`, and every figure that they moved, with the entries that moved it. Both sides are computed up to the same instant, so that time alone changes nothing. 1,000 entries at most.",
    query: ChangesQuery,
    headers: ["If-None-Match"],
    answers: [{ status: 200, description: "The changes.", schema: Changes, headers: ["ETag"] }, UNCHANGED],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const asked = { ...coordinatesOf(query), since: sinceOf(query) };
      const changes = await ledger.changes(ids.encounter ?? "", asked);
      return changes.refused ? changes : unlessKnown(changes.done, headers["if-none-match"]);
    },
  }),
];
