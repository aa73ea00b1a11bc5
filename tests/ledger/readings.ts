/**
 * Random stays in which people and devices read running totals off devices that count much as computed:
 * what each reading says is taken from what the ledger expects, a little or far off. Rates change, boluses
 * and secondaries come and go, bags on a gravity set are looked at, totals are cleared, much of it is
 * charted late, and some of it is corrected.
 */

import fc from "fast-check";
import { HOUR, MINUTE } from "../../src/time/instant.js";
import { iso } from "./deeds.js";
import { type Json, NURSE, PUMPS, Stay } from "./stay.js";
import { amend, type Told, void_ } from "./telling.js";

/** Friday 6 March 2026, 07:00 in Chicago. */
export const BEGINS = Date.parse("2026-03-06T07:00:00-06:00");

export type Moment =
  | { readonly does: "chart"; readonly ago: number; readonly told: Told }
  | {
      readonly does: "read";
      readonly ago: number;
      readonly channel: string;
      readonly total: string;
      readonly thousandths: number;
      readonly byDevice: boolean;
      readonly confirmed: boolean;
    }
  | { readonly does: "settle"; readonly which: number; readonly use: "reading" | "computed" }
  | { readonly does: "void"; readonly which: number }
  | { readonly does: "postpone"; readonly which: number; readonly minutes: number };

export type Visit = { readonly later: number; readonly moment: Moment };

const pump = fc.constantFrom("pump-1", "pump-2");
const rate = fc.constantFrom(20, 50, 75, 120, 83.3);
const volume = fc.integer({ min: 5, max: 100 });
const ago = fc.oneof(
  { weight: 5, arbitrary: fc.constant(0) },
  { weight: 3, arbitrary: fc.nat({ max: 90 }) },
  { weight: 1, arbitrary: fc.nat({ max: 20 * 60 }) },
);

/** What clears the totals of the first pump. */
const CLEARED_BY = ["therapy-change", "new-secondary"];

const told = (kind: string, more: Record<string, fc.Arbitrary<unknown>>) =>
  fc.record({ kind: fc.constant(kind), ...more }) as fc.Arbitrary<Told>;

const charting = fc.oneof(
  told("flow-started", { channel: pump, rate, volumeToInfuse: fc.constant("none") }),
  told("rate-changed", { channel: pump, rate }),
  told("flow-paused", { channel: pump }),
  told("flow-resumed", { channel: pump }),
  told("bolus-started", { channel: pump, rate: fc.constant(300), volume }),
  told("secondary-started", { channel: pump, rate: fc.constant(100), volumeToInfuse: volume }),
  told("bag-level-read", {
    bag: fc.constant("drip"),
    remaining: fc.integer({ min: 100, max: 1_000 }),
    method: fc.constant("scale"),
  }),
);

const clearing = fc.oneof(
  told("totals-reset", { channel: pump, totals: fc.constantFrom(["primary"], ["primary", "secondary"]) }),
  told("totals-reset", {
    ...{ channel: pump, totals: fc.constantFrom(["primary"], ["primary", "secondary"]) },
    // Found, and told by the minutes before in which it can have been.
    found: fc.integer({ min: 10, max: 300 }),
  }),
  told("therapy-changed", { channel: pump }),
  // Another device on the first pump, which is otherwise what it was declared to be.
  told("channel-connected", {
    ...{ channel: fc.constant("pump-1"), line: fc.constant("forearm"), type: fc.constant("pump") },
    ...{ totals: fc.constant("separate"), clearsOn: fc.constant(CLEARED_BY), rateStep: fc.constant(0.1) },
    device: fc.constantFrom("a", "b"),
  }),
  told("secondary-started", { channel: pump, rate: fc.constant(100), volumeToInfuse: volume }),
);

/** `clears` is how much of it clears totals, beside 21 parts of everything else. */
const momentOf = (clears: number): fc.Arbitrary<Moment> =>
  fc.oneof(
    {
      weight: clears,
      arbitrary: fc.record({ does: fc.constant("chart" as const), ago, told: clearing }),
    },
    {
      weight: 6,
      arbitrary: fc.record({ does: fc.constant("chart" as const), ago, told: charting }),
    },
    {
      weight: 9,
      arbitrary: fc.record({
        does: fc.constant("read" as const),
        ago,
        channel: pump,
        total: fc.constantFrom("primary", "primary", "secondary", "combined"),
        thousandths: fc.oneof(
          { weight: 6, arbitrary: fc.integer({ min: 955, max: 1_045 }) },
          { weight: 2, arbitrary: fc.constantFrom(400, 800, 1_200, 2_000) },
          { weight: 1, arbitrary: fc.constant(0) },
        ),
        byDevice: fc.boolean(),
        confirmed: fc.boolean(),
      }),
    },
    {
      weight: 2,
      arbitrary: fc.record({
        does: fc.constant("settle" as const),
        which: fc.nat(),
        use: fc.constantFrom<"reading" | "computed">("reading", "computed"),
      }),
    },
    { weight: 2, arbitrary: fc.record({ does: fc.constant("void" as const), which: fc.nat() }) },
    {
      weight: 2,
      arbitrary: fc.record({
        does: fc.constant("postpone" as const),
        which: fc.nat(),
        minutes: fc.integer({ min: -60, max: 60 }),
      }),
    },
  );

