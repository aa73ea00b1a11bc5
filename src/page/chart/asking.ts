/** What is asked about charts: those that are kept, one of them, and comparing figures with the ledger. */

import { queryOptions } from "@tanstack/react-query";
import type { components } from "../../../openapi/client.js";
import { client } from "../api/client.js";
import { answerOf } from "../api/problems.js";
import type { Chart, Reconciliation } from "../api/shapes.js";

type Schemas = components["schemas"];

export function aboutCharts(encounter: string, asOf: string | null) {
  return queryOptions({
    queryKey: ["record", encounter, "charts", asOf],
    queryFn: async ({ signal }) => {
      const query = { limit: 1000, ...(asOf === null ? {} : { asOf }) };
      const params = { path: { encounter }, query };
      return (await answerOf(client.GET("/v1/encounters/{encounter}/charts", { params, signal }))).charts;
    },
  });
}

/** A kept chart, and what comparing it comes to. */
export interface Compared {
  readonly chart: Chart;
  readonly answer: Reconciliation;
}

export function aboutChart(encounter: string, chart: string, asOf: string | null) {
  const query = asOf === null ? {} : { asOf };
  return queryOptions({
    queryKey: ["record", encounter, "chart", chart, asOf],
    queryFn: async ({ signal }): Promise<Compared> => {
      const params = { path: { encounter, chart }, query };
      const [kept, answer] = await Promise.all([
        answerOf(client.GET("/v1/encounters/{encounter}/charts/{chart}", { params, signal })),
        compare(encounter, { chart }, asOf, signal),
      ]);
      return { chart: kept, answer };
    },
  });
}

export async function compare(
  encounter: string,
  body: Schemas["ReconciliationBody"],
  asOf: string | null,
  signal?: AbortSignal,
): Promise<Reconciliation> {
  const params = { path: { encounter }, query: asOf === null ? {} : { asOf } };
  return answerOf(
    client.POST("/v1/encounters/{encounter}/reconciliation", {
      params,
      body,
      ...(signal === undefined ? {} : { signal }),
    }),
  );
}

/** Keeps a chart; `key` makes a retry the same request. */
export async function keep(encounter: string, body: Schemas["ChartBody"], key: string): Promise<string> {
  const params = { path: { encounter }, header: { "Idempotency-Key": key } };
  return (await answerOf(client.POST("/v1/encounters/{encounter}/charts", { params, body }))).id;
}
