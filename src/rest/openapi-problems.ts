/**
 * The problems of the API description: which ones a route can have, and one response for all that share
 * a status there. The same response of several routes stands once among the components.
 */

import { ROLES } from "../access/roles.js";
import { isOutOfReach, rolesFor } from "../access/rules.js";
import type { OpenRoute } from "./open-routes.js";
import { type Json, schemaAt } from "./openapi-schemas.js";
import { PROBLEMS, type ProblemName } from "./problems.js";
import { type AnswerHeader, type AnyRoute, nameOf } from "./route.js";

/** Every problem a route can have: those of its form follow from what it takes. */
function problemsOf(route: AnyRoute | OpenRoute): ProblemName[] {
  if (!("handle" in route)) return [...route.problems, "internal"];
  const names: ProblemName[] = ["bad-parameter"];
  if (!route.open) {
    names.push("unauthenticated");
    if (rolesFor(nameOf(route)).length < ROLES.length) names.push("forbidden");
    const writes = route.method !== "GET";
    if (writes && route.path.includes("{encounter}") && !isOutOfReach(nameOf(route))) {
      names.push("not-your-time");
    }
    if (writes) names.push("cross-site");
  }
  if (route.path.includes("{")) names.push("not-found");
  if (route.body !== undefined) names.push("not-json", "too-large", "media-type", route.body.problem);
  if (route.headers?.includes("Idempotency-Key")) names.push("idempotency-key-reused");
  const all = new Set<ProblemName>([
    ...names,
    ...route.problems,
    "too-many-requests",
    "internal",
    "unavailable",
  ]);
  return [...all];
}

/** The problems of a route by their status. */
export function problemsByStatus(route: AnyRoute | OpenRoute): ReadonlyMap<number, readonly ProblemName[]> {
  const found = new Map<number, ProblemName[]>();
  for (const name of problemsOf(route)) {
    const { status } = PROBLEMS[name];
    found.set(status, [...(found.get(status) ?? []), name]);
  }
  return found;
}

/** The name of the response that several problems share: `NotJsonOrBadParameter`. */
function responseName(names: readonly ProblemName[]): string {
  const pascal = (name: string) =>
    name.replace(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase());
  return names.map(pascal).join("Or");
}

export function referenceTo(names: readonly ProblemName[]): Json {
  return { $ref: `#/components/responses/${responseName(names)}` };
}

/** Every problem response of the routes, by its name. */
export function problemResponses(routes: readonly (AnyRoute | OpenRoute)[]): Readonly<Record<string, Json>> {
  const named = routes
    .flatMap((route) => [...problemsByStatus(route).values()])
    .map((names) => [responseName(names), problemResponse(names)] as const);
  return Object.fromEntries(named.sort(([a], [b]) => (a < b ? -1 : 1)));
}

const PROBLEM_HEADERS: Readonly<Partial<Record<ProblemName, readonly AnswerHeader[]>>> = {
  unauthenticated: ["WWW-Authenticate"],
  "precondition-failed": ["ETag"],
  "too-many-requests": ["Retry-After"],
  unavailable: ["Retry-After"],
};

/** One response for all problems of a status: each with its type, its document and an example. */
function problemResponse(names: readonly ProblemName[]): Json {
  const schemas = names.map((name) => schemaAt(PROBLEMS[name].document));
  const headers = names.flatMap((name) => PROBLEM_HEADERS[name] ?? []);
  const examples = Object.fromEntries(
    names.map((name) => {
      const { title, status, example } = PROBLEMS[name];
      return [name, { summary: title, value: { type: `/problems/${name}`, title, status, ...example } }];
    }),
  );
  return {
    description: names.map((name) => `\`/problems/${name}\`: ${PROBLEMS[name].means}`).join("\n\n"),
    ...(headers.length === 0 ? {} : { headers: referredHeaders(headers) }),
    content: {
      "application/problem+json": {
        schema: schemas.length === 1 ? schemas[0] : { oneOf: schemas },
        examples,
      },
    },
  };
}

export function referredHeaders(names: readonly AnswerHeader[]): Json {
  return Object.fromEntries(names.map((name) => [name, { $ref: `#/components/headers/${name}` }]));
}
