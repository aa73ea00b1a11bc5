/**
 * The service without a port: every plugin in plain sight, in the order in which a request meets them.
 * It reads no environment and opens no database, so that a test has it as it is in production.
 */

import cookies from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import { type FastifyBaseLogger, type FastifyInstance, fastify, LogController } from "fastify";
import { accessTo } from "./access/access.js";
import { type AccessSettings, DEFAULT_ACCESS } from "./access/settings.js";
import type { Clock, Ledger } from "./ledger/ledger.js";
import { PREFIX } from "./rest/addresses.js";
import { api } from "./rest/api.js";
import { acceptJsonAlone, MOST_BYTES } from "./rest/bodies.js";
import { logAnswers, requestId, SERIALIZERS } from "./rest/logging.js";
import { openRoutes } from "./rest/open-routes.js";
import { page } from "./rest/page.js";
import { problemPages } from "./rest/problem-pages.js";
import { reference } from "./rest/reference.js";
import { NOTHING_HERE, problemOfError, sendProblem } from "./rest/replies.js";
import { type StreamSettings, Streams, USUAL_STREAMS } from "./rest/stream.js";
import type { Store } from "./store/store.js";

export interface AppParts {
  readonly ledger: Ledger;
  /** Where callers are looked up, and what they do is kept. */
  readonly store: Store;
  readonly clock: Clock;
  /** Who is let in for how long; absent, the usual. */
  readonly settings?: AccessSettings | undefined;
  readonly logger?: FastifyBaseLogger | undefined;
  /** How streams are kept; absent, the usual. */
  readonly streams?: StreamSettings | undefined;
  /** Where the built page is; without it there is none. */
  readonly pageRoot?: string | undefined;
}

/** Requests without a valid token from one address in one minute, before further ones are told to wait. */
const FAILURES = { max: 60, timeWindow: 60_000 };

/** More than the longest id of a finding: a code, a channel and the entry it hangs on, of 64 characters each. */
const LONGEST_ID = 256;

/** What a page may load, run and send: what comes from here, and nothing inline. */
const POLICY = {
  useDefaults: false,
  directives: {
    defaultSrc: ["'self'"],
    baseUri: ["'none'"],
    formAction: ["'self'"],
    frameAncestors: ["'none'"],
    objectSrc: ["'none'"],
  },
};

export async function buildApp(parts: AppParts): Promise<FastifyInstance> {
  const {
    ledger,
    store,
    clock,
    logger,
    pageRoot,
    settings = DEFAULT_ACCESS,
    streams = USUAL_STREAMS,
  } = parts;
  const app: FastifyInstance = fastify({
    ...(logger === undefined ? {} : { loggerInstance: logger.child({}, { serializers: SERIALIZERS }) }),
    logController: new LogController({ disableRequestLogging: true, requestIdLogLabel: "request" }),
    requestIdHeader: false,
    genReqId: requestId,
    bodyLimit: MOST_BYTES,
    trustProxy: settings.proxies.length === 0 ? false : [...settings.proxies],
    routerOptions: { maxParamLength: LONGEST_ID },
    frameworkErrors: (error, _, reply) => sendProblem(reply as never, problemOfError(error)),
  });
  app.decorateRequest("caller", null);
  acceptJsonAlone(app);
  logAnswers(app);
  app.setErrorHandler((error: Error, request, reply) => {
    const problem = problemOfError(error);
    if (problem.name === "internal" || problem.name === "unavailable") request.log.error(error, problem.name);
    return sendProblem(reply, problem);
  });
  // Without its hook: only who comes without a token has a cookie to look at.
  await app.register(cookies, { hook: false });
  await app.register(rateLimit, { global: false });
  const limit = app.createRateLimit(FAILURES);
  await app.register(api, {
    prefix: PREFIX,
    ledger,
    streams: new Streams(ledger, streams),
    access: accessTo({
      ledger,
      store,
      clock,
      settings,
      complain: (error) => app.log.error(error, "unlogged"),
    }),
    failed: async (request) => {
      const counted = await limit(request);
      return counted.isAllowed || !counted.isExceeded ? null : counted.ttlInSeconds;
    },
  });
  // Around the API it would cost every request some of its time, and answers that are no pages need less.
  await app.register(async (others) => {
    await others.register(helmet, { contentSecurityPolicy: POLICY });
    others.setNotFoundHandler((_, reply) => sendProblem(reply, NOTHING_HERE));
    await others.register(openRoutes, { ledger });
    await others.register(problemPages);
    await others.register(reference);
    if (pageRoot !== undefined) await others.register(page, { root: pageRoot });
  });
  return app;
}
