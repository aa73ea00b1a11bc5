/**
 * The audit of a shift of a ward over REST, of 10 to 80 beds: stays of one to ten days, and one of 90 days among them.
 * Of a shift that is over and of the one that runs, of shifts nobody has asked for yet and as of earlier moments; as
 * the first answer of a server that has just started, when one patient has been charted since, and when nobody has. The running shift is worked out anew each time. Beside it, for
 * a machine that is busy, how long it takes to ask each bed for its volumes of the shift, one after the other.
 */

import { join } from "node:path";
import { Client } from "./client.mjs";
import { BenchLedger } from "./ledgers.mjs";
import { median, timed } from "./measuring.mjs";
import { started } from "./server.mjs";
import { BEGINS, DAY, HOUR, UNIT } from "./story.mjs";
import { wardStory } from "./ward-story.mjs";

const LONGEST = 90;
const ORDINARY = 10;
/** Nine hours into a day shift. */
const NOW = BEGINS + LONGEST * DAY + 9 * HOUR;
const BEDS = 40;
const BOUND = 200;
/** Twice the beds may take this much longer. */
const LINEAR = 2.3;
const SHIFTS = { over: `${dateOf(LONGEST - 1)}/night`, running: `${dateOf(LONGEST)}/day` };

/** @param {{ quick: boolean, directory: string }} asked */
export async function audit({ quick, directory }) {
  const path = join(directory, "wards.db");
  const sizes = quick ? [20, BEDS] : [10, 20, BEDS, 2 * BEDS];
  const token = await fill(path, sizes);
  const first = {};
  for (const shift of Object.keys(SHIFTS)) {
    first[shift] = await oncePerServer(path, token, quick ? 1 : 3, (client) =>
      timed(() => ask(client, BEDS, shift)),
    );
  }
  const server = await started({ kind: "ledger", path, standsAt: NOW });
  const client = new Client({ port: server.port, token });
  const times = {};
  for (const beds of sizes) {
    for (const shift of Object.keys(SHIFTS))
      times[`${shift} ${beds}`] = await warm(client, beds, shift, quick ? 5 : 15);
  }
  const once = await onceEach(client);
  client.close();
  await server.stop();
  return [
    ...once,
    ...Object.keys(SHIFTS).flatMap((shift) => told(shift, median(first[shift]), times[`${shift} ${BEDS}`])),
    ...Object.keys(SHIFTS).map((shift) => growth(shift, sizes, times)),
  ];
}

const SAID = { over: "a shift that is over", running: "the running shift" };

function told(shift, first, { changed, unchanged, volumes }) {
  const ratio = (milliseconds) => `${(milliseconds / volumes).toFixed(2)} × the volumes of every bed`;
  const row = (state, milliseconds, bound) => ({
    what: `GET audit of ${SAID[shift]}, ${BEDS} beds, one of ${LONGEST} days, ${state}`,
    measured: `${milliseconds.toFixed(0)} ms, ${ratio(milliseconds)}`,
    bound: bound === null ? "" : `< ${bound} ms`,
    holds: bound === null ? null : milliseconds < bound,
  });
  return [
    row("the first after a restart", first, null),
    row("one charted since", changed, BOUND),
    row("nobody charted since", unchanged, BOUND),
  ];
}

/** How much longer twice the beds take, at the largest sizes there are. */
function growth(shift, sizes, times) {
  const [half, whole] = sizes.slice(-2);
  const of = (beds) => times[`${shift} ${beds}`].changed;
  const ratio = of(whole) / of(half);
  const all = sizes.map((beds) => `${of(beds).toFixed(0)} ms`).join(", ");
  return {
    what: `GET audit of ${SAID[shift]}, one charted since, ${whole} beds against ${half}`,
    measured: `${ratio.toFixed(2)} × (${sizes.join(", ")} beds: ${all})`,
    bound: `≤ ${LINEAR} ×`,
    holds: ratio <= LINEAR,
  };
}

