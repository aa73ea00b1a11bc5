/** A service with the demo's patients up to now, and what its tests ask of it. */

import { once } from "node:events";
import { type ClientRequest, type IncomingMessage, request } from "node:http";
import { connect } from "node:net";
import { addToken } from "../../src/commands/token.js";
import { seed } from "../../src/demo/seed.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { instant } from "../../src/time/instant.js";
import { newDatabase, type Running, start } from "./program.js";

export interface Ward extends Running {
  readonly database: string;
  readonly url: string;
  readonly token: string;
}

/** A database with the demo's patients in it, and a nurse's token. */
export async function wardDatabase(): Promise<{ readonly database: string; readonly token: string }> {
  const { database } = await newDatabase();
  const store = await openSqlite(database, { migrate: true });
  const now = instant(Date.now());
  await seed(store, now);
  const token = await addToken(store, { role: "nurse", name: "Imaginary Nurse", units: null }, now);
  await store.close();
  return { database, token };
}

/** Starts the service on a new ward and waits until it listens. */
export async function openWard(variables: Readonly<Record<string, string>> = {}): Promise<Ward> {
  const { database, token } = await wardDatabase();
  const running = start(["serve"], { DATABASE_URL: `file:${database}`, PORT: "0", ...variables });
  const url = await running.wrote(/"msg":"listening on ([^"]+)"/);
  return { ...running, database, token, url };
}

/** A drink that was charted just now. */
export function drink(id: string, volume = 200) {
  return { id, kind: "intake-measured", at: new Date().toISOString(), category: "oral", volume };
}

export function ask(ward: Ward, path: string, body?: string): Promise<Response> {
  const headers = { authorization: `Bearer ${ward.token}`, "content-type": "application/json" };
  const sending = body === undefined ? { headers } : { method: "POST", headers, body };
  return fetch(ward.url + path, sending);
}

export interface HalfSent {
  /** Sends the rest and waits for the answer; rejects when the connection is cut. */
  finish(): Promise<IncomingMessage>;
}

/** A request to record entries that the service has begun to read, and waits for the rest of. */
export async function halfSent(ward: Ward, entries: readonly object[]): Promise<HalfSent> {
  const body = Buffer.from(JSON.stringify({ entries }));
  const half = Math.floor(body.length / 2);
  const sending: ClientRequest = request(`${ward.url}/v1/encounters/demo-a/entries`, {
    method: "POST",
    headers: {
      authorization: `Bearer ${ward.token}`,
      "content-type": "application/json",
      "content-length": body.length,
      // Answered with "continue" as soon as the service has taken the request up.
      expect: "100-continue",
    },
  });
  const answered = once(sending, "response") as Promise<[IncomingMessage]>;
  // Who finishes it is told; who never does need not know.
  answered.catch(() => {});
  sending.flushHeaders();
  await once(sending, "continue");
  sending.write(body.subarray(0, half));
  return {
    finish: async () => {
      sending.end(body.subarray(half));
      const [answer] = await answered;
      return answer.resume();
    },
  };
}

/** Waits until nobody can connect any more. */
export async function closedToNew({ url }: Ward): Promise<void> {
  const { hostname, port } = new URL(url);
  for (;;) {
    const socket = connect(Number(port), hostname);
    const open = await new Promise<boolean>((resolve) => {
      socket.once("connect", () => resolve(true)).once("error", () => resolve(false));
    });
    socket.destroy();
    if (!open) return;
  }
}
