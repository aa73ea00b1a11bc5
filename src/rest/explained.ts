/** Why figures are what they are: one figure taken apart, and three ways to the same volume. */

import { z } from "zod";
import { Explanation, ThreeWays } from "../wire/answers/explanation.js";
import { unlessKnown } from "./conditions.js";
import { COORDINATES, coordinatesOf, onePeriod, PERIOD, periodOf } from "./parameters.js";
import { type AnyRoute, route, UNCHANGED } from "./route.js";

const ExplanationQuery = z
  .strictObject({
    ...PERIOD,
    per: z
      .enum(["line", "channel", "bag", "category"])
      .optional()
      .meta({ description: "What the rows are, as in the volumes.", default: "line" }),
    row: z
      .string()
      .max(200)
      .optional()
      .describe("The key of the row in the volumes. Absent: what has no key, such as fluid without a bag."),
    ...COORDINATES,
  })
  .check(onePeriod);

const PeriodQuery = z.strictObject({ ...PERIOD, ...COORDINATES }).check(onePeriod);

export const EXPLAINED: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/volumes/explanation",
    operation: "explainVolume",
    tag: "Answers",
    summary: "Why a volume is what it is",
    description:
      "One figure of the volumes taken apart: the deliveries, readings, measured amounts and entries it is made of, in a sentence and as data. The period is the figure's interval.",
    query: ExplanationQuery,
    headers: ["If-None-Match"],
    answers: [
      { status: 200, description: "What it is made of.", schema: Explanation, headers: ["ETag"] },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { per = "line", row = null } = query;
      const asked = { ...coordinatesOf(query), period: periodOf(query), per, row };
      const made = await ledger.explanation(ids.encounter ?? "", asked);
      return made.refused ? made : unlessKnown(made.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/reconciliation",
    operation: "compareThreeWays",
    tag: "Answers",
    summary: "Three ways to the same volume",
    description:
      "Per channel and bag: what rate and time say, what the running totals that were read say, and what the levels of the bags say; how far they are apart, what the figures rest on, and why.",
    query: PeriodQuery,
    headers: ["If-None-Match"],
    answers: [
      { status: 200, description: "The three ways.", schema: ThreeWays, headers: ["ETag"] },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const asked = { ...coordinatesOf(query), period: periodOf(query) };
      const ways = await ledger.threeWays(ids.encounter ?? "", asked);
      return ways.refused ? ways : unlessKnown(ways.done, headers["if-none-match"]);
    },
  }),
];
