/** One encounter as a file of its own, to be handed on or kept. */

import { Readable } from "node:stream";
import { z } from "zod";
import { done } from "../ledger/refusal.js";
import { Bundle } from "../wire/bundle.js";
import { CAUTION } from "./caution.js";
import { COORDINATES, coordinatesOf } from "./parameters.js";
import { type AnyRoute, route } from "./route.js";

export const EXPORTED: readonly AnyRoute[] = [
  route({
    method: "GET",
    path: "/v1/encounters/{encounter}/export",
    operation: "exportEncounter",
    tag: "Entries",
    summary: "Export an encounter",
    description:
      "The whole stay as one file that needs nothing else: whom it is of, and every entry as it was hashed, with the settings it was charted by and the figures that were signed. Every figure can be computed from it again, and `verify --bundle` accepts it as it would the database. It names a patient: keep it as such. Who read and wrote stands in the log of accesses and not in here.",
    query: z.strictObject({ asOf: COORDINATES.asOf }),
    answers: [
      {
        status: 200,
        description: "The bundle.",
        schema: Bundle,
        headers: ["Content-Disposition"],
      },
    ],
    problems: [],
    handle: async (ledger, { ids, query }) => {
      const { encounter = "" } = ids;
      const bundle = await ledger.bundle(encounter, coordinatesOf(query), CAUTION);
      if (bundle.refused) return bundle;
      const headers = { "content-disposition": `attachment; filename="encounter-${encounter}.json"` };
      return done({ status: 200, body: Readable.from(bundle.done), headers });
    },
  }),
];
