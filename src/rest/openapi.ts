/**
 * The description of the API in OpenAPI 3.1, made of the table of routes and the schemas that the
 * service itself is made of. It is committed in openapi/openapi.json, and served from there.
 */

import { CAUTION } from "./caution.js";
import { OPEN_ROUTES, type OpenRoute } from "./open-routes.js";
import { operationOf } from "./openapi-operations.js";
import { problemResponses } from "./openapi-problems.js";
import { componentsFor, type Json } from "./openapi-schemas.js";
import type { AnyRoute } from "./route.js";
import { ROUTES } from "./routes.js";

/** Rises with what is described: the first number with /v1, the second with additions. */
const VERSION = "1.0.0";

const DESCRIPTION = `
A ledger of infusions and of fluid intake and output. It records what happened at the bedside as entries, which are
never changed or deleted, and computes from them what was delivered, per line and hour, shift and day.

**Caution.** ${CAUTION}

**Quantities** are JSON numbers: volumes in mL, rates in mL/h, of at most 3 decimals. More decimals are refused and
never rounded, as they are told by the number's shortest decimal form.

**Instants** are RFC 3339 with an offset, to the millisecond. Answers carry the offset of the unit's own clocks.
Periods are half-open: the start belongs to them, the end does not.

**Two coordinates** stand on every computed answer: \`asOf\`, what was known, and \`until\`, up to when it was
computed. Asking for both again gives the same answer for ever.

**Refusals** are problem documents (RFC 9457). Programs switch on \`type\` and on the \`code\` of each error; the
sentences are for people and may change. A request is judged in the order 401, 404, 403, its form (400, 413, 415), a
retry, 412, 422, 409.

**Retries** chart nothing twice: send entries with ids, or an \`Idempotency-Key\`.
`.trim();

const TAGS = [
  { name: "Encounters", description: "Patients' stays, from the admission to the discharge." },
  { name: "Entries", description: "The clinical facts of an encounter, and what they record." },
  { name: "Answers", description: "What is computed from the entries." },
  { name: "Charts", description: "The figures another record holds, kept and reconciled with the ledger." },
  { name: "Findings", description: "What a person should look at, and what settles it." },
  { name: "Units", description: "Wards: their clocks, shifts and settings." },
  { name: "Audit", description: "How well a shift of a unit is documented." },
  { name: "Access", description: "Who is let in, what they reach, and who read and wrote what." },
  { name: "Service", description: "Whether the service is well." },
];

const HEADERS = {
  ETag: {
    description:
      "Of an encounter and its entries the sequence of the last entry in quotes, for `If-Match`; of a computed answer a tag for `If-None-Match`.",
    schema: { type: "string", examples: ['"14"'] },
  },
  Location: {
    description: "The address of what was made.",
    schema: { type: "string", examples: ["/v1/encounters/stay-1"] },
  },
  Link: {
    description: 'The next page, with `rel="next"` (RFC 8288); absent on the last.',
    schema: { type: "string", examples: ['</v1/units?after=east-4>; rel="next"'] },
  },
  "Retry-After": {
    description: "After how many seconds to try again.",
    schema: { type: "string", examples: ["1"] },
  },
  "Content-Disposition": {
    description: "What to call it where it is kept.",
    schema: { type: "string", examples: ['attachment; filename="encounter-stay-1.json"'] },
  },
  "Set-Cookie": {
    description: "The session's secret, for the browser alone.",
    schema: { type: "string", examples: ["session=…; Path=/; HttpOnly; SameSite=Strict"] },
  },
  "WWW-Authenticate": {
    description: "That a bearer token is needed (RFC 6750).",
    schema: { type: "string", examples: ['Bearer realm="ledger"'] },
  },
};

/**
 * Answers the service gave, by operation and status: `GET /v1/units 200`; tables by their media type too. Bodies it
 * took, by what each shows, under `POST /v1/units sent`.
 */
export type Examples = Readonly<Record<string, unknown>>;

/** The whole description, as JSON, with what answers may look like. */
export function openApi(examples: Examples = {}): Json {
  const paths: Record<string, Record<string, Json>> = {};
  const routes: readonly (AnyRoute | OpenRoute)[] = [...ROUTES, ...OPEN_ROUTES];
  for (const route of routes) {
    paths[route.path] = { ...paths[route.path], [route.method.toLowerCase()]: operationOf(route, examples) };
  }
  const responses = problemResponses(routes);
  return {
    openapi: "3.1.1",
    info: {
      title: "Shift infusion ledger",
      version: VERSION,
      summary: "Records infusions, and computes the volumes they delivered.",
      description: DESCRIPTION,
      license: { name: "MIT", identifier: "MIT" },
    },
    servers: [{ url: "/", description: "The service that this description came from." }],
    tags: TAGS,
    security: [{ token: [] }, { session: [] }],
    paths,
    components: {
      securitySchemes: {
        token: {
          type: "http",
          scheme: "bearer",
          description:
            "A token of the ledger's own, or an access token of the hospital's identity provider (RFC 9068). Its role says what it may do; it may be for some units alone.",
        },
        session: {
          type: "apiKey",
          in: "cookie",
          name: "session",
          description: "The cookie of who signed in. Over TLS its name is `__Host-session`.",
        },
      },
      headers: HEADERS,
      responses,
      schemas: componentsFor({ paths, responses }),
    },
  };
}

/** The description as the file that is committed. */
export function openApiText(examples: Examples): string {
  return `${JSON.stringify(openApi(examples), null, 2)}\n`;
}
