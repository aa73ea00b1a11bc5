/** Why figures are what they are: one figure taken apart, and three ways to the same volume. */

import { z } from "zod";
import { Explanation } from "../wire/answers/explanation.js";
import { ThreeWays } from "../wire/answers/three-ways.js";
import { microlitres } from "../wire/quantity.js";
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
    precision: z
      .literal([0.001, 0.01, 0.1, 0.5, 1, 5, 10])
      .optional()
      .describe(
        "The step in mL to which the figure is rounded, as in the volumes. Absent: the unit's own setting.",
      ),
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
      const { per = "line", row = null, precision } = query;
      const made = await ledger.explanation(ids.encounter ?? "", {
        ...coordinatesOf(query),
        period: periodOf(query),
        per,
        row,
        precision: precision === undefined ? undefined : microlitres(precision),
      });
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