/** Visits at the bedside over a day or two. */
export const visits = (most: number, clears = 2): fc.Arbitrary<readonly Visit[]> =>
  fc.array(
    fc.record({
      later: fc.oneof(fc.integer({ min: 1, max: 120 }), fc.integer({ min: 1, max: 14 * 60 })),
      moment: momentOf(clears),
    }),
    { minLength: 3, maxLength: most },
  );

/** Two pumps and a gravity set that run from 07:00. */
export async function bedside(): Promise<Stay> {
  const stay = await Stay.begun({
    unit: { settings: { precision: 0.1 } },
    encounter: { admittedAt: iso(BEGINS) },
    now: iso(BEGINS),
  });
  const at = iso(BEGINS);
  const fluid = { name: "Sodium chloride 0.9 %", category: "iv-fluid" };
  const line = { kind: "line-placed", at, line: "forearm", label: "Forearm", route: "intravenous" };
  const on = (channel: string, type: string, totals: string, clearsOn: string[]): Told => ({
    ...{ kind: "channel-connected", at, line: "forearm", rateStep: 0.1 },
    ...{ channel, type, totals, clearsOn },
  });
  const hung = (channel: string, bag: string, volume: number): Told => ({
    ...{ kind: "bag-hung", at, fluid },
    ...{ channel, bag, volume },
  });
  const start = (channel: string): Told => ({
    ...{ kind: "flow-started", at, rate: 50, volumeToInfuse: "none" },
    channel,
  });
  await stay.post([
    line,
    { ...on("pump-1", "pump", "separate", CLEARED_BY), device: "a" },
    on("pump-2", "pump", "combined", ["therapy-change"]),
    on("set-1", "gravity", "none", []),
    hung("pump-1", "saline-1", 5_000),
    hung("pump-2", "saline-2", 900),
    hung("set-1", "drip", 1_000),
    ...["pump-1", "pump-2", "set-1"].map(start),
  ]);
  return stay;
}

/** Pays a visit: what comes of it is recorded, by somebody who is not asked. */
export async function pay(stay: Stay, { later, moment }: Visit, number: number): Promise<void> {
  stay.itIs(stay.now + later * MINUTE);
  const told = await toldBy(stay, moment, `v-${number}`);
  const byDevice = moment.does === "read" && moment.byDevice;
  if (told !== undefined) await stay.send([told], { as: byDevice ? PUMPS : NURSE });
}

/** What a moment has to tell now; nothing where there is nothing yet to correct or settle. */
export async function toldBy(stay: Stay, moment: Moment, id: string): Promise<Told | undefined> {
  const past = (minutes: number) => Math.max(BEGINS, stay.now - minutes * MINUTE);
  switch (moment.does) {
    case "chart":
      return charted(id, past(moment.ago), moment.told);
    case "read": {
      const { channel, total, thousandths, confirmed } = moment;
      const at = iso(past(moment.ago));
      const volume = Math.round((await expectedOf(stay, channel, total, at)) * thousandths) / 1_000;
      const reading = { id, kind: "total-read", at, channel, total, volume };
      return confirmed ? { ...reading, confirmed } : reading;
    }
    case "settle": {
      const readings = (await stay.entries()).filter(({ kind }) => kind === "total-read");
      const reading = readings[moment.which % Math.max(1, readings.length)]?.id;
      const settled = { kind: "variance-settled", at: iso(stay.now), reading, use: moment.use };
      return reading === undefined ? undefined : { id, ...settled, reason: "Looked at again." };
    }
    case "void":
    case "postpone":
      return correcting(stay, moment, id);
  }
}

function charted(id: string, at: number, { found, ...told }: Told): Told {
  if (found === undefined) return { id, at: iso(at), ...told };
  const since = Math.max(BEGINS + MINUTE, at - (found as number) * MINUTE);
  return { id, at: iso(at), ...told, between: [iso(Math.min(since, at)), iso(at)] };
}

async function correcting(
  stay: Stay,
  moment: Extract<Moment, { does: "void" | "postpone" }>,
  id: string,
): Promise<Told | undefined> {
  const entries = (await stay.entries()).filter(isCharted);
  const target = entries[moment.which % Math.max(1, entries.length)];
  if (target === undefined) return undefined;
  if (moment.does === "void") return void_(target.id, { id });
  const { id: _id, recorded: _recorded, ...fact } = target;
  const at = Math.min(stay.now, Math.max(BEGINS, Date.parse(fact.at) + moment.minutes * MINUTE));
  return amend(target.id, { ...fact, at: iso(at) }, { id });
}

/** What a total is expected to show, in mL; of totals kept apart, what they show together. */
export async function expectedOf(stay: Stay, channel: string, total: string, at: string): Promise<number> {
  const { channels } = await stay.totals({ at });
  const totals: Json[] = channels.find((one: Json) => one.channel === channel)?.totals ?? [];
  const own = totals.find((one) => one.total === total);
  return own === undefined ? totals.reduce((sum, { expected }) => sum + expected, 0) : own.expected;
}

/** What was charted at the bedside after the beginning, and is no correction. */
function isCharted({ id, kind }: Json): boolean {
  return /^v-\d/.test(id) && !["entry-amended", "entry-voided", "variance-settled"].includes(kind);
}

export { HOUR, MINUTE };
