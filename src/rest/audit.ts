/** The audit of a unit's shift: how well it is documented, as JSON for programs and as a table for people. */

import { z } from "zod";
import { auditTable, MeasureKey, UnitAudit } from "../wire/answers/audit.js";
import { InstantText } from "../wire/instant.js";
import { unlessKnown } from "./conditions.js";
import { prefersCsv } from "./media.js";
import { COORDINATES, instantOf, SHIFT } from "./parameters.js";
import { type AnyRoute, route, UNCHANGED } from "./route.js";

const AuditQuery = z.strictObject({
  shift: SHIFT,
  counted: z
    .array(MeasureKey)
    .max(10)
    .optional()
    .describe(
      "Only encounters that a measure counts: the n of its n of N. Several must all hold. The numbers over the unit stay those of all encounters.",
    ),
  notCounted: z
    .array(MeasureKey)
    .max(10)
    .optional()
    .describe(
      "Only encounters of which a measure can be told and that it does not count. Several must all hold.",
    ),
  sort: MeasureKey.optional().describe(
    "The measure by which encounters are ordered; those of which it cannot be told come last. Absent: by their ids.",
  ),
  order: z.enum(["most-first", "least-first"]).optional().meta({
    description: "Whether the most, the latest or yes comes first, or the least.",
    default: "most-first",
  }),
  asOf: InstantText.optional().describe(
    "What is to be known: everything recorded by this instant, which is also what `until` is unless given. A unit has no sequence of its own. Absent: everything.",
  ),
  until: COORDINATES.until,
});

export const AUDIT: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/units/{unit}/audit",
    operation: "auditShift",
    tag: "Audit",
    summary: "Audit a shift of a unit",
    description:
      "How well one shift is documented: of every encounter that was in the unit, for the time it was there, and over the unit as n of N. Each measure carries its definition. It measures what is written down and says nothing of the care that was given. With `Accept: text/csv` it is a table, a row for each encounter and some over the unit. Who the patients are and where they lie is for `GET /v1/encounters` to say.",
    query: AuditQuery,
    headers: ["If-None-Match"],
    answers: [
      {
        status: 200,
        description: "The audit.",
        schema: UnitAudit,
        headers: ["ETag"],
        csv: "The encounters, one a row (RFC 4180), each measure with its unit in the header. Below them five rows over the unit: `n`, `N`, `unit` (the sum or the most), what `n of N` counts, and the `definition`; the first column, `row`, tells them apart. Yes and no are words; empty is what cannot be told. Text that a spreadsheet would take for a formula has an apostrophe before it.",
      },
      UNCHANGED,
    ],
    problems: [],
    handle: async (ledger, { ids, query, headers }) => {
      const { counted = [], notCounted = [], order = "most-first", ...asked } = query;
      const audit = await ledger.unitAudit(ids.unit ?? "", {
        shift: asked.shift,
        recordedBy: instantOf(asked.asOf),
        until: instantOf(asked.until),
        counted,
        notCounted,
        sort: asked.sort,
        order,
      });
      if (audit.refused) return audit;
      const ifNoneMatch = headers["if-none-match"];
      if (!prefersCsv(headers.accept)) return unlessKnown(audit.done, ifNoneMatch, VARY);
      const table = auditTable(audit.done);
      return unlessKnown(table, ifNoneMatch, {
        ...VARY,
        "content-type": "text/csv; charset=utf-8; header=present",
      });
    },
  }),
];

const VARY = { vary: "accept" };
