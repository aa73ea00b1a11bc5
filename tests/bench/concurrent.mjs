/**
 * Fifty people charting at once, each at a bedside of their own: entries recorded per second, beside a
 * plain route that commits one row per request. The two take turns, each alone under load. How the two compare
 * depends on what a flush to the disk costs, so that is told, and the same is measured as on slower disks.
 */

import { join } from "node:path";
import autocannon from "autocannon";
import { flushes } from "./flush.mjs";
import { BenchLedger } from "./ledgers.mjs";
import { hastened, median, quantile } from "./measuring.mjs";
import { started } from "./server.mjs";
import { CHANNELS, HOUR, story } from "./story.mjs";

const CONNECTIONS = 50;
const BOUND = 3;

/** By how much longer a commit is made to take, in milliseconds: by nothing, and as on slower disks. */
const SLOWER = [0, 1, 2];

/** @param {{ quick: boolean, directory: string }} asked */
export async function concurrent({ quick, directory }) {
  const [rounds, seconds] = quick ? [2, 2] : [7, 4];
  const results = [];
  for (const slower of SLOWER) {
    const compared = await compare({ rounds, seconds, directory, slower });
    results.push(...(slower === 0 ? told(compared) : toldOfSlower(compared, slower)));
  }
  return results;
}

/** Rates and latencies of both, and how long a flush took meanwhile. */
async function compare({ rounds, seconds, directory, slower }) {
  const path = join(directory, `fifty-${slower}.db`);
  const from = Date.now();
  const token = await fiftyBeds(path, from);
  const servers = {
    ledger: await started({ kind: "ledger", path, from, slower }),
    plain: await started({ kind: "plain", path: join(directory, `plain-${slower}.db`), from, slower }),
  };
  const of = { ledger: { rates: [], latencies: [] }, plain: { rates: [], latencies: [] } };
  const flushed = [];
  for (let round = -1; round < rounds; round++) {
    for (const name of ["ledger", "plain"]) {
      const { rate, taken } = await load(servers[name].port, { token, seconds, from });
      if (round < 0) continue;
      of[name].rates.push(rate);
      of[name].latencies = of[name].latencies.concat(taken);
      flushed.push(...flushes(directory));
    }
  }
  for (const server of Object.values(servers)) await server.stop();
  return { ...of, ratio: median(of.ledger.rates) / median(of.plain.rates), flush: median(flushed) };
}

function told({ ledger, plain, ratio, flush }) {
  return [
    {
      what: `POST by ${CONNECTIONS} connections to ${CONNECTIONS} encounters, against a plain route`,
      measured: `${ratio.toFixed(2)} × where a flush takes ${flush.toFixed(2)} ms`,
      bound: `≥ ${BOUND} ×`,
      holds: ratio >= BOUND,
    },
    { what: "  the ledger", measured: rateOf(ledger), bound: "", holds: null },
    { what: "  the plain route", measured: rateOf(plain), bound: "", holds: null },
  ];
}

function toldOfSlower({ ledger, plain, ratio, flush }, slower) {
  const rates = [ledger, plain].map(({ rates }) => `${median(rates).toFixed(0)}/s`);
  return [
    {
      what: `  the same, every commit of both made to wait ${slower} ms more`,
      measured: `${ratio.toFixed(2)} × (${rates.join(" against ")}; ${(flush + slower).toFixed(2)} ms)`,
      bound: `≥ ${BOUND} ×`,
      holds: ratio >= BOUND,
    },
  ];
}

function rateOf({ rates, latencies }) {
  const [p50, p99] = [0.5, 0.99].map((share) => quantile(latencies, share).toFixed(1));
  return `${median(rates).toFixed(0)}/s, p50 ${p50} ms, p99 ${p99} ms`;
}

/** A ledger of fifty stays that began an hour ago; returns the token of who charts in them. */
async function fiftyBeds(path, from) {
  const begun = from - HOUR;
  const ledger = await BenchLedger.open(path, begun);
  await ledger.openUnit();
  const [{ opening }] = story({ hours: 1, perHour: 14 });
  const at = new Date(begun).toISOString();
  for (let bed = 0; bed < CONNECTIONS; bed++) {
    await ledger.admit(`bed-${bed}`, begun);
    const now = opening.map((entry) => ({ ...entry, at }));
    await ledger.post(`bed-${bed}`, now);
  }
  const token = await ledger.token();
  await ledger.close();
  return token;
}

/** Requests per second, and how long each took in milliseconds. */
async function load(port, { token, seconds, from }) {
  const now = hastened(from);
  const taken = [];
  let beds = 0;
  const run = autocannon({
    url: `http://127.0.0.1:${port}`,
    connections: CONNECTIONS,
    duration: seconds,
    setupClient(client) {
      const path = `/v1/encounters/bed-${beds++ % CONNECTIONS}/entries`;
      const headers = { authorization: `Bearer ${token}`, "content-type": "application/json" };
      client.setRequests([
        { method: "POST", path, headers, setupRequest: (request) => charted(request, now()) },
      ]);
    },
  });
  run.on("response", (_client, status, _bytes, time) => {
    if (status !== 201) throw new Error(`a POST was answered ${status}`);
    taken.push(time);
  });
  const { duration, errors, timeouts } = await run;
  if (errors + timeouts > 0) throw new Error(`${errors} requests failed, ${timeouts} timed out`);
  return { rate: taken.length / duration, taken };
}

let charts = 0;

/** The request with its entry: a rate of the next of the channels. */
function charted(request, now) {
  const [rate, { key: channel }] = [30 + (charts % 40) / 10, CHANNELS[charts % CHANNELS.length]];
  charts++;
  const entry = { kind: "rate-changed", at: new Date(now).toISOString(), channel, rate };
  return { ...request, body: JSON.stringify({ entries: [entry] }) };
}
