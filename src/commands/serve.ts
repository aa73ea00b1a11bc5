/**
 * The service: the store, the ledger and the app put together and listening, until it is asked to stop.
 * What it has acknowledged is durable by then, and what it has begun is finished first.
 */

import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import type { FastifyBaseLogger, FastifyInstance } from "fastify";
import { type Logger, pino } from "pino";
import { buildApp } from "../app.js";
import type { Config } from "../config.js";
import { Ledger } from "../ledger/ledger.js";
import { openSqlite } from "../store/sqlite.js";
import type { Store } from "../store/store.js";
import { CommandRefused } from "./refused.js";
import { stopOnSignal } from "./stopping.js";

/** How long requests in flight may take once the service is asked to stop, in milliseconds. */
const GRACE = 10_000;
/** How soon a connection is closed once its request is answered, in milliseconds: it is idle from then. */
const IDLE = 50;

/** Where the build puts the page, also for a program that runs from its source. */
const PAGE = new URL(import.meta.url.endsWith(".ts") ? "../../dist/page" : "../../page", import.meta.url);

/** Serves the configured database, made or migrated if need be, and logs where. */
export async function serve(config: Config): Promise<void> {
  const store = await openSqlite(config.database, { migrate: true });
  await listen(config, store, pino({ level: config.logLevel }));
}

/**
 * Listens with the ledger in a store, and from now on stops at a signal: accepts nothing more, finishes
 * what is in flight, closes the store. Returns the URL to open. Closes the store and throws CommandRefused
 * where the port is not to be had.
 */
export async function listen(config: Config, store: Store, logger: Logger): Promise<string> {
  const { host, port } = config;
  const clock = Date.now;
  const ledger = new Ledger(store, clock);
  try {
    const pageRoot = fileURLToPath(PAGE);
    const app = await buildApp({ ledger, store, clock, logger, pageRoot, settings: config.access });
    stopOnSignal(() => stop(app, store, logger));
    await app.listen({ host, port, listenTextResolver: (address) => `listening on ${address}` });
    return urlOf(host, app.server.address() as AddressInfo);
  } catch (error) {
    await store.close();
    throw portRefusal(config, error);
  }
}

/**
 * Accepts nothing more, finishes what is in flight, closes the store. What takes longer than `grace`, in
 * milliseconds, is cut off: it was not acknowledged, and whoever asked it asks again.
 */
export async function stop(
  app: FastifyInstance,
  store: Store,
  logger: FastifyBaseLogger,
  grace = GRACE,
): Promise<void> {
  logger.info("stopping");
  const idle = setInterval(() => app.server.closeIdleConnections(), IDLE);
  const late = setTimeout(() => app.server.closeAllConnections(), grace);
  try {
    await app.close();
    await store.close();
    logger.info("stopped");
  } catch (error) {
    logger.fatal(error, "stopping failed");
    process.exitCode = 1;
  } finally {
    clearInterval(idle);
    clearTimeout(late);
  }
}

/** An address to open on this machine: one that stands for all addresses is no place to go to. */
function urlOf(host: string, { port }: AddressInfo): string {
  const name = host === "0.0.0.0" || host === "::" ? "localhost" : host;
  return `http://${name.includes(":") ? `[${name}]` : name}:${port}`;
}

function portRefusal({ host, port }: Config, error: unknown): unknown {
  const reasons: Record<string, string> = {
    EADDRINUSE: "another program listens there; choose another PORT",
    EACCES: "this user may not listen there; choose a PORT above 1023",
    EADDRNOTAVAIL: "HOST is no address of this machine",
    ENOTFOUND: "HOST is no name that is known here",
  };
  const reason = reasons[(error as NodeJS.ErrnoException).code ?? ""];
  if (reason === undefined) return error;
  return new CommandRefused(`cannot listen on ${host} port ${port}: ${reason}`, { cause: error });
}
