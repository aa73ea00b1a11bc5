/** What is asked of a stay's record: its entries with their history, its findings, and what changed between two moments. */

import { queryOptions } from "@tanstack/react-query";
import { client } from "../api/client.js";
import { everyEntry } from "../api/entries.js";
import { answerOf } from "../api/problems.js";
import type { EntryHistory } from "../api/shapes.js";

const asOfQuery = (asOf: string | null) => (asOf === null ? {} : { asOf });

export function aboutFindings(encounter: string, asOf: string | null) {
  return queryOptions({
    queryKey: ["record", encounter, "findings", asOf],
    queryFn: ({ signal }) =>
      answerOf(
        client.GET("/v1/encounters/{encounter}/findings", {
          params: { path: { encounter }, query: { state: "all", ...asOfQuery(asOf) } },
          signal,
        }),
      ),
  });
}

/** What happened in a span, whatever became of the entries. */
export function aboutEntries(encounter: string, from: string, to: string, asOf: string | null) {
  return queryOptions({
    queryKey: ["record", encounter, "entries", from, to, asOf],
    queryFn: ({ signal }) => everyEntry(encounter, { order: "at", from, to, ...asOfQuery(asOf) }, signal),
  });
}

/** An entry with every correction of it: more than one page of them are no history to read. */
export function aboutEntry(encounter: string, entry: string, asOf: string | null) {
  return queryOptions({
    queryKey: ["record", encounter, "entry", entry, asOf],
    queryFn: async ({ signal }) =>
      (await answerOf(
        client.GET("/v1/encounters/{encounter}/entries/{entry}", {
          params: { path: { encounter, entry }, query: { limit: 1000, ...asOfQuery(asOf) } },
          signal,
        }),
      )) as EntryHistory,
  });
}

export function aboutChanges(encounter: string, since: string, asOf: string | null) {
  return queryOptions({
    queryKey: ["record", encounter, "changes", since, asOf],
    queryFn: ({ signal }) =>
      answerOf(
        client.GET("/v1/encounters/{encounter}/changes", {
          params: { path: { encounter }, query: { since, ...asOfQuery(asOf) } },
          signal,
        }),
      ),
  });
}
