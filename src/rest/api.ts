/**
 * The API under /v1. A request is judged in one order whatever its route: who asks (401), whether the
 * unit or encounter is there for them (404), the role (403), and only then what was sent: its
 * form, and then, by the ledger, whether it is a retry, its precondition, its sense, its ids.
 */

import { Readable } from "node:stream";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { Access } from "../access/access.js";
import type { Session } from "../access/sessions.js";
import type { Caller, Ledger } from "../ledger/ledger.js";
import { type Outcome, refused } from "../ledger/refusal.js";
import type { AboutAccount } from "../store/callers.js";
import { methodsAt, PREFIX, patternOf } from "./addresses.js";
import { type Allowed, allowed } from "./allowed.js";
import { sessionSecret } from "./cookies.js";
import { whenEnded } from "./ended.js";
import { NotJson } from "./json.js";
import type { Problem } from "./problems.js";
import { NO_QUERY, readQuery, type SentQuery } from "./query.js";
import { BEARER, problemOf, tooManyRequests, unauthenticated } from "./refusals.js";
import { NOTHING_HERE, sendProblem } from "./replies.js";
import { type Answered, type AnyRoute, nameOf, type Route } from "./route.js";
import { ROUTES } from "./routes.js";
import type { Streams } from "./stream.js";

declare module "fastify" {
  interface FastifyRequest {
    /** Who asks; null until they have been looked up, and where that is not needed. */
    caller: Caller | null;
    session: Session | null;
    /** What of the record the request is about, once that is known. */
    concerns: Allowed["concerns"] | null;
    /** Which account the request is about, if it is. */
    about: AboutAccount | null;
  }
  interface FastifyContextConfig {
    /** The route of the API that a request is for. */
    route?: AnyRoute;
  }
}

export interface ApiParts {
  readonly ledger: Ledger;
  readonly access: Access;
  readonly streams: Streams;
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

/** Who asks where nobody has to say who they are: they see nothing and may do nothing. */
const NOBODY: Caller = { id: "", name: "", role: "", units: [], source: "person" };

/** Registers every route of the table, and the answers to what is under /v1 and no route. */
export async function api(app: FastifyInstance, parts: ApiParts): Promise<void> {
  const { ledger, access, streams, failed } = parts;
  app.decorateRequest("session", null);
  app.decorateRequest("concerns", null);
  app.decorateRequest("about", null);
  app.addHook("onRequest", async (request, reply) => {
    // Set before anything is answered, so that they hold for problems too.
    reply.headers(HEADERS);
    const { route } = request.routeOptions.config;
    if (route?.open) return whenEnded(reply, () => note(access, request, reply));
    const letIn = await access.callers.of({
      authorization: request.headers.authorization,
      cookie: sessionSecret(request.headers, access.settings),
      attended: request.headers.unattended !== "?1",
    });
    if (letIn === undefined) return sendProblem(reply, await nobody(request, failed));
    request.caller = letIn.caller;
    request.session = letIn.session;
    if (route === undefined) return;
    access.log.mustHaveRoom();
    const { method, headers } = request;
    const may = await allowed({ ledger, access, ...letIn, route, ids: idsOf(request), method, headers });
    request.concerns = may.concerns;
    // Whoever is let in may have read, whether or not they wait for the end of it.
    whenEnded(reply, () => note(access, request, reply));
    if (may.refused !== undefined) {
      return sendProblem(reply, problemOf(may.refused, { ids: idsOf(request), body: null }));
    }
    request.caller = may.caller;
  });
  // Before the server waits for its connections: a stream would keep it for minutes.
  app.addHook("preClose", async () => streams.end());
  app.addHook("onClose", () => access.log.flush());
  for (const route of ROUTES) {
    app.route({
      method: route.method,
      url: patternOf(route.path).slice(PREFIX.length),
      config: { route },
      handler: (request, reply) => answer(parts, route as unknown as Route, request, reply),
    });
  }
  app.setNotFoundHandler((request, reply) => answerNoRoute(request, reply));
}

function idsOf(request: FastifyRequest): Readonly<Record<string, string>> {
  return request.params as Readonly<Record<string, string>>;
}

async function nobody(request: FastifyRequest, failed: ApiParts["failed"]): Promise<Problem> {
  const { authorization, cookie } = request.headers;
  // Whose session has ended comes with a cookie, and guesses at nothing.
  const seconds = authorization === undefined && cookie !== undefined ? null : await failed(request);
  if (seconds !== null) return tooManyRequests(seconds);
  // RFC 6750, section 3.1: no error code for a request that carries no token at all.
  if (authorization !== undefined) {
    return unauthenticated("The token is not known here.", `${BEARER}, error="invalid_token"`);
  }
  const ended = "The session has ended, or there is none: a bearer token is needed, or to sign in.";
  return unauthenticated(cookie === undefined ? "A bearer token is needed." : ended, BEARER);
}

/** What the log of accesses keeps of a request: of an encounter, of a list of some, or of an account. */
function note(
  { log }: Access,
  { caller, concerns, about, routeOptions }: FastifyRequest,
  reply: FastifyReply,
): void {
  const { route } = routeOptions.config;
  if (route === undefined || (about === null && (caller === null || concerns === null))) return;
  const { id, name, role } = caller ?? NOBODY;
  log.note({
    encounter: concerns?.encounter ?? null,
    caller: id,
    name,
    role,
    route: nameOf(route),
    status: reply.statusCode,
    emergency: concerns?.emergency ?? null,
    units: concerns?.units,
    ...(about !== null && { about }),
  });
}

type Parts = Pick<ApiParts, "ledger" | "access" | "streams">;

async function answer(
  parts: Parts,
  route: Route,
  request: FastifyRequest,
  reply: FastifyReply,
): Promise<FastifyReply> {
  const outcome = await outcomeOf(parts, route, request);
  if (outcome.refused) {
    return sendProblem(reply, problemOf(outcome.refused, { ids: idsOf(request), body: request.body }));
  }
  const { status, body, headers, encounter, emergency } = outcome.done;
  if (encounter !== undefined) request.concerns = { encounter, emergency: null };
  if (emergency !== undefined) request.concerns = { ...request.concerns!, emergency };
  reply.code(status);
  if (body !== null) reply.header("content-type", JSON_TYPE);
  if (headers !== undefined) reply.headers(headers);
  if (body === null) return reply.removeHeader("content-type").send();
  return reply.send(typeof body === "string" || body instanceof Readable ? body : JSON.stringify(body));
}

async function outcomeOf(
  { ledger, access, streams }: Parts,
  route: Route,
  request: FastifyRequest,
): Promise<Outcome<Answered>> {
  const query = readQuery(route.query ?? NO_QUERY, request.query as SentQuery);
  if (query.refused) return query;
  if (route.body !== undefined && request.body === undefined) throw new NotJson("The body is empty.");
  const body = route.body?.read(request.body);
  if (body?.faults) return refused({ problem: route.body!.problem, errors: body.faults });
  return route.handle(ledger, {
    caller: request.caller ?? NOBODY,
    route: nameOf(route),
    ids: idsOf(request),
    query: query.done,
    body: body?.value,
    sent: request.body,
    headers: request.headers,
    url: request.url,
    access,
    streams,
    session: request.session,
    address: request.ip,
    about: (account, caller) => {
      request.about = { ...account, address: request.ip };
      if (caller !== undefined) request.caller = caller;
    },
    warn: (fields, message) => request.log.warn(fields, message),
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
