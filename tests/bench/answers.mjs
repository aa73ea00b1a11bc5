/**
 * A shift answered over REST, of a stay of 90 days and of a stay of two days with the very same shift:
 * from a server that has answered it before, and as the first answer of one that has just started (but
 * for answers about another stay, so that the framework is warm).
 */

import { Client } from "./client.mjs";
import { inTurns, median } from "./measuring.mjs";
import { started } from "./server.mjs";
import { DAYS, ENDS, LONG, OTHER, SHIFTS } from "./stays.mjs";

const BOUND = 1.5;

/** @param {{ quick: boolean, copy: () => string, token: string }} asked */
export async function answers({ quick, copy, token }) {
  const path = copy();
  const warm = await warmTimes(path, token, quick ? 60 : 300);
  const cold = await coldTimes(path, token, quick ? 2 : 12);
  return [
    ...SHIFTS.map((shift) => result("warm", shift, warm)),
    ...SHIFTS.map((shift) => result("after a restart", shift, cold)),
  ];
}

function result(state, { when, short }, times) {
  const [long, brief] = [median(times[`${LONG} ${when}`]), median(times[`${short} ${when}`])];
  return {
    what: `GET volumes of a shift (${when}), ${state}, of ${DAYS} days against 2`,
    measured: `${(long / brief).toFixed(2)} × (${long.toFixed(1)} ms, ${brief.toFixed(1)} ms)`,
    bound: `≤ ${BOUND} ×`,
    holds: long / brief <= BOUND,
  };
}

/** One run per stay and shift, by name. */
function subjects(run) {
  return Object.fromEntries(
    SHIFTS.flatMap(({ when, shift, short }) =>
      [LONG, short].map((stay) => [`${stay} ${when}`, (round) => run(stay, shift, round)]),
    ),
  );
}

async function warmTimes(path, token, rounds) {
  const server = await started({ kind: "ledger", path, standsAt: ENDS });
  const client = new Client({ port: server.port, token });
  const times = await inTurns(
    subjects((stay, shift) => client.volumes(stay, shift)),
    { rounds, warmUp: 10 },
  );
  client.close();
  await server.stop();
  return times;
}

async function coldTimes(path, token, rounds) {
  const times = {};
  const runs = subjects((stay, shift, round) => firstAnswer({ path, token, stay, shift, round }));
  for (let round = 0; round < rounds; round++) {
    for (const [name, run] of Object.entries(runs)) {
      times[name] ??= [];
      times[name].push(await run(round));
    }
  }
  return times;
}

/**
 * How long a server that has just started takes to answer a shift. How much it did before differs by the
 * round: it collects its garbage every few answers, and must not do so in the same place each time.
 */
async function firstAnswer({ path, token, stay, shift, round }) {
  const server = await started({ kind: "ledger", path, standsAt: ENDS });
  const client = new Client({ port: server.port, token });
  for (let i = 0; i <= round % 4; i++) await client.volumes(OTHER, SHIFTS.at(-1).shift);
  const begun = performance.now();
  await client.volumes(stay, shift);
  const taken = performance.now() - begun;
  client.close();
  await server.stop();
  return taken;
}
