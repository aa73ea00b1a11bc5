/**
 * Requests nobody would think of: driven by the API description, seeded, right, nearly right and hostile. No
 * answer may be a failure of the service, tell of the program, or be anything the description does not know.
 * `npm run fuzz` sends at least 20,000; here a short run keeps the way open.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { SALINE, Ward } from "../rest/ward.js";
import { faultsOf } from "./judging.js";
import { requests, SESSIONS, type Sent } from "./requests.js";

const MANY = Number(process.env.FUZZ_REQUESTS ?? 1_500);
const SEED = Number(process.env.FUZZ_SEED ?? 20_261_128);
/** Requests to one ward, so that what was recorded before is there and no ward grows without end. */
const PER_WARD = 2_500;

describe(`${MANY} requests from the description, seed ${SEED}`, () => {
  it(
    "are all answered as the description says, and none by a failure",
    async () => {
      const statuses = new Map<number, number>();
      const bySession = new Map<number, number>();
      for (let sent = 0, round = 0; sent < MANY; sent += PER_WARD, round++) {
        const numRuns = Math.min(PER_WARD, MANY - sent);
        const ward = await Ward.open();
        await ward.record(SALINE);
        const cookies = await signedIn(ward);
        for (const one of fc.sample(requests, { numRuns, seed: SEED + round })) {
          const answer = await ask(ward, one, cookies);
          expect({ request: told(one), faults: faultsOf(one, answer) }).toEqual({
            request: told(one),
            faults: [],
          });
          if (one.as?.startsWith("session ")) {
            bySession.set(answer.status, (bySession.get(answer.status) ?? 0) + 1);
            // Signed out, or its account was changed: the person signs in again.
            if (answer.status === 204 || answer.status === 401) Object.assign(cookies, await signedIn(ward));
          }
          statuses.set(answer.status, (statuses.get(answer.status) ?? 0) + 1);
        }
      }
      // A fuzz that is turned away at the door finds nothing: it must have read, recorded and been refused.
      for (const status of [200, 201, 400, 401, 403, 404, 422]) {
        expect(statuses.get(status) ?? 0, `answers of ${status}`).toBeGreaterThan(MANY / 500);
      }
      for (const status of [200, 201, 403, 422]) {
        expect(bySession.get(status) ?? 0, `answers of ${status} to sessions`).toBeGreaterThan(MANY / 1_000);
      }
      if (process.env.FUZZ_REQUESTS !== undefined) {
        process.stdout.write(`${JSON.stringify(Object.fromEntries([...statuses].sort()))}\n`);
      }
    },
    30 * 60_000,
  );
});

type Cookies = Record<string, string>;

/** The cookies of everybody who signs in, each of them anew. */
async function signedIn(ward: Ward): Promise<Cookies> {
  const cookies: Cookies = {};
  for (const as of SESSIONS) {
    const role = as.slice("session ".length);
    const [username, password] = [`fuzz-${role}`, "correct horse battery"];
    const account = { username, name: `The ${role}`, role, units: null, password };
    await ward.ask("POST", "/v1/accounts", { as: "administrator", body: account });
    const answer = await ward.done("POST", "/v1/session", { as: null, body: { username, password } });
    cookies[as] = (answer.headers["set-cookie"] as unknown as string[])
      .map((cookie) => cookie.split(";")[0])
      .join("; ");
  }
  return cookies;
}

async function ask(ward: Ward, { operation, url, as, headers, text }: Sent, cookies: Cookies) {
  const cookie = as === null ? undefined : cookies[as];
  const authorization = as === null || cookie !== undefined ? undefined : `Bearer ${ward.token(as)}`;
  const answer = await ward.app.inject({
    method: operation.method as "GET",
    url,
    // Of many addresses, since one that fails too often is told to wait.
    remoteAddress: `10.0.${sends >> 8}.${sends++ & 255}`,
    headers: {
      ...(authorization !== undefined && { authorization }),
      ...(cookie !== undefined && { cookie }),
      ...headers,
    },
    ...(text === null ? {} : { payload: text }),
  });
  return { status: answer.statusCode, headers: answer.headers, body: answer.body };
}

let sends = 0;

function told({ operation, url, as, headers, text }: Sent) {
  return { method: operation.method, url, as, headers, text: text?.slice(0, 2_000) ?? null };
}
