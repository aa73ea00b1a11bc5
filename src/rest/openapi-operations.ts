/** One operation of the API description: from a route's row in the table to what OpenAPI calls it. */

import { z } from "zod";
import { ROLES } from "../access/roles.js";
import { isForEveryUnit, rolesFor } from "../access/rules.js";
import { Key } from "../wire/text.js";
import type { OpenRoute } from "./open-routes.js";
import type { Examples } from "./openapi.js";
import { problemsByStatus, referenceTo, referredHeaders } from "./openapi-problems.js";
import { type Json, schemaAt } from "./openapi-schemas.js";
import { type Answer, type AnyRoute, nameOf, type RequestHeader } from "./route.js";

export function operationOf(route: AnyRoute | OpenRoute, examples: Examples): Json {
  const { operation: operationId, tag, summary, description } = route;
  const common = { operationId, tags: [tag], summary };
  if (!("handle" in route))
    return { ...common, description, security: [], responses: responsesOf(route, examples) };
  if (route.open) {
    const requestBody =
      route.body === undefined
        ? {}
        : { requestBody: requestBodyOf(route.body, examples[`${nameOf(route)} sent`]) };
    return { ...common, description, security: [], ...requestBody, responses: responsesOf(route, examples) };
  }
  const roles = rolesFor(nameOf(route));
  const forWhom = roles.length === ROLES.length ? "For every role." : `For the roles ${roles.join(", ")}.`;
  const everyUnit = isForEveryUnit(nameOf(route)) ? " For callers of every unit alone." : "";
  const parameters = parametersOf(route);
  return {
    ...common,
    description: `${description} ${forWhom}${everyUnit}`,
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(route.body === undefined
      ? {}
      : { requestBody: requestBodyOf(route.body, examples[`${nameOf(route)} sent`]) }),
    responses: responsesOf(route, examples),
  };
}

/** `sent` are bodies the service took, by what each is an example of. */
function requestBodyOf({ schema, description }: NonNullable<AnyRoute["body"]>, sent: unknown): Json {
  const examples = Object.entries((sent ?? {}) as Json).map(([summary, value]) => {
    const name = summary
      .toLowerCase()
      .match(/[a-z]+/g)!
      .join("-");
    return [name, { summary, value }] as const;
  });
  const shown = examples.length === 0 ? {} : { examples: Object.fromEntries(examples) };
  return {
    required: true,
    description,
    content: { "application/json": { schema: schemaAt(schema), ...shown } },
  };
}

const IDS: Readonly<Record<string, string>> = {
  unit: "The unit's id.",
  encounter: "The encounter's id.",
  entry: "The entry's id.",
  date: "The date on which the shift starts, such as 2026-03-04.",
  shift: "The name of the shift, such as `day`.",
  chart: "The chart's id.",
  finding: "The finding's id, as the list of findings shows it.",
  account: "The account's id.",
};

const HEADERS: Readonly<Record<RequestHeader, { description: string; example: string }>> = {
  "If-Match": {
    description:
      "Record only if the encounter is still at this ETag (several may be named, and `*` is any); else 412. Weak tags never match.",
    example: '"14"',
  },
  "If-None-Match": {
    description: "Answer only if it is another one than the caller has; else 304.",
    example: '"2jmj7l5rSw0yVb_vlWAYkK_YBwk"',
  },
  "Last-Event-ID": {
    description: "The id of the last event that arrived: the stream goes on after it, and misses nothing.",
    example: "4711",
  },
  "Idempotency-Key": {
    description:
      "A string of the caller's choice, new for each new request: a retry with the same one gets the same answer, for 48 hours at least. 1 to 255 printable ASCII characters, in quotes (RFC 8941) or bare.",
    example: '"2f4b2a5e-9b1c-4c57-a6d2-8f6b8f1d7c11"',
  },
};

function parametersOf({ path, query, headers = [] }: AnyRoute): Json[] {
  const ids = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: "path",
    required: true,
    description: IDS[name!],
    schema: name === "finding" ? { type: "string" } : schemaAt(Key),
  }));
  const shape = query instanceof z.ZodObject ? (query.shape as Record<string, z.ZodType>) : {};
  const queries = Object.entries(shape).map(([name, of]) => {
    const { description = "", ...schema } = schemaAt(of);
    return { name, in: "query", required: !of.safeParse(undefined).success, description, schema };
  });
  const sent = headers.map((name) => {
    const { description, example } = HEADERS[name];
    return {
      name,
      in: "header",
      required: false,
      description,
      schema: { type: "string", examples: [example] },
    };
  });
  return [...ids, ...queries, ...sent];
}

function responsesOf(route: AnyRoute | OpenRoute, examples: Examples): Json {
  const responses: Record<string, Json> = {};
  for (const answer of route.answers) {
    const name = `${nameOf(route)} ${answer.status}`;
    responses[answer.status] = responseOf(answer, examples[name], examples[`${name} text/csv`]);
  }
  for (const [status, names] of problemsByStatus(route)) responses[status] = referenceTo(names);
  return responses;
}

function responseOf(
  { description, schema, headers = [], media: type = "application/json", csv }: Answer,
  example: unknown,
  table: unknown,
): Json {
  const media =
    schema === undefined
      ? undefined
      : { schema: schemaAt(schema), ...(example === undefined ? {} : { example }) };
  const asTable = {
    schema: { type: "string", description: csv },
    ...(table === undefined ? {} : { example: table }),
  };
  return {
    description,
    ...(headers.length === 0 ? {} : { headers: referredHeaders(headers) }),
    ...(media === undefined ? {} : { content: { [type]: media, ...(csv && { "text/csv": asTable }) } }),
  };
}
