/** Charts: the figures another record holds, kept beside the ledger, and reconciled with it. */

import { z } from "zod";
import { done } from "../ledger/refusal.js";
import { Chart, ChartKept, ChartList, Reconciliation } from "../wire/answers/charts.js";
import { ChartBody, ReconciliationBody } from "../wire/charts.js";
import { microlitres } from "../wire/quantity.js";
import { unlessKnown } from "./conditions.js";
import { idempotencyKey } from "./idempotency.js";
import { listed } from "./lists.js";
import { COORDINATES, coordinatesOf, limitOf, PAGE, PRECISION } from "./parameters.js";
import { type AnyRoute, bodyOf, route, UNCHANGED } from "./route.js";
import { sent } from "./written.js";

export const CHARTS: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/charts",
    operation: "listCharts",
    tag: "Charts",
    summary: "List the charts that were kept",
    description:
      "The charts kept of an encounter, in the order of recording, without their figures: who kept them when, and of which span.",
    query: z.strictObject({ ...PAGE, ...COORDINATES }),
    answers: [
      {
        status: 200,
        description: "A page of charts.",
        schema: ChartList,
        headers: ["Link"],
      },
    ],
    problems: [],
    handle: async (ledger, { ids, query, url }) => {
      const asked = { ...coordinatesOf(query), after: query.after, limit: limitOf(query) };
      const page = await ledger.charts(ids.encounter ?? "", asked);
      if (page.refused) return page;
      const { next, ...charts } = page.done as { readonly next?: string };
      return done(listed(charts, next, url));
    },
  }),
  route({
    method: "POST",
    path: "/v1/encounters/{encounter}/charts",
    operation: "keepChart",
    tag: "Charts",
    summary: "Keep a chart",
    description:
      "Keeps the figures another record holds of a span as one entry of the chain, never changed. It changes no figure of the ledger. The last chart kept of a span is the one that is looked at: where it differs from the ledger there is a finding. A chart that was copied wrong is kept again, right.",
    headers: ["Idempotency-Key"],
    body: bodyOf(ChartBody, "The chart."),
    answers: [
      {
        status: 201,
        description: "The chart is kept.",
        schema: ChartKept,
        headers: ["ETag", "Location"],
      },
      {
        status: 200,
        description: "It was kept before, under the same id and with the same body.",
        schema: ChartKept,
        headers: ["ETag", "Location"],
      },
    ],
    problems: ["id-exists"],
    handle: async (ledger, asked) => {
      const key = idempotencyKey(asked);
      if (key.refused) return key;
      const { caller, ids, body } = asked;
      const { encounter = "" } = ids;
      const kept = await ledger.keepChart(caller, encounter, body, key.done);
      return sent(kept, `/v1/encounters/${encounter}/charts`);
    },
  }),
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/charts/{chart}",
    operation: "getChart",
    tag: "Charts",
    summary: "Read a chart that was kept",
    description: "One kept chart, every figure as it was sent.",
    query: z.strictObject(COORDINATES),
    headers: ["If-None-Match"],
    answers: [{ status: 200, description: "The chart.", schema: Chart, headers: ["ETag"] }, UNCHANGED],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { encounter = "", chart = "" } = ids;
      const found = await ledger.chart(encounter, chart, coordinatesOf(query));
      return found.refused ? found : unlessKnown(found.done, headers["if-none-match"]);
    },
  }),
  route({
    method: "POST",
    path: "/v1/encounters/{encounter}/reconciliation",
    operation: "reconcileChart",
    tag: "Charts",
    summary: "Reconcile a chart with the ledger",
    description:
      "Compares figures that are sent along, or those of a kept chart, with the ledger: what matches, what differs, and for each difference the smallest explanations, best first, with the entries concerned. One slip is preferred to two; those that cannot be told apart share a place and say so; where nothing explains a difference the answer says that. A total that differs only because figures in it do is explained by those. What the ledger has and the chart does not is listed. Nothing is recorded, and nothing in either record is corrected.",
    query: z.strictObject({ ...PRECISION, ...COORDINATES }),
    body: bodyOf(ReconciliationBody, "The figures, or the id of a kept chart."),
    answers: [
      {
        status: 200,
        description: "The chart beside the ledger.",
        schema: Reconciliation,
      },
    ],
    problems: [],
    handle: async (ledger, { ids, query, body }) => {
      const { precision } = query;
      const asked = {
        ...coordinatesOf(query),
        body,
        precision: precision === undefined ? undefined : microlitres(precision),
      };
      const made = await ledger.reconciliation(ids.encounter ?? "", asked);
      return made.refused ? made : done({ status: 200, body: made.done });
    },
  }),
];