async function warm(client, beds, shift, rounds) {
  const [changed, unchanged, volumes] = [[], [], []];
  for (let round = -2; round < rounds; round++) {
    // Another patient each time, the one of 90 days among them.
    await client.post(`/v1/encounters/ward-${beds}-${((round + 2) * 3) % beds}/entries`, {
      entries: [DRANK],
    });
    const since = await timed(() => ask(client, beds, shift));
    const again = await timed(() => ask(client, beds, shift));
    const each = await timed(async () => {
      for (let bed = 0; bed < beds; bed++) await client.volumes(`ward-${beds}-${bed}`, SHIFTS[shift]);
    });
    if (round < 0) continue;
    changed.push(since);
    unchanged.push(again);
    volumes.push(each);
  }
  return { changed: median(changed), unchanged: median(unchanged), volumes: median(volumes) };
}

/** Of what was not asked before: other shifts, the latest first; and moments of the past, each another. */
async function onceEach(client) {
  const audit = (query) => timed(() => client.get(`/v1/units/ward-${BEDS}/audit?${query}`));
  const [others, earlier] = [[], []];
  for (let day = LONGEST - 1; day > LONGEST - 4; day--) {
    for (const shift of ["night", "day"]) {
      if (`${dateOf(day)}/${shift}` !== SHIFTS.over)
        others.push(await audit(`shift=${dateOf(day)}/${shift}`));
    }
  }
  for (let hour = 1; hour <= 5; hour++) {
    const asOf = new Date(NOW - hour * HOUR).toISOString();
    earlier.push(await audit(`shift=${SHIFTS.running}&asOf=${asOf}`));
  }
  const row = (state, times) => ({
    what: `GET audit of ${BEDS} beds, one of ${LONGEST} days, ${state}`,
    measured: `${median(times).toFixed(0)} ms (${times.map((one) => one.toFixed(0)).join(", ")})`,
    bound: `< ${BOUND} ms`,
    holds: median(times) < BOUND,
  });
  return [
    row("of each of the five shifts before, asked for the first time", others),
    row("of the running shift, as of 1 to 5 hours before", earlier),
  ];
}

const DRANK = { kind: "intake-measured", at: new Date(NOW).toISOString(), category: "oral", volume: 20 };

/** What is asked of a server that has answered for a small ward and never for this one. */
async function oncePerServer(path, token, rounds, run) {
  const times = [];
  for (let round = 0; round < rounds; round++) {
    const server = await started({ kind: "ledger", path, standsAt: NOW });
    const client = new Client({ port: server.port, token });
    for (let i = 0; i < 3; i++) for (const shift of Object.keys(SHIFTS)) await ask(client, "warm", shift);
    times.push(await run(client));
    client.close();
    await server.stop();
  }
  return times;
}

async function ask(client, beds, shift) {
  const { encounters } = JSON.parse(await client.get(`/v1/units/ward-${beds}/audit?shift=${SHIFTS[shift]}`));
  if (beds !== "warm" && encounters.length !== beds) throw new Error(`${encounters.length} of ${beds} beds`);
}

async function fill(path, sizes) {
  const ledger = await BenchLedger.open(path, BEGINS);
  for (const beds of ["warm", ...sizes]) {
    const unit = `ward-${beds}`;
    ledger.now = BEGINS;
    await ledger.openUnit({ ...UNIT, id: unit, name: unit });
    const count = beds === "warm" ? 4 : beds;
    for (let bed = 0; bed < count; bed++) {
      const days = bed === 0 && beds !== "warm" ? LONGEST : 1 + (bed % ORDINARY);
      await tell(ledger, `${unit}-${bed}`, unit, BEGINS + (LONGEST - days) * DAY);
    }
  }
  const token = await ledger.token("charge-nurse");
  await ledger.close();
  return token;
}

async function tell(ledger, stay, unit, begins) {
  ledger.now = begins;
  await ledger.admit(stay, begins, unit);
  for (const { recordedAt, entries } of wardStory({ begins, ends: NOW })) {
    if (recordedAt > NOW) return;
    ledger.now = recordedAt;
    await ledger.post(stay, entries);
  }
}

function dateOf(day) {
  return new Date(BEGINS + day * DAY - 5 * HOUR).toISOString().slice(0, 10);
}
