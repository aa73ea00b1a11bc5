/** What the round asks: the audit of a unit's shift, each patient's part of it, and which shift is the latest. */

import { keepPreviousData, queryOptions } from "@tanstack/react-query";
import { client } from "../api/client.js";
import { answerOf } from "../api/problems.js";
import type { Audit, MeasureKey, ShiftFigures, Unit } from "../api/shapes.js";
import { shiftKey } from "../api/sheet.js";
import { shiftAt } from "./shifts.js";

const MINUTE = 60_000;

/** Which encounters of a shift, and in which order; a null leaves it to the page. */
export interface Sifted {
  readonly counted: MeasureKey | null;
  readonly sort: MeasureKey | null;
}

/** The shift that goes on now, by the ledger's clock where a patient is there to ask about, else by this one's. */
export function aboutLatestShift(unit: Unit) {
  return queryOptions({
    queryKey: ["latest-shift", unit.id],
    queryFn: async ({ signal }) => {
      const query = { unit: unit.id, open: true, limit: 1 };
      const found = await answerOf(client.GET("/v1/encounters", { params: { query }, signal }));
      const encounter = found.encounters[0]?.id;
      if (encounter === undefined) return shiftAt(unit, Date.now());
      const path = { encounter };
      const stay = await answerOf(client.GET("/v1/encounters/{encounter}", { params: { path }, signal }));
      return stay.shifts[0] === undefined ? shiftAt(unit, Date.now()) : shiftKey(stay.shifts[0]);
    },
    refetchInterval: MINUTE,
  });
}

export interface AuditAsked {
  readonly unit: string;
  readonly shift: string;
  readonly asOf: string | null;
  readonly sifted: Sifted;
}

function auditOf({ unit, shift, asOf, sifted: { counted, sort } }: AuditAsked) {
  const query = {
    shift,
    ...(asOf === null ? {} : { asOf }),
    ...(counted === null ? {} : { counted: [counted] }),
    ...(sort === null ? {} : { sort }),
  };
  return { path: { unit }, query };
}

export function aboutAudit(asked: AuditAsked) {
  return queryOptions({
    queryKey: ["round", "audit", asked],
    queryFn: async ({ signal }) =>
      // Asked for as JSON, which the generated type cannot tell from the table.
      (await answerOf(client.GET("/v1/units/{unit}/audit", { params: auditOf(asked), signal }))) as Audit,
    placeholderData: keepPreviousData,
    refetchInterval: asked.asOf === null ? MINUTE : false,
  });
}

/** The same audit as a table for a spreadsheet. */
export async function auditAsCsv(asked: AuditAsked): Promise<string> {
  const headers = { accept: "text/csv" };
  const call = client.GET("/v1/units/{unit}/audit", {
    params: auditOf(asked),
    headers,
    parseAs: "text",
  });
  return String(await answerOf<unknown>(call));
}

/** One patient's figures and findings of the shift. */
export function aboutPart(encounter: string, shift: string, asOf: string | null) {
  const [date = "", name = ""] = shift.split("/");
  return queryOptions({
    queryKey: ["round", "part", encounter, shift, asOf],
    queryFn: async ({ signal }) =>
      (await answerOf(
        client.GET("/v1/encounters/{encounter}/shifts/{date}/{shift}", {
          params: { path: { encounter, date, shift: name }, query: asOf === null ? {} : { asOf } },
          signal,
        }),
      )) as ShiftFigures,
    refetchInterval: asOf === null ? MINUTE : false,
  });
}
