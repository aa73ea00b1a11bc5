/** The requests of the worked day and the answers of the service to them: what the description of the API shows as examples. */

import { ROLES } from "../access/roles.js";
import { DEFAULT_ACCESS } from "../access/settings.js";
import { newToken } from "../access/token.js";
import { buildApp } from "../app.js";
import { Ledger } from "../ledger/ledger.js";
import { operationAt } from "../rest/addresses.js";
import type { Examples } from "../rest/openapi.js";
import { USUAL_STREAMS } from "../rest/stream.js";
import { openSqlite } from "../store/sqlite.js";
import { instant } from "../time/instant.js";
import { at, NAMED, WORKED_DAY } from "./worked-day.js";

const NAMES: Readonly<Record<string, string>> = {
  nurse: "Imaginary Nurse",
  "charge-nurse": "Imaginary Charge Nurse",
  integration: "Charting system",
  device: "Imaginary pump",
  administrator: "Imaginary Administrator",
};

/** What is made at random where an operation makes it, and what stands for it here. */
const INVENTED: Readonly<Record<string, string>> = {
  "POST /v1/accounts": "account-1",
  "POST /v1/encounters/{encounter}/emergency-access": "emergency-1",
};

/** Asks a service of its own, in memory, and keeps the first answer of each operation and status, and what was sent. */
export async function workedAnswers(): Promise<Examples> {
  const clock = { now: Date.parse(at("06:30")) };
  const store = await openSqlite(":memory:", { migrate: true });
  const tokens: Record<string, string> = {};
  for (const role of ROLES) {
    const { secret, hash } = newToken();
    tokens[role] = secret;
    const good = { createdAt: instant(clock.now), expiresAt: null, revokedAt: null };
    await store.createToken({ id: `${role}-1`, hash, role, name: NAMES[role]!, units: null, ...good });
  }
  let made = 0;
  const now = () => clock.now;
  const ledger = new Ledger(store, now, () => `made-${++made}`);
  // Nothing to keep from anybody, and nobody to guess it.
  const settings = { ...DEFAULT_ACCESS, passwordCost: { ln: 4, r: 8, p: 1 } };
  const streams = { ...USUAL_STREAMS, lasts: 0 };
  const app = await buildApp({ ledger, store, clock: now, settings, streams });
  await app.ready();
  const examples: Record<string, unknown> = {};
  const sent: Record<string, Record<string, unknown>> = {};
  const invented = new Map<string, string>();
  let before: unknown;
  for (const asked of WORKED_DAY) {
    if (asked.clock !== undefined) clock.now = Date.parse(at(asked.clock));
    const url = Object.entries(NAMED).reduce(
      (address, [name, of]) =>
        address.includes(name) ? address.replace(name, of(before as never)) : address,
      asked.url,
    );
    const payload = typeof asked.body === "function" ? asked.body(before as never) : asked.body;
    const answer = await app.inject({
      method: asked.method,
      url,
      ...(payload === undefined ? {} : { payload }),
      headers: {
        ...(asked.as === null ? {} : { authorization: `Bearer ${tokens[asked.as]}` }),
        ...asked.headers,
      },
    });
    if (answer.statusCode >= 300) throw new Error(`${asked.method} ${url}: ${answer.body}`);
    const type = String(answer.headers["content-type"]);
    const table = type.startsWith("text/csv");
    before = table ? answer.body : JSON.parse(dataOf(answer.body));
    const operation = operationAt(asked.method, url);
    examples[`${operation} ${answer.statusCode}${table ? " text/csv" : ""}`] ??= before;
    if (asked.shows !== undefined) {
      const key = `${operation} sent`;
      sent[key] = { ...sent[key], [asked.shows]: payload };
    }
    const name = INVENTED[operation];
    if (name !== undefined) invented.set((before as { id: string }).id, name);
  }
  await app.close();
  await store.close();
  const text = [...invented].reduce(
    (all, [id, name]) => all.replaceAll(id, name),
    JSON.stringify({ ...examples, ...sent }),
  );
  return JSON.parse(text) as Examples;
}

/** The JSON of an answer: of a stream, the data of its first event. */
function dataOf(body: string): string {
  return /^data: (.*)$/m.exec(body)?.[1] ?? body;
}
