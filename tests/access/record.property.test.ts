/**
 * Whatever anybody asks for, in whatever order: no request changes what was recorded before it, every answer can
 * be had again as of its moment, and the record is sound. Requests are told over HTTP by every role, of the
 * patient's unit and of another, most of them in earnest, many of them refused; and each story ends with one of every
 * kind by who may.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ROLES } from "../../src/access/roles.js";
import { rowsOf, verifyBundle } from "../../src/ledger/bundle.js";
import { verify } from "../../src/ledger/verify.js";
import type { Row } from "../../src/store/store.js";
import { MINUTE } from "../../src/time/instant.js";
import { BEGINS, iso, requestOf } from "../ledger/deeds.js";
import type { Json } from "../ledger/stay.js";
import { type Deed, story } from "../ledger/story.js";
import { Ward } from "../rest/ward.js";
import { breakOff, CLOSING, type Step } from "./closing.js";
import { notTheirs, unitAt } from "./whose.js";

const LONG = Number(process.env.LONG_PROPERTIES ?? 0);
const PATIENCE = 240_000 * (LONG > 0 ? 10 * LONG : 1);
const runs = (few: number) => (LONG > 0 ? { numRuns: few * 10 * LONG } : { numRuns: few, seed: 20_260_307 });

const STAY = "/v1/encounters/stay-1";

/** What is done about the figures, beside charting: each by whoever may, or may not. */
type Act = "sign" | "acknowledge" | "keep a chart" | "reconcile" | "another bed" | "in an emergency";

interface Request {
  readonly as: string;
  readonly does: Deed | { readonly act: Act; readonly later: number; readonly which: number };
}

const callers = fc.oneof(
  { weight: 5, arbitrary: fc.constantFrom("nurse", "charge-nurse", "nurse@east") },
  {
    weight: 2,
    arbitrary: fc.constantFrom(...ROLES.flatMap((role) => [role, `${role}@west`, `${role}@east`])),
  },
);
const acts = fc.record({
  act: fc.constantFrom<Act>(
    "sign",
    "sign",
    "acknowledge",
    "keep a chart",
    "reconcile",
    "another bed",
    "in an emergency",
  ),
  later: fc.integer({ min: 1, max: 600 }),
  which: fc.nat({ max: 20 }),
});

/** A story of a stay with what is done about it in between, each request by somebody. */
const requests: fc.Arbitrary<readonly Request[]> = fc
  .record({
    deeds: story(8),
    acts: fc.array(acts, { minLength: 4, maxLength: 8 }),
    as: fc.array(callers, { minLength: 20, maxLength: 20 }),
    places: fc.array(fc.nat(), { minLength: 8, maxLength: 8 }),
  })
  .map(({ deeds, acts, as, places }) => {
    const told: Request["does"][] = [...deeds];
    for (const [i, act] of acts.entries()) told.splice(places[i]! % (told.length + 1), 0, act);
    return told.map((does, i) => ({ as: as[i]!, does }));
  });

/** A patient in the unit east whose pump runs, and another unit. */
async function begun(): Promise<Ward> {
  const ward = await Ward.open({ keep: true });
  ward.itIs(iso(BEGINS));
  const told = [
    { kind: "line-placed", line: "forearm", label: "Forearm", route: "intravenous" },
    { kind: "channel-connected", channel: "pump-1", line: "forearm", type: "pump", rateStep: 0.1 },
    {
      kind: "bag-hung",
      channel: "pump-1",
      bag: "bag-0",
      role: "primary",
      volume: 500,
      fluid: { name: "Fluid 0", category: "iv-medication" },
    },
    { kind: "flow-started", channel: "pump-1", rate: 50 },
  ];
  const entries = told.map((entry, i) => ({ ...entry, id: `first-${i}`, at: iso(BEGINS) }));
  await ward.done("POST", `${STAY}/entries`, { body: { entries } });
  return ward;
}

/** The unit the patient is in. */
async function unitNow(ward: Ward): Promise<string> {
  return unitAt(byChain(ward.rows())["encounter/stay-1"]!, ward.now);
}

/** One of the requests that end every story; undefined where there is nothing to do it to. */
async function close(ward: Ward, step: Step, as: string): Promise<number | undefined> {
  ward.itIs(iso(ward.now + step.later * MINUTE));
  const asked = await step.asks(ward, await unitNow(ward));
  if (asked === undefined) return undefined;
  const { method, path, body, brokenOff } = asked;
  if (brokenOff) {
    await breakOff(ward, as, path);
    return 200;
  }
  const answer = await ward.ask(method, path, { as, body });
  return answer.status;
}

