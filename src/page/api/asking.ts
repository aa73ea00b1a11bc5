/** The questions of the page, kept and asked again by what they are about: lists of a unit, sheets of a stay. */

import { keepPreviousData, type QueryClient, queryOptions } from "@tanstack/react-query";
import { client } from "./client.js";
import { answerOf } from "./problems.js";
import { askForSheet, type StaySheet } from "./sheet.js";

const MINUTE = 60_000;

export const aboutUnits = queryOptions({
  queryKey: ["units"],
  queryFn: async ({ signal }) => {
    const query = { limit: 1000 };
    return (await answerOf(client.GET("/v1/units", { params: { query }, signal }))).units;
  },
  staleTime: 10 * MINUTE,
});

/** The stays of a unit; with `open` only those not discharged. */
export function aboutPatients(unit: string, open: boolean) {
  return queryOptions({
    queryKey: ["patients", unit, open],
    queryFn: async ({ signal }) => {
      const query = { unit, limit: 1000, ...(open ? { open: true } : {}) };
      return (await answerOf(client.GET("/v1/encounters", { params: { query }, signal }))).encounters;
    },
    placeholderData: keepPreviousData,
  });
}

/** A stay and one of its shifts, null for its latest; as of an instant, null for all that is known. */
export function aboutShift(encounter: string, shift: string | null, asOf: string | null = null) {
  return queryOptions({
    queryKey: ["sheet", encounter, shift, asOf],
    queryFn: ({ signal }) => askForSheet(encounter, shift, asOf, signal),
    // Another shift of the same stay leaves the sheet standing until its own is there.
    placeholderData: (previous, before) =>
      previous?.stay.id === encounter && before?.queryKey[3] === asOf ? previous : undefined,
    refetchInterval: ({ state }) => {
      const shown = state.data?.sheet?.shift;
      return asOf === null && shown && Date.parse(shown.until) < Date.parse(shown.end) ? MINUTE : false;
    },
  });
}

/** The sheet of a stay that was shown last as of the same moment, for when another cannot be had. */
export function lastSheetOf(
  queries: QueryClient,
  encounter: string,
  asOf: string | null,
): StaySheet | undefined {
  const predicate = ({ queryKey }: { queryKey: readonly unknown[] }) => queryKey[3] === asOf;
  const found = queries.getQueryCache().findAll({ queryKey: ["sheet", encounter], predicate });
  const [last] = found.sort((a, b) => b.state.dataUpdatedAt - a.state.dataUpdatedAt);
  return last?.state.data as StaySheet | undefined;
}

export type FigureAsked = {
  readonly encounter: string;
  readonly per: "line" | "channel" | "bag" | "category";
  readonly row: string | null;
  readonly from: string;
  readonly to: string;
  readonly asOf: string;
  readonly until: string;
};

/** Why a figure is what it is. */
export function aboutFigure({ encounter, row, ...asked }: FigureAsked) {
  const query = { ...asked, ...(row === null ? {} : { row }) };
  return queryOptions({
    queryKey: ["figure", encounter, query],
    queryFn: ({ signal }) =>
      answerOf(
        client.GET("/v1/encounters/{encounter}/volumes/explanation", {
          params: { path: { encounter }, query },
          signal,
        }),
      ),
    // The same question with the same coordinates has the same answer for ever.
    staleTime: Number.POSITIVE_INFINITY,
  });
}

/** Asks again what is shown of an encounter, since something was recorded of it. */
export function refreshEncounter(queries: QueryClient, encounter: string): void {
  void queries.invalidateQueries({ queryKey: ["record", encounter] });
  void queries.invalidateQueries({ queryKey: ["sheet", encounter] });
  void queries.invalidateQueries({ queryKey: ["tried", encounter] });
  void queries.invalidateQueries({ queryKey: ["patients"] });
  void queries.invalidateQueries({ queryKey: ["round", "audit"] });
  void queries.invalidateQueries({ queryKey: ["round", "part", encounter] });
}
