/**
 * The log: what was asked of which route by whom, how it ended and how long it took. No body, no
 * address with the ids in it, and of a query only parameters that cannot hold anything of a patient.
 */

import { randomUUID } from "node:crypto";
import type { IncomingMessage } from "node:http";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { whenEnded } from "./ended.js";

const REQUEST_ID = /^[A-Za-z0-9._-]{8,64}$/;

/** The caller's own id of the request where it is a sane one, else a new one. */
export function requestId(request: Pick<IncomingMessage, "headers">): string {
  const sent = request.headers["x-request-id"];
  return typeof sent === "string" && REQUEST_ID.test(sent) ? sent : randomUUID();
}

/** What the log shows of a request wherever one is logged, in place of the server's own idea of it. */
export const SERIALIZERS = {
  req: (request: FastifyRequest) => ({ method: request.method, route: request.routeOptions?.url }),
};

/** Parameters whose values are words of the API and never of a caller. */
const LOGGED_PARAMETERS = ["by", "per", "precision", "order", "limit", "open", "dryRun"];

export function logAnswers(app: FastifyInstance): void {
  app.addHook("onRequest", (request, reply, next) => {
    reply.header("x-request-id", request.id);
    whenEnded(reply, (broken) => logAnswer(request, reply, broken));
    next();
  });
}

function logAnswer(request: FastifyRequest, reply: FastifyReply, broken: boolean): void {
  const emergency = request.concerns?.emergency ?? undefined;
  request.log[emergency === undefined ? "info" : "warn"](
    {
      method: request.method,
      route: request.routeOptions.url ?? "none",
      query: loggedQuery(request.query as Readonly<Record<string, unknown>>),
      caller: request.caller?.id,
      role: request.caller?.role,
      emergency,
      status: reply.statusCode,
      ms: Math.round(reply.elapsedTime * 1_000) / 1_000,
    },
    broken ? "broken off" : "answered",
  );
}

function loggedQuery(query: Readonly<Record<string, unknown>>): Record<string, string> | undefined {
  const logged = LOGGED_PARAMETERS.flatMap((name) => {
    const value = query[name];
    // A value that is no word of the API is none of the log's business either.
    return typeof value === "string" && /^[a-z\d.]{1,10}$/.test(value) ? [[name, value]] : [];
  });
  return logged.length === 0 ? undefined : Object.fromEntries(logged);
}
