/** Findings: what a person should look at, why, and what settles it; and that somebody has seen one. */

import { z } from "zod";
import { FindingAcknowledged, FindingList } from "../wire/answers/findings.js";
import { sentence } from "../wire/text.js";
import { unlessKnown } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { COORDINATES, coordinatesOf } from "./parameters.js";
import { type AnyRoute, bodyOf, route } from "./route.js";
import { sent } from "./written.js";

const FindingsQuery = z.strictObject({
  state: z.enum(["open", "acknowledged", "settled", "all"]).optional().meta({
    description:
      "Open ones; those that somebody acknowledged and that have not grown since; those that were acknowledged and are found no more; or all.",
    default: "open",
  }),
  ...COORDINATES,
});

const Acknowledgement = z.strictObject({ reason: sentence("Why it may stand.") }).meta({
  id: "Acknowledgement",
  description: "That a person has seen a finding, and why it may stand.",
  examples: [{ reason: "Charted after a transport." }],
});

export const FINDINGS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/findings",
    operation: "listFindings",
    tag: "Findings",
    summary: "List findings",
    description:
      "What a person should look at, over the whole stay: totals that were or may be lost, readings that disagree, flows nobody confirmed. A finding has the same id however often everything is computed again; what time or a later entry settles goes away by itself.",
    query: FindingsQuery,
    headers: ["If-None-Match"],
    answers: [
      {
        status: 200,
        description: "The findings, what may be lost and what is asked first.",
        schema: FindingList,
        headers: ["ETag"],
      },
      { status: 304, description: "The answer is the one whose ETag was sent.", headers: ["ETag"] },
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const asked = { ...coordinatesOf(query), state: query.state ?? ("open" as const) };
      const found = await ledger.findings(ids.encounter ?? "", asked);
      return found.refused ? found : unlessKnown(found.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "POST",
    path: "/v1/encounters/{encounter}/findings/{finding}/acknowledgement",
    operation: "acknowledgeFinding",
    tag: "Findings",
    summary: "Acknowledge a finding",
    description:
      "A person has seen the finding and says why it may stand. What they saw is kept in the chain, with its numbers; a finding that grows beyond it by more than the chart tolerance is open again. It is undone by an `entry-voided` of `acknowledged.entry`, with a reason: then the acknowledgement before it holds again, if there was one.",
    headers: ["Idempotency-Key"],
    body: bodyOf(Acknowledgement, "Why."),
    answers: [
      { status: 201, description: "It is acknowledged.", schema: FindingAcknowledged, headers: ["ETag"] },
    ],
    problems: [],
    handle: async (ledger, asked) => {
      const key = idempotencyKey(asked);
      if (key.refused) return key;
      const { caller, ids, body } = asked;
      const { encounter = "", finding = "" } = ids;
      return sent(await ledger.acknowledge(caller, encounter, finding, body.reason, key.done));
    },
  }),
];