/** Who a caller is to the naive judge; undefined for one of every unit. */
function ofOneUnit(as: string, emergencies: ReadonlyMap<string, number>, now: number) {
  const [, unit] = as.split("@");
  const inEmergency = now < (emergencies.get(as) ?? 0);
  return unit === undefined ? undefined : { id: as, unit, inEmergency };
}

async function answered(ward: Ward, path: string): Promise<Json> {
  return (await ward.done("GET", `${STAY}${path}`, { as: "charge-nurse" })).body;
}

/** What is recorded, as deeds are told by it. */
function recordOf(ward: Ward) {
  return {
    now: ward.now,
    entries: async () => (await answered(ward, "/entries?limit=1000")).entries,
    entry: (id: string) => answered(ward, `/entries/${id}`),
  };
}

/** Sends one request; what comes of it is for the record to show. */
async function send(ward: Ward, { as, does }: Request, number: number): Promise<number> {
  ward.itIs(iso(ward.now + does.later * MINUTE));
  const past = (minutes: number) => iso(ward.now - minutes * MINUTE);
  const ask = async (method: string, path: string, body?: unknown) =>
    (await ward.ask(method, path, { as, body })).status;
  if ("act" in does) {
    const asked = await actOf(ward, does, number);
    return asked === undefined ? 204 : ask("POST" in asked ? "POST" : "PATCH", asked.path, asked.body);
  }
  switch (does.deed) {
    case "move":
      return ask("PATCH", STAY, { move: { unit: does.unit, at: past(does.ago) } });
    case "discharge":
      return ask("PATCH", STAY, { discharge: { at: past(does.ago) } });
    case "stay after all":
      return ask("PATCH", STAY, { dischargedAt: null });
    case "settle":
      return ask("PATCH", `/v1/units/${does.unit}`, {
        effectiveFrom: past(does.ago),
        settings: does.settings,
      });
    default: {
      const { entries } = (await requestOf(recordOf(ward), does, number))!;
      return ask("POST", `${STAY}/entries?queued=true`, { entries });
    }
  }
}

interface Asked {
  readonly POST?: true;
  readonly path: string;
  readonly body: unknown;
}

/** The request that an act is now; undefined where there is nothing to do it to. */
async function actOf(
  ward: Ward,
  { act, which }: { readonly act: Act; readonly which: number },
  number: number,
): Promise<Asked | undefined> {
  const figure = { row: { category: "oral" }, volume: which * 10 };
  const span = { from: iso(ward.now - 120 * MINUTE), to: iso(ward.now - 60 * MINUTE) };
  const figures = [{ ...figure, start: span.from, end: span.to }];
  switch (act) {
    case "sign": {
      const name = await shiftNow(ward, which);
      const { toSign } = await answered(ward, `/shifts/${name}`);
      if (toSign === null) return undefined;
      const body = { digest: toSign.digest, to: toSign.to, remark: "Looked at." };
      return { POST: true, path: `${STAY}/shifts/${name}/signature`, body };
    }
    case "acknowledge": {
      const { findings } = await answered(ward, "/findings?state=open");
      const one = findings[which % findings.length];
      if (one === undefined) return undefined;
      const path = `${STAY}/findings/${encodeURIComponent(one.id)}/acknowledgement`;
      return { POST: true, path, body: { reason: "Seen at the bedside." } };
    }
    case "keep a chart":
      return { POST: true, path: `${STAY}/charts`, body: { id: `sheet-${number}`, figures } };
    case "reconcile":
      return { POST: true, path: `${STAY}/reconciliation`, body: { figures } };
    case "another bed":
      return { path: STAY, body: { bed: String(which + 1) } };
    case "in an emergency":
      return { POST: true, path: `${STAY}/emergency-access`, body: { reason: "Arrest." } };
  }
}

/** A shift that has begun, the last or one before it. */
async function shiftNow(ward: Ward, which: number): Promise<string> {
  const { shifts } = await answered(ward, "");
  const { date, name } = shifts[Math.max(0, shifts.length - 1 - (which % 3))];
  return `${date}/${name}`;
}

/** What somebody may have looked at: a day by the hour, the balance by shifts, totals, findings, the shift. */
async function seen(ward: Ward, shift: string, now: number, coordinates = ""): Promise<Json> {
  const day = `from=${iso(now - 24 * 60 * MINUTE)}&to=${iso(now + 60 * MINUTE)}`;
  const stay = `from=${iso(BEGINS - 60 * MINUTE)}&to=${iso(now + 24 * 60 * MINUTE)}`;
  return {
    hours: await answered(ward, `/volumes?${day}&per=bag&${coordinates}`),
    balance: await answered(ward, `/balance?${stay}&by=shift&${coordinates}`),
    totals: await answered(ward, `/totals?${coordinates}`),
    findings: await answered(ward, `/findings?state=all&${coordinates}`),
    shift: await answered(ward, `/shifts/${shift}?${coordinates}`),
    entries: await answered(ward, `/entries?limit=1000&${coordinates}`),
  };
}

