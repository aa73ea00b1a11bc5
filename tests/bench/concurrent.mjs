/**
 * Fifty people charting at once, each at a bedside of their own: entries recorded per second, beside a
 * plain route that commits one row per request. The two take turns, each alone under load.
 */

import { join } from "node:path";
import autocannon from "autocannon";
import { BenchLedger } from "./ledgers.mjs";
import { hastened, median, quantile } from "./measuring.mjs";
import { started } from "./server.mjs";
import { CHANNELS, HOUR, story } from "./story.mjs";

const CONNECTIONS = 50;
const BOUND = 3;

/** @param {{ quick: boolean, directory: string }} asked */
export async function concurrent({ quick, directory }) {
  const path = join(directory, "fifty.db");
  const from = Date.now();
  const token = await fiftyBeds(path, from);
  const servers = {
    ledger: await started({ kind: "ledger", path, from }),
    plain: await started({ kind: "plain", path: join(directory, "plain.db"), from }),
  };
  const [rounds, seconds] = quick ? [2, 2] : [7, 4];
  const rates = { ledger: [], plain: [] };
  const latencies = { ledger: [], plain: [] };
  for (let round = -1; round < rounds; round++) {
    for (const name of ["ledger", "plain"]) {
      const { rate, taken } = await load(servers[name].port, { token, seconds, from });
      if (round < 0) continue;
      rates[name].push(rate);
      latencies[name] = latencies[name].concat(taken);
    }
  }
  for (const server of Object.values(servers)) await server.stop();
  const [ledger, plain] = [median(rates.ledger), median(rates.plain)];
  const told = (name) => {
    const [p50, p99] = [0.5, 0.99].map((share) => quantile(latencies[name], share).toFixed(1));
    return `${median(rates[name]).toFixed(0)}/s, p50 ${p50} ms, p99 ${p99} ms`;
  };
  return [
    {
      what: `POST by ${CONNECTIONS} connections to ${CONNECTIONS} encounters, against a plain route`,
      measured: `${(ledger / plain).toFixed(2)} ×`,
      bound: `≥ ${BOUND} ×`,
      holds: ledger / plain >= BOUND,
    },
    { what: "  the ledger", measured: told("ledger"), bound: "", holds: null },
    { what: "  the plain route", measured: told("plain"), bound: "", holds: null },
  ];
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
