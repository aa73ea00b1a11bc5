/** The balance of intake and output, and what of each drug was delivered. */

import { z } from "zod";
import { BalanceAnswer } from "../wire/answers/balance.js";
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

const BalanceQuery = z
  .strictObject({
    ...PERIOD,
    ...BY,
    ...PRECISION,
    start: InstantText.optional().describe(
      "From when on the cumulative net counts, not after the period's start. Absent: everything of the stay.",
    ),
    ...COORDINATES,
  })
  .check(onePeriod);

export const BALANCE: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/balance",
    operation: "getBalance",
    tag: "Answers",
    summary: "The balance of intake and output",
    description:
      "Intake, output and net per interval in mL, by category and within it by line, role and item or by site; the cumulative net; and what stands beside: what nobody measured, what was lost, irrigation, urine per body weight, the share of the weight at admission. Rows shown add up to sums, hours to shifts, shifts to days, and net is intake less output at every level. Irrigant and insensible loss are in no total. A figure that leaves something out says so. No figure is advice.",
    query: BalanceQuery,
    headers: ["If-None-Match"],
    answers: [
      { status: 200, description: "The balance.", schema: BalanceAnswer, headers: ["ETag"] },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { by = "hour", precision } = query;
      const balance = await ledger.balance(ids.encounter ?? "", {
        ...coordinatesOf(query),
        period: periodOf(query),
        by,
        precision: precision === undefined ? undefined : microlitres(precision),
        start: instantOf(query.start),
      });
      return balance.refused ? balance : unlessKnown(balance.done, headers["if-none-match"]);
    },
  }),
];
