/** Encounters: patients' stays, from the admission to the discharge. */

import { z } from "zod";
import { type ChangeOfStay, mayChange } from "../access/rules.js";
import { done, refused } from "../ledger/refusal.js";
import { Next } from "../wire/answers/head.js";
import {
  EncounterAnswer,
  EncounterBody,
  EncounterPatch,
  EncounterWithShifts,
  ListedEncounter,
} from "../wire/encounters.js";
import { Key } from "../wire/text.js";
import { expectedSequence, sequenceTag } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { listed } from "./lists.js";
import { COORDINATES, coordinatesOf, limitOf, PAGE } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";
import { sent } from "./written.js";

const EncounterList = z
  .strictObject({
    encounters: z
      .array(ListedEncounter)
      .describe(
        "A page of the stays that were asked for, in order of their ids; empty where there are none.",
      ),
    next: Next,
  })
  .meta({ id: "EncounterList", description: "Encounters, in order of their ids." });

export const ENCOUNTERS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters",
    operation: "listEncounters",
    tag: "Encounters",
    summary: "List encounters",
    description:
      "The encounters of the units that the caller is of, in order of their ids; with `leftAt` also those that left these units less than 24 hours ago, whose own time there is still charted and signed from there.",
    query: z.strictObject({
      unit: Key.optional().describe("Only those of this unit."),
      open: z
        .boolean()
        .optional()
        .describe("Only those that last (`true`), or only those that have ended (`false`)."),
      ...PAGE,
    }),
    answers: [
      { status: 200, description: "A page of encounters.", schema: EncounterList, headers: ["Link"] },
    ],
    problems: ["not-found"],
    handle: async (ledger, { caller, query, url }) => {
      const { unit, open = null, after = null } = query;
      if (unit !== undefined) {
        const there = isTheirs(caller.units, unit) ? await ledger.unit(unit) : noUnit(unit);
        if (there.refused) return there;
      }
      const page = await ledger.encounters(
        unit === undefined ? caller.units : [unit],
        open,
        after,
        limitOf(query),
      );
      return done(listed({ encounters: page.items }, page.next, url));
    },
  }),
  route({
    method: "POST",
    path: "/v1/encounters",
    operation: "admit",
    tag: "Encounters",
    summary: "Admit a patient",
    description: "A stay begins in a unit. Whom it is of is told here and in no entry.",
    headers: ["Idempotency-Key"],
    body: bodyOf(EncounterBody, "The stay."),
    answers: [
      {
        status: 201,
        description: "The patient is admitted.",
        schema: EncounterAnswer,
        headers: ["ETag", "Location"],
      },
    ],
    problems: ["id-exists", "not-found"],
    handle: async (ledger, asked) => {
      const { caller, body } = asked;
      if (!isTheirs(caller.units, body.unit)) return noUnit(body.unit);
      const key = idempotencyKey(asked);
      if (key.refused) return key;
      return sent(await ledger.admit(caller, body, key.done), "/v1/encounters");
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}",
    operation: "getEncounter",
    tag: "Encounters",
    summary: "Read an encounter",
    description:
      "One stay, where its chain of entries ends, and its shifts, the latest first. As of an earlier moment the stay is told as its entries had it by then; whom it is of is told as it is now, since that stands in no entry.",
    query: z.strictObject({ asOf: COORDINATES.asOf }),
    answers: [
      {
        status: 200,
        description: "The encounter.",
        schema: EncounterWithShifts,
        headers: ["ETag"],
      },
    ],
    problems: [],
    handle: async (ledger, { ids, query }) => {
      const found = await ledger.encounter(ids.encounter ?? "", coordinatesOf(query));
      if (found.refused) return found;
      const { answer, sequence } = found.done;
      return done({ status: 200, body: answer, headers: { etag: sequenceTag(sequence) } });
    },
  }),
  route({
    method: "PATCH",
    path: "/v1/encounters/{encounter}",
    operation: "changeEncounter",
    tag: "Encounters",
    summary: "Move or discharge a patient",
    description:
      "The patient moves to another unit, which charts from that instant; or is discharged, and what still runs then ends there; or the discharge is taken back, with `dischargedAt: null`; or the patient has another bed. Whose time it is moves or discharges: the unit the patient was in from that instant on. The unit that the patient came to records a move as well, from when on nobody else has charted or signed. An administrator corrects a bed alone.",
    headers: ["If-Match"],
    body: bodyOf(EncounterPatch, "Exactly one of move, discharge, dischargedAt and bed."),
    answers: [
      { status: 200, description: "The encounter as it is now.", schema: EncounterAnswer, headers: ["ETag"] },
    ],
    problems: ["precondition-failed"],
    handle: async (ledger, { caller, ids, body, headers }) => {
      const encounter = ids.encounter ?? "";
      const what = CHANGES.find((one) => one in body)!;
      if (!mayChange(caller.role, what)) return noSuchChange(caller.role);
      const ifMatch = await expectedSequence(headers["if-match"], ledger, encounter);
      if (ifMatch.refused) return ifMatch;
      return sent(await ledger.changeEncounter(caller, encounter, body, ifMatch.done));
    },
  }),
];

/** Whether a caller bound to some units may act on one; one that is bound to none may act on all. */
function isTheirs(own: readonly string[] | null, unit: string): boolean {
  return own === null || own.includes(unit);
}

const CHANGES: readonly ChangeOfStay[] = ["move", "discharge", "dischargedAt", "bed"];

function noSuchChange(role: string) {
  const detail = `The role ${role} corrects a bed; moves and discharges are charted at the bedside.`;
  return refused({ problem: "forbidden", detail });
}

function noUnit(unit: string) {
  return refused({ problem: "not-found", what: "unit", id: unit });
}
