/**
 * The API under /v1. A request is judged in one order whatever its route: the token (401), whether the
 * unit or encounter is there for this caller (404), the role (403), and only then what was sent: its
 * form, and then, by the ledger, whether it is a retry, its precondition, its sense, its ids.
 */

import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Callers } from "../access/callers.js";
import { mayUse } from "../access/rules.js";
import type { Caller, Ledger } from "../ledger/ledger.js";
import { type Outcome, type Refusal, refused } from "../ledger/refusal.js";
import { methodsAt, PREFIX, patternOf } from "./addresses.js";
import { NotJson } from "./json.js";
import type { Problem } from "./problems.js";
import { NO_QUERY, readQuery, type SentQuery } from "./query.js";
import { problemOf } from "./refusals.js";
import { NOTHING_HERE, sendProblem } from "./replies.js";
import { type Answered, type AnyRoute, nameOf, type Route } from "./route.js";
import { ROUTES } from "./routes.js";

declare module "fastify" {
  interface FastifyRequest {
    /** Who asks; null until the token has been looked up, and where none is needed. */
    caller: Caller | null;
  }
  interface FastifyContextConfig {
    /** The route of the API that a request is for. */
    route?: AnyRoute;
  }
}

export interface ApiParts {
  readonly ledger: Ledger;
  readonly callers: Callers;
  /** Counts a request without a valid token, and says after how many seconds to try again when there were too many. */
  readonly failed: (request: FastifyRequest) => Promise<number | null>;
}

/** What every answer here carries: patients are in it, and it is no page. */
const HEADERS = {
  "cache-control": "no-store",
  "content-security-policy": "default-src 'none'; frame-ancestors 'none'",
  "x-content-type-options": "nosniff",
};

const JSON_TYPE = "application/json; charset=utf-8";

/** Registers every route of the table, and the answers to what is under /v1 and no route. */
export async function api(app: FastifyInstance, { ledger, callers, failed }: ApiParts): Promise<void> {
  app.addHook("onRequest", async (request, reply) => {
    // Set before anything is answered, so that they hold for problems too.
    reply.headers(HEADERS);
    const caller = await callers.of(request.headers.authorization);
    if (caller === undefined) return sendProblem(reply, await unauthenticated(request, failed));
    request.caller = caller;
    const { route } = request.routeOptions.config;
    const refusal = route === undefined ? undefined : await barred(ledger, caller, route, idsOf(request));
    if (refusal !== undefined)
      return sendProblem(reply, problemOf(refusal, { ids: idsOf(request), body: null }));
  });
  for (const route of ROUTES) {
    app.route({
      method: route.method,
      url: patternOf(route.path).slice(PREFIX.length),
      config: { route },
      handler: (request, reply) => answer(ledger, route as unknown as Route, request, reply),
    });
  }
  app.setNotFoundHandler((request, reply) => answerNoRoute(request, reply));
}

function idsOf(request: FastifyRequest): Readonly<Record<string, string>> {
  return request.params as Readonly<Record<string, string>>;
}

async function unauthenticated(request: FastifyRequest, failed: ApiParts["failed"]): Promise<Problem> {
  const seconds = await failed(request);
  if (seconds !== null) {
    const headers = { "retry-after": String(seconds) };
    return { name: "too-many-requests", detail: `Try again in ${seconds} s.`, headers };
  }
  // RFC 6750, section 3.1: no error code for a request that carries no token at all.
  const sent = request.headers.authorization !== undefined;
  const challenge = sent ? 'Bearer realm="ledger", error="invalid_token"' : 'Bearer realm="ledger"';
  const detail = sent ? "The token is not known here." : "A bearer token is needed.";
  return { name: "unauthenticated", detail, headers: { "www-authenticate": challenge } };
}

/** Why a caller may not use a route for these ids; undefined where they may. */
async function barred(
  ledger: Ledger,
  caller: Caller,
  route: AnyRoute,
  { encounter, unit }: Readonly<Record<string, string>>,
): Promise<Refusal | undefined> {
  if (encounter !== undefined) {
    const where = await ledger.unitOf(encounter);
    // Of a unit that is not theirs is the same as not there.
    if (where === undefined || (caller.unit !== null && caller.unit !== where)) {
      return { problem: "not-found", what: "encounter", id: encounter };
    }
  }
  if (unit !== undefined) {
    const theirs = caller.unit === null || caller.unit === unit;
    if (!theirs || (await ledger.unit(unit)).refused) return { problem: "not-found", what: "unit", id: unit };
  }
  if (mayUse(caller.role, nameOf(route))) return undefined;
  return {
    problem: "forbidden",
    detail: `The role ${caller.role} may not do this: ${route.summary.toLowerCase()}.`,
  };
}

async function answer(
  ledger: Ledger,
  route: Route,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<FastifyReply> {
  const outcome = await outcomeOf(ledger, route, request);
  if (outcome.refused) {
    return sendProblem(reply, problemOf(outcome.refused, { ids: idsOf(request), body: request.body }));
  }
  const { status, body, headers } = outcome.done;
  reply.code(status);
  if (headers !== undefined) reply.headers(headers);
  if (body === null) return reply.send();
  return reply.header("content-type", JSON_TYPE).send(typeof body === "string" ? body : JSON.stringify(body));
}

async function outcomeOf(ledger: Ledger, route: Route, request: FastifyRequest): Promise<Outcome<Answered>> {
  const query = readQuery(route.query ?? NO_QUERY, request.query as SentQuery);
  if (query.refused) return query;
  if (route.body !== undefined && request.body === undefined) throw new NotJson("The body is empty.");
  const body = route.body?.read(request.body);
  if (body?.faults) return refused({ problem: route.body!.problem, errors: body.faults });
  return route.handle(ledger, {
    caller: request.caller!,
    route: nameOf(route),
    ids: idsOf(request),
    query: query.done,
    body: body?.value,
    sent: request.body,
    headers: request.headers,
    url: request.url,
  });
}

/** Under /v1, but no route: 405 where the address is one and the method is not, else 404. */
function answerNoRoute(request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const methods = methodsAt(request.url);
  if (methods.length === 0) return sendProblem(reply, NOTHING_HERE);
  const allow = methods.join(", ");
  if (request.method === "OPTIONS") return reply.code(204).header("allow", allow).send();
  const detail = `${request.method} is not for this address.`;
  return sendProblem(reply, { name: "method-not-allowed", detail, headers: { allow } });
}
