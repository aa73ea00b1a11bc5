/**
 * Published flow problems against the running app: each is charted as a nurse would chart it, and the
 * answer read where she would read it. Ids and sources are those of the list of check values; what is
 * pure arithmetic of a dose or a drip rate also stands in tests/infusion/flow-check-values.test.ts.
 */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Patient, type Totals, type Volumes, type Ward, ward } from "./ward.js";

const NOW = "2026-03-05T06:00:00Z";
const at = (clock: string) => `2026-03-04T${clock}:00Z`;

let here: Ward;
let patients = 0;
beforeAll(async () => {
  here = await ward(NOW);
});
afterAll(() => here.close());

async function patient(weight?: { value: number; unit: string }): Promise<Patient> {
  return here.admit(`check-${++patients}`, at("05:00"), weight);
}

interface Set {
  readonly rateStep?: number;
  readonly dropFactor?: number;
  readonly additives?: readonly object[];
  readonly volume?: number;
}

/** A line, a channel and a bag at 06:00. */
function set({ rateStep, dropFactor, additives, volume = 1000 }: Set = {}): object[] {
  const type = dropFactor === undefined ? "pump" : "gravity";
  const extra = { ...(rateStep && { rateStep }), ...(dropFactor && { dropFactor }) };
  return [
    { kind: "line-placed", at: at("06:00"), line: "forearm", route: "intravenous" },
    {
      kind: "channel-connected",
      at: at("06:00"),
      channel: "pump-1",
      line: "forearm",
      type,
      totals: "none",
      ...extra,
    },
    {
      kind: "bag-hung",
      at: at("06:00"),
      channel: "pump-1",
      bag: "bag-1",
      volume,
      fluid: { name: "Check fluid", category: "iv-fluid" },
      ...(additives && { additives }),
    },
  ];
}

const start = (clock: string, how: object) => ({
  kind: "flow-started",
  at: at(clock),
  channel: "pump-1",
  ...how,
});

async function flowAt(who: Patient, clock: string) {
  const totals = await who.ask<Totals>(`totals?at=${at(clock)}`);
  return totals.channels[0]!.flow!;
}

async function deliveredBetween(who: Patient, from: string, to: string): Promise<number> {
  const volumes = await who.ask<Volumes>(`volumes?by=whole&per=bag&precision=0.001&from=${from}&to=${to}`);
  return volumes.total;
}

async function rateOf(
  how: object,
  what: Set = {},
  weight?: { value: number; unit: string },
): Promise<number> {
  const who = await patient(weight);
  await who.chart(...set(what), start("07:00", how));
  return (await flowAt(who, "07:00")).rate;
}

const units = (amount: number) => [{ name: "Heparin", amount, unit: "[iU]" }];
const grams = (amount: number) => [{ name: "Drug", amount, unit: "mg" }];

describe("how long a bag lasts", () => {
  it.each([
    [
      "IV-1",
      500,
      75,
      "07:00",
      "2026-03-04T13:40:00+00:00",
      "published (Open RN Nursing Skills, 5.16, example 1)",
    ],
    ["IV-2", 1000, 125, "14:00", "2026-03-04T22:00:00+00:00", "published (learnmath.org, IV infusion time)"],
    ["IV-8", 750, 60, "07:00", "2026-03-04T19:30:00+00:00", "published (slideplayer 1399705)"],
    ["CP-1", 1000, 80, "07:00", "2026-03-04T19:30:00+00:00", "common practice"],
  ])("%s: %d mL at %d mL/h from %s is empty at %s: %s", async (_id, volume, rate, clock, empty) => {
    const who = await patient();
    await who.chart(...set({ volume }), start(clock, { rate }));
    const flow = await flowAt(who, clock);
    expect(flow.emptyAt).toBe(empty);
    expect(flow.endsAt).toBe(empty);
  });
});

