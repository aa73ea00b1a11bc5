/** The balance of intake and output, and what of each drug was delivered. */

import { z } from "zod";
import { BalanceAnswer } from "../wire/answers/balance.js";
import { DrugAmountsAnswer } from "../wire/answers/drug-amounts.js";
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

const DrugAmountsQuery = z.strictObject({ ...PERIOD, ...BY, ...PRECISION, ...COORDINATES }).check(onePeriod);

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
      {
        status: 200,
        description: "The balance.",
        schema: BalanceAnswer,
        headers: ["ETag"],
      },
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
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/drug-amounts",
    operation: "getDrugAmounts",
    tag: "Answers",
    summary: "Amounts of drugs delivered",
    description:
      "What was delivered of each additive per interval: the volume out of the bag times its concentration, which is what was put in over the label volume, also of a bag that is overfilled. What is added to a bag dilutes it; since nobody says what it held, the amounts from then on are the least it can be. What a bag gives beyond all that was put in is the most it can be. Exact as fractions, and rounded to 6 decimals so that intervals add up; beside them the volumes that carried it. What was lost on the way is not taken off, as it is not off the volumes; where something was lost the amount is the most that reached the patient. Spellings of one drug or unit are one row. Bags whose additives nobody charted are left out.",
    query: DrugAmountsQuery,
    headers: ["If-None-Match"],
    answers: [
      {
        status: 200,
        description: "The amounts.",
        schema: DrugAmountsAnswer,
        headers: ["ETag"],
      },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { by = "hour", precision } = query;
      const amounts = await ledger.drugAmounts(ids.encounter ?? "", {
        ...coordinatesOf(query),
        period: periodOf(query),
        by,
        precision: precision === undefined ? undefined : microlitres(precision),
      });
      return amounts.refused ? amounts : unlessKnown(amounts.done, headers["if-none-match"]);
    },
  }),
];