/** The rows of each chain by themselves. */
function byChain(rows: readonly Row[]): Readonly<Record<string, Row[]>> {
  const chains: Record<string, Row[]> = {};
  for (const row of rows) {
    const chain = chains[row.chain];
    if (chain === undefined) chains[row.chain] = [row];
    else chain.push(row);
  }
  return chains;
}

describe("any sequence of requests by any roles", () => {
  it(
    "changes no row that was there, lets every answer be had again, and leaves a sound record",
    async () => {
      await fc.assert(
        fc.asyncProperty(requests, async (asked) => {
          const ward = await begun();
          try {
            const kept: { sequence: number; now: number; shift: string; saw: Json }[] = [];
            const emergencies = new Map<string, number>();
            let before = byChain(ward.rows());
            /** Does one thing, and looks at what became of the record and what can be seen of it. */
            const does = async (as: string, what: object, doing: () => Promise<number | undefined>) => {
              const status = (await doing()) ?? 204;
              const told = JSON.stringify({ as, what, status });
              expect(status, told).toBeLessThan(500);
              const after = byChain(ward.rows());
              for (const [chain, rows] of Object.entries(before)) {
                expect(after[chain]?.slice(0, rows.length), chain).toEqual(rows);
              }
              const caller = ofOneUnit(as, emergencies, ward.now);
              const chain = "encounter/stay-1";
              const wrong = caller && notTheirs(before[chain]!, after[chain]!, caller, ward.now);
              expect(wrong ?? [], told).toEqual([]);
              before = after;
              const shift = await shiftNow(ward, 0);
              const saw = await seen(ward, shift, ward.now);
              kept.push({ sequence: saw.hours.asOf.sequence, now: ward.now, shift, saw });
              return status;
            };
            for (const [i, one] of asked.entries()) {
              const status = await does(one.as, one.does, () => send(ward, one, i));
              const stated = "act" in one.does && one.does.act === "in an emergency" && status === 201;
              if (stated) emergencies.set(one.as, ward.now + 4 * 60 * MINUTE);
            }
            const taken: string[] = [];
            for (const step of CLOSING) {
              const as = step.as(await unitNow(ward));
              if (step.name === "in an emergency") emergencies.set(as, ward.now + 4 * 60 * MINUTE);
              const status = await does(as, { closing: step.name }, () => close(ward, step, as));
              if (step.refused ? status === 403 : status < 300) taken.push(step.name);
            }
            // What had nothing to be done to counts as done: only a refusal would show that something is amiss.
            const names = CLOSING.map(({ name }) => name).filter((name) => name !== "stay after all");
            expect(taken.filter((name) => name !== "stay after all")).toEqual(names);
            const { accesses } = (
              await ward.done("GET", `${STAY}/accesses?limit=1000`, { as: "charge-nurse" })
            ).body;
            const broken = accesses.filter(({ by }: { by: { id: string } }) => by.id === "integration");
            const exported = "GET /v1/encounters/{encounter}/export";
            expect(broken.map(({ route }: { route: string }) => route)).toContain(exported);
            ward.itIs(iso(ward.now + 30 * 60 * MINUTE));
            for (const { sequence, now, shift, saw } of kept) {
              const moment = `asOf=${sequence}&until=${iso(now)}`;
              expect(await seen(ward, shift, now, moment)).toEqual(saw);
            }
            expect(verify(ward.rows())).toMatchObject({ sound: true });
            await exportedWhole(ward);
          } finally {
            await ward.close();
          }
        }),
        runs(5),
      );
    },
    PATIENCE,
  );
});

/** What is exported is every row of the stay, and verified for itself. */
async function exportedWhole(ward: Ward): Promise<void> {
  const { text } = await ward.done("GET", `${STAY}/export`, { as: "charge-nurse" });
  const rows = byChain(ward.rows())["encounter/stay-1"]!;
  expect([...rowsOf("encounter/stay-1", JSON.parse(text).entries)]).toEqual(rows);
  const counted = { sound: true, encounters: 1, entries: rows.length, unheld: 0 };
  expect(verifyBundle(text, rows.at(-1)!.digest)).toEqual(counted);
}