describe("how much is in", () => {
  it("IV-4: 1,000 mL over 8 h from 08:00 has given 500 at 12:00: published (questionai worked solution)", async () => {
    const who = await patient();
    await who.chart(...set(), start("08:00", { over: "PT8H" }));
    expect(await deliveredBetween(who, at("08:00"), at("12:00"))).toBe(500);
  });

  it("IV-5: 1,000 mL at 125 mL/h after 3 h: 375 in, 625 left, 5 h to go: published (nursing.convergentmath.com module 5, example 8)", async () => {
    const who = await patient();
    await who.chart(...set(), start("07:00", { rate: 125 }));
    expect(await deliveredBetween(who, at("07:00"), at("10:00"))).toBe(375);
    const flow = await flowAt(who, "10:00");
    expect([flow.left, flow.emptyAt]).toEqual([625, "2026-03-04T15:00:00+00:00"]);
  });

  it("IV-6: the same with 600 left at 4 h needs 150 mL/h, 25 drops a minute at 10 drops/mL: published (sample calculations, adjusting flow rate, scribd 427634727)", async () => {
    const who = await patient();
    await who.chart(...set({ dropFactor: 10, rateStep: 1 }), start("07:00", { rate: 125 }));
    await who.chart(start("11:00", { over: "PT4H", volumeToInfuse: 600 }));
    const flow = await flowAt(who, "11:00");
    expect([flow.rate, flow.dripRate]).toEqual([150, 25]);
  });

  it("IV-8: 45 mL/h for 7 h is 315 mL: published (slideplayer 1399705)", async () => {
    const who = await patient();
    await who.chart(...set(), start("07:00", { rate: 45 }));
    expect(await deliveredBetween(who, at("07:00"), at("14:00"))).toBe(315);
  });

  it("a keep-open flow of 20 mL/h over 12 h is 240 mL: derived (rates in use: AVATAR FAQ; Doyle, JAVA 2021;26(2):13)", async () => {
    const who = await patient();
    await who.chart(...set(), start("07:00", { rate: 100, volumeToInfuse: 100, keepOpenRate: 20 }));
    expect(await deliveredBetween(who, at("08:00"), at("20:00"))).toBe(240);
  });
});

describe("a volume over a time", () => {
  it.each([
    ["IV-10", 100, "PT30M", 200, "published (convergentmath example 3)"],
    ["IV-10", 250, "PT90M", 167, "published (convergentmath example 4)"],
    ["IV-10", 250, "PT3H", 83, "published (convergentmath example 5)"],
    ["IV-12", 100, "PT45M", 133, "published (scribd 8717995, item 6)"],
    ["IV-12", 50, "PT10M", 300, "published (scribd 8717995, item 7)"],
    ["IV-12", 75, "PT45M", 100, "published (scribd 8717995, item 8)"],
    ["IV-12", 50, "PT30M", 100, "published (scribd 8717995, item 9)"],
    ["IV-12", 30, "PT15M", 120, "published (scribd 8717995, item 10)"],
    ["IV-13", 2000, "PT12H", 167, "published (scribd 8717995, examples)"],
  ])(
    "%s: %d mL over %s is %d mL/h on a pump that takes whole mL/h: %s",
    async (_id, volumeToInfuse, over, rate) => {
      expect(await rateOf({ over, volumeToInfuse }, { rateStep: 1, volume: 2000 })).toBe(rate);
    },
  );
});

describe("drops per minute of a gravity set", () => {
  it.each([
    ["IV-13", 3000, "PT24H", 15, 31, "published (scribd 8717995, examples)"],
    ["IV-13", 50, "PT30M", 60, 100, "published (scribd 8717995, examples)"],
    ["IV-13", 2000, "PT12H", 20, 56, "published (scribd 8717995, examples)"],
    ["IV-15", 750, "PT5H", 20, 50, "published (slideplayer 1399705)"],
    ["IV-15", 1200, "PT6H", 15, 50, "published (studylib 25912294)"],
  ])(
    "%s: %d mL over %s at %d drops/mL is counted as %d: %s",
    async (_id, volume, over, dropFactor, drops) => {
      const who = await patient();
      await who.chart(...set({ dropFactor, volume }), start("07:00", { over }));
      expect((await flowAt(who, "07:00")).dripRate).toBe(drops);
    },
  );

  it("IV-15: 125 mL/h at 10 drops/mL is counted as 21: published (slideplayer 3845174)", async () => {
    const who = await patient();
    await who.chart(...set({ dropFactor: 10 }), start("07:00", { rate: 125 }));
    expect((await flowAt(who, "07:00")).dripRate).toBe(21);
  });

  it("750 mL in 6 h at 15 drops/mL is 31.25, and not the 112.5 that is printed: published, and contradicting its own inputs (pharmacytutor.com problem set)", async () => {
    const who = await patient();
    await who.chart(...set({ dropFactor: 15, volume: 750 }), start("07:00", { over: "PT6H" }));
    const flow = await flowAt(who, "07:00");
    expect([flow.rate, flow.dripRate]).toEqual([125, 31]);
  });
});

