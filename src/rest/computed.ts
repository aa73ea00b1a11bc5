/** Computed answers: what was delivered, flow by flow or per interval, and what the devices should show. */

import { z } from "zod";
import { Flows } from "../wire/answers/flows.js";
import { Totals } from "../wire/answers/totals.js";
import { Volumes } from "../wire/answers/volumes.js";
import { InstantText } from "../wire/instant.js";
import { microlitres } from "../wire/quantity.js";
import { unlessKnown } from "./conditions.js";
import {
  BY,
  COORDINATES,
  coordinatesOf,
  instantOf,
  onePeriod,
  PERIOD,
  PRECISION,
  periodOf,
} from "./parameters.js";
import { type AnyRoute, route, UNCHANGED } from "./route.js";

const VolumesQuery = z
  .strictObject({
    ...PERIOD,
    ...BY,
    per: z
      .enum(["line", "channel", "bag", "category"])
      .optional()
      .meta({ description: "What the rows are.", default: "line" }),
    ...PRECISION,
    ...COORDINATES,
  })
  .check(onePeriod);

const FlowsQuery = z.strictObject({ ...PERIOD, ...COORDINATES }).check(onePeriod);

const TotalsQuery = z.strictObject({
  at: InstantText.optional().describe("The instant asked about; not after `until`. Absent: `until`."),
  ...COORDINATES,
});

export const COMPUTED: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/volumes",
    operation: "getVolumes",
    tag: "Answers",
    summary: "Delivered volumes",
    description:
      "What channels delivered and people measured as given, in mL, per line (or channel, bag or category) and interval: whatever reached the patient. What was lost on the way is not taken off, and irrigant counts as delivered; the balance takes off what was lost, and has irrigant in no total. Rounding happens once, on the cumulative curve of each shift, so that the hours shown add up to the shift shown and every grouping to the same total. An interval that has not begun is null; one with unknown minutes is a lower bound and says so.",
    query: VolumesQuery,
    headers: ["If-None-Match"],
    answers: [
      {
        status: 200,
        description: "The volumes.",
        schema: Volumes,
        headers: ["ETag"],
      },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { by = "hour", per = "line", precision } = query;
      const volumes = await ledger.volumes(ids.encounter ?? "", {
        ...coordinatesOf(query),
        period: periodOf(query),
        by,
        per,
        precision: precision === undefined ? undefined : microlitres(precision),
      });
      return volumes.refused ? volumes : unlessKnown(volumes.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/flows",
    operation: "getFlows",
    tag: "Answers",
    summary: "Flows, one by one",
    description:
      "Every span of a period in which one bag delivered at one rate, with its volume to the microlitre, and every span of which nobody knows. For who draws the course of an infusion, or exports it. 31 days at most.",
    query: FlowsQuery,
    headers: ["If-None-Match"],
    answers: [{ status: 200, description: "The flows.", schema: Flows, headers: ["ETag"] }, UNCHANGED],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const asked = { ...coordinatesOf(query), period: periodOf(query) };
      const flows = await ledger.flows(ids.encounter ?? "", asked);
      return flows.refused ? flows : unlessKnown(flows.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/totals",
    operation: "getTotals",
    tag: "Answers",
    summary: "Running totals",
    description:
      "What every channel delivers at an instant, what its running totals should show, and what of that nobody has written down yet: a device forgets it when a new therapy is programmed. What its own segments say of it, and what each chamber held when somebody last looked, stand beside. Look at the device first; the figures here are computed.",
    query: TotalsQuery,
    headers: ["If-None-Match"],
    answers: [{ status: 200, description: "The totals.", schema: Totals, headers: ["ETag"] }, UNCHANGED],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const asked = { ...coordinatesOf(query), at: instantOf(query.at) };
      const totals = await ledger.totals(ids.encounter ?? "", asked);
      return totals.refused ? totals : unlessKnown(totals.done, headers["if-none-match"]);
    },
  }),
];
