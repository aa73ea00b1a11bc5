/** What needs no token: whether the service is well, and the description of its API. */

import type { FastifyInstance } from "fastify";
import type { z } from "zod";
import type { Ledger } from "../ledger/ledger.js";
import { StoreUnavailable } from "../store/store.js";
import { Health } from "../wire/answers/callers.js";
import type { ProblemName } from "./problems.js";
import type { Answer } from "./route.js";

export interface OpenRoute {
  readonly method: "GET";
  readonly path: string;
  readonly operation: string;
  readonly tag: "Service";
  readonly summary: string;
  readonly description: string;
  readonly answers: readonly (Answer & { readonly schema: z.ZodType })[];
  readonly problems: readonly ProblemName[];
  readonly answer: (ledger: Ledger) => Promise<object>;
}

export const OPEN_ROUTES: readonly OpenRoute[] = [
  {
    method: "GET",
    path: "/health/live",
    operation: "isLive",
    tag: "Service",
    summary: "Whether the service runs",
    description: "Answers as long as the process does. Where it does not, start it anew.",
    answers: [{ status: 200, description: "It runs.", schema: Health }],
    problems: [],
    answer: async () => ({ status: "live" }),
  },
  {
    method: "GET",
    path: "/health/ready",
    operation: "isReady",
    tag: "Service",
    summary: "Whether the service can answer",
    description: "Asks the database a question. Where there is no answer, send requests elsewhere for now.",
    answers: [{ status: 200, description: "It can answer.", schema: Health }],
    problems: ["unavailable"],
    answer: async (ledger) => {
      await ledger.unitOf("ready").catch((cause: unknown) => {
        throw new StoreUnavailable("the store does not answer", { cause });
      });
      return { status: "ready" };
    },
  },
];

export async function openRoutes(
  app: FastifyInstance,
  { ledger }: { readonly ledger: Ledger },
): Promise<void> {
  for (const { method, path, answer } of OPEN_ROUTES) {
    app.route({
      method,
      url: path,
      logLevel: "warn",
      handler: async (_, reply) => reply.header("cache-control", "no-store").send(await answer(ledger)),
    });
  }
}