describe("a dose becomes a rate", () => {
  const heparin = (volume: number, amount: number): Set => ({ volume, additives: units(amount) });

  it("IV-18: 850 units/h of 25,000 units in 500 mL is 17 mL/h: published (slideplayer 3845140)", async () => {
    expect(await rateOf({ dose: { value: 850, unit: "units/h" } }, heparin(500, 25_000))).toBe(17);
  });

  it("IV-19: 600 units/h of 12,000 units in 250 mL is 12.5 mL/h: published (studylib 8466170 Q1)", async () => {
    expect(await rateOf({ dose: { value: 600, unit: "[iU]/h" } }, heparin(250, 12_000))).toBe(12.5);
  });

  it("IV-19: 1,800 units/h at 100 units/mL is 18 mL/h: published (Calculate with Confidence 6e, ch. 23, 15)", async () => {
    expect(await rateOf({ dose: { value: 1_800, unit: "[iU]/h" } }, heparin(250, 25_000))).toBe(18);
  });

  it("IV-21: 5 mcg/kg/min for 176 lb of 800 mg in 500 mL is 15 mL/h: published (OpenStax Pharmacology for Nurses, 2.5, dimensional analysis example 3)", async () => {
    const dose = { value: 5, unit: "mcg/kg/min" };
    const what = { volume: 500, additives: grams(800), rateStep: 1 };
    expect(await rateOf({ dose }, what, { value: 176, unit: "lb" })).toBe(15);
  });

  it("IV-24: 5 mcg/min of 50 mg in 250 mL is 1.5 mL/h: published (osmosis.org, 4 March 2024)", async () => {
    const dose = { value: 5, unit: "mcg/min" };
    expect(await rateOf({ dose }, { volume: 250, additives: grams(50) })).toBe(1.5);
  });

  it("CP-4: 7 units/kg/h for 70 kg of 25,000 units in 250 mL is 4.9 mL/h: common practice", async () => {
    const dose = { value: 7, unit: "[iU]/kg/h" };
    expect(await rateOf({ dose }, heparin(250, 25_000), { value: 70, unit: "kg" })).toBe(4.9);
  });
});

describe("a bolus by dose", () => {
  const twentyPerKilogram = { value: 20, unit: "[iU]/kg" };
  const bolus = async (how: object) => {
    const who = await patient({ value: 70, unit: "kg" });
    await who.chart(...set({ volume: 250, additives: units(25_000) }));
    const given = {
      kind: "bolus-started",
      at: at("07:00"),
      channel: "pump-1",
      dose: twentyPerKilogram,
      ...how,
    };
    const { entries } = await who.chart(given);
    return { who, frozen: entries[0]!.recorded.frozen!, flow: await flowAt(who, "07:00") };
  };

  it("CP-2: 20 units/kg for 70 kg of 25,000 units in 250 mL over 2 min is 14 mL at 420 mL/h: common practice", async () => {
    const { who, frozen, flow } = await bolus({ over: "PT2M" });
    expect([frozen.volume, frozen.rate]).toEqual([14, 420]);
    expect(flow.endsAt).toBe("2026-03-04T07:02:00+00:00");
    expect(await deliveredBetween(who, at("07:00"), at("08:00"))).toBe(14);
  });

  it("CP-3: the same at 1,200 mL/h takes 42 s: common practice", async () => {
    const { flow } = await bolus({ rate: 1_200 });
    expect(flow.endsAt).toBe("2026-03-04T07:00:42+00:00");
  });
});

describe("pushes", () => {
  it("IV-27: 0.5 mg at 0.25 mg/mL and 60 mg at 20 mg/2 mL are 2 and 6 mL of the intake: published (OpenStax, 2.5); charted by their volumes", async () => {
    const who = await patient();
    const push = (clock: string, volume: number) => ({
      kind: "intake-measured",
      at: at(clock),
      category: "iv-push",
      volume,
    });
    await who.chart(push("08:10", 2), push("09:20", 6));
    const volumes = await who.ask<Volumes>("volumes?by=hour&per=category&shift=2026-03-04/day");
    expect(volumes.rows.map(({ key }) => key)).toEqual(["iv-push"]);
    expect(volumes.sums.slice(0, 4)).toEqual([0, 2, 6, 0]);
  });
});

describe("what is shown adds up", () => {
  it("500 mL over 24 h in whole mL per hour is 500 for the day, not 24 times a rounded hour: derived (a pitfall of rounding each hour alone)", async () => {
    const who = await here.admit("whole-day", "2026-03-03T06:00:00Z");
    const entries = set({ volume: 500, rateStep: 0.001 }).map((entry) => ({
      ...entry,
      at: "2026-03-03T06:30:00Z",
    }));
    await who.chart(...entries, { ...start("07:00", { rate: 20.834 }), at: "2026-03-03T07:00:00Z" });
    const ask = (by: string) => who.ask<Volumes>(`volumes?by=${by}&precision=1&day=2026-03-03`);
    const hours = (await ask("hour")).sums.reduce<number>((sum, volume) => sum + (volume ?? 0), 0);
    expect([hours, (await ask("day")).total]).toEqual([500, 500]);
  });
});
