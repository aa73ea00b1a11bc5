/**
 * One server in a process of its own, started by `started`: the ledger's app on a database, or the
 * plain route it is compared with. Its caches and compiled code die with it, and whoever asks it does
 * not share its thread.
 */

import { fork } from "node:child_process";
import { once } from "node:events";
import { devNull } from "node:os";
import { fileURLToPath } from "node:url";
import { pino } from "pino";
import { buildApp } from "../../dist/src/app.js";
import { Ledger } from "../../dist/src/ledger/ledger.js";
import { openSqlite } from "../../dist/src/store/sqlite.js";
import { slowDisk } from "./flush.mjs";
import { hastened } from "./measuring.mjs";
import { plainRoute } from "./plain-route.mjs";

const SELF = fileURLToPath(import.meta.url);

/**
 * Starts a server and waits until it listens. Its clock stands at `standsAt`, or runs hastened from `from`; its
 * commits take `slower` milliseconds longer than they do.
 *
 * @param {{ kind: "ledger" | "plain", path: string, standsAt?: number, from?: number, slower?: number }} asked
 */
export async function started({ kind, path, standsAt, from, slower = 0 }) {
  const clock = standsAt === undefined ? ["from", from] : ["standsAt", standsAt];
  const child = fork(SELF, [kind, path, ...clock.map(String), String(slower)]);
  const [{ port }] = await Promise.race([once(child, "message"), once(child, "exit").then(ended)]);
  return {
    port,
    async stop() {
      child.disconnect();
      await once(child, "exit");
    },
  };
}

function ended([code]) {
  throw new Error(`the server ended with code ${code} before it listened`);
}

async function ledgerApp(path, clock) {
  const store = await openSqlite(path, { migrate: true });
  const ledger = new Ledger(store, clock);
  // It logs as it does in service; only nobody reads it.
  const app = await buildApp({ ledger, store, clock, logger: pino(pino.destination(devNull)) });
  return { app, close: () => app.close().then(() => store.close()) };
}

async function serve(kind, path, how, instant, slower) {
  const clock = how === "standsAt" ? () => Number(instant) : hastened(Number(instant));
  const plain = () => {
    const app = plainRoute(path);
    return { app, close: () => app.close() };
  };
  if (Number(slower) > 0) slowDisk(Number(slower));
  const { app, close } = kind === "ledger" ? await ledgerApp(path, clock) : plain();
  await app.listen({ host: "127.0.0.1", port: 0 });
  process.once("disconnect", close);
  process.send({ port: app.server.address().port });
}

if (process.argv[1] === SELF && process.send !== undefined) await serve(...process.argv.slice(2));
