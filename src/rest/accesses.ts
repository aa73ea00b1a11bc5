/** Who read and wrote of an encounter, and emergency access to one outside of the caller's units. */

import { z } from "zod";
import { done } from "../ledger/refusal.js";
import type { LoggedAccess } from "../store/callers.js";
import type { Instant } from "../time/instant.js";
import { AccessList, EmergencyAnswer, EmergencyBody, UnitAccessList } from "../wire/access.js";
import { listed } from "./lists.js";
import { limitOf, PAGE } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";

export const ACCESSES: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/accesses",
    operation: "listAccesses",
    tag: "Access",
    summary: "List who read and wrote of an encounter",
    description:
      "Every request that read or wrote of the encounter or tried to, the last first: who, when, what, how it ended, and by which emergency access. Nothing of what was asked or answered is in it, and nothing of it is ever changed. Lists of several encounters are not among them: they are kept by unit (`GET /v1/units/{unit}/accesses`).",
    query: z.strictObject(PAGE),
    answers: [
      {
        status: 200,
        description: "A page of accesses.",
        schema: AccessList,
        headers: ["Link"],
      },
    ],
    problems: [],
    handle: async (ledger, { access, ids, query, url }) => {
      const { encounter = "" } = ids;
      const page = await access.log.of(encounter, query.after ?? null, limitOf(query));
      if (page.refused) return page;
      const accesses = page.done.accesses.map(accessText);
      return done(listed({ ledger: await ledger.headOf(encounter), accesses }, page.done.next, url));
    },
  }),
  route({
    method: "GET",
    path: "/v1/units/{unit}/accesses",
    operation: "listUnitAccesses",
    tag: "Access",
    summary: "List who read of several patients of a unit at once",
    description:
      "Every list of encounters and every audit that may have been of this unit, and what was tried of them, as an admission that was refused, the last first: who, when, what and how it ended. A list that names no unit is of all the caller's. What earlier releases noted of lists has no unit and is not among them. Nothing of it is ever changed.",
    query: z.strictObject(PAGE),
    answers: [{ status: 200, description: "A page of accesses.", schema: UnitAccessList, headers: ["Link"] }],
    problems: [],
    handle: async (_, { access, ids, query, url }) => {
      const page = await access.log.ofUnit(ids.unit ?? "", query.after ?? null, limitOf(query));
      if (page.refused) return page;
      return done(listed({ accesses: page.done.accesses.map(accessText) }, page.done.next, url));
    },
  }),
  route({
    method: "POST",
    path: "/v1/encounters/{encounter}/emergency-access",
    operation: "declareEmergency",
    tag: "Access",
    summary: "Reach an encounter in an emergency",
    description:
      "The caller reads and charts an encounter outside of their units for four hours, all of its time; they neither move nor discharge the patient out of another unit by it. The reason is kept for good, a warning stands in the log of the service, and everything done by it says so in the log of accesses.",
    body: bodyOf(EmergencyBody, "Why."),
    answers: [{ status: 201, description: "The encounter can be reached.", schema: EmergencyAnswer }],
    problems: [],
    handle: async (_, { access, caller, ids, body, warn }) => {
      const { id, reason, grantedAt, endsAt } = await access.emergencies.grant(
        caller,
        ids.encounter ?? "",
        body.reason,
      );
      warn({ emergency: id, caller: caller.id, role: caller.role }, "emergency access");
      const answer = { id, reason, grantedAt: utc(grantedAt), endsAt: utc(endsAt) };
      return done({ status: 201, body: answer, emergency: id });
    },
  }),
];

function accessText({ at, caller, name, role, route, status, emergency, reason }: LoggedAccess): object {
  const by = { id: caller, name, role };
  const reached = emergency === null ? {} : { emergency: { id: emergency, reason } };
  return { at: utc(at), by, route, status, ...reached };
}

/** Of no unit's clock: callers of several units read it. */
function utc(at: Instant): string {
  return new Date(at).toISOString();
}
