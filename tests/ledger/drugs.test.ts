/**
 * What of a drug was delivered, by what happens to its bag: hung again, added to, emptied beyond its label, lost on
 * the way. Heparin is 25,000 units in 250 mL, 100 units per mL, unless said otherwise; everything is worked by hand.
 */

import { describe, expect, it } from "vitest";
import { done, type Json, Stay } from "./stay.js";
import { change, drank, hang, line, on, pump, start, type Told, when } from "./telling.js";

const HEPARIN = { name: "Heparin", amount: 25_000, unit: "units" };
const drug = (clock: string, more: Told = {}, bag = "drug") =>
  hang(clock, bag, 250, { fluid: { name: "Heparin", category: "iv-medication" }, ...more });
const made = (clock: string, more: Told = {}, bag = "drug") =>
  drug(clock, { additives: [HEPARIN], ...more }, bag);
const bag = (clock: string, kind: string, more: Told = {}): Told => {
  const { channel: _, ...told } = on(clock, kind, { bag: "drug", ...more });
  return told;
};
const down = (clock: string, more: Told = {}) => bag(clock, "bag-taken-down", more);
const added = (clock: string, volume: number) => bag(clock, "bag-adjusted", { volume, reason: "added" });
const lost = (volume: number | "unknown", clock = "08:30") =>
  on(clock, "delivery-lost", {
    from: "2026-03-04T08:00:00-06:00",
    to: "2026-03-04T08:30:00-06:00",
    volume,
    reason: "leaked",
  });

async function stayWith(...told: readonly Told[]): Promise<Stay> {
  const stay = await Stay.begun();
  await stay.post([line("06:30"), pump("06:30"), ...told]);
  return stay;
}

/** The drugs of a span of the day, by the hour. */
async function drugs(
  stay: Stay,
  from = "07:00",
  to = "11:00",
  by: "hour" | "whole" = "hour",
): Promise<Json[]> {
  const period = { from: when(from), to: when(to) };
  return (done(await stay.ledger.drugAmounts("stay-1", { period, by })) as Json).rows;
}

const only = async (stay: Stay, from?: string, to?: string): Promise<Json> => {
  const rows = await drugs(stay, from, to);
  expect(rows).toHaveLength(1);
  return rows[0];
};

describe("a bag that is hung again", () => {
  it("holds its additives still, though nobody says them again", async () => {
    const stay = await stayWith(
      made("07:00"),
      start("07:00", 10),
      down("08:00"),
      drug("09:00"),
      start("09:00", 10),
    );
    expect((await only(stay)).amounts).toEqual([1_000, 0, 1_000, 1_000]);
    expect((await only(stay)).certainty).toEqual(["exact", "exact", "exact", "exact"]);
  });

  it("gives a dose a rate as before: 500 units/h are 5 mL/h", async () => {
    const stay = await stayWith(made("07:00"), start("07:00", 10), down("08:00"), drug("09:00"));
    const dose = { value: 500, unit: "[iU]/h", of: "heparin" };
    const { kind, at, channel } = start("09:00", 1) as Record<string, string>;
    const { body } = await stay.post([{ kind, at, channel, dose }]);
    expect(body.entries[0].recorded.frozen).toMatchObject({
      rate: 5,
      concentration: { additive: "Heparin", amount: 25_000, unit: "units", in: 250 },
    });
  });

  it.each([
    ["remembers the stay", (stay: Stay) => stay],
    ["is opened anew", (stay: Stay) => stay.reopened()],
    ["has no checkpoints", (stay: Stay) => stay.withoutCheckpoints()],
  ])("holds them after days, to a ledger that %s", async (_what, as) => {
    let stay = await stayWith(made("07:00"), start("07:00", 10), added("07:30", 245), down("08:00"));
    for (const clock of ["4 20:00", "5 08:00", "5 20:00", "6 08:00", "6 20:00", "7 08:00"]) {
      await stay.itIs(clock).post([drank(clock, 10)]);
    }
    stay = await as(stay.itIs("7 18:00"));
    await stay.post([drug("7 12:00"), start("7 12:00", 10)]);
    for (const clock of ["7 20:00", "8 08:00"]) await stay.itIs(clock).post([drank(clock, 10)]);
    // By 07:30 500 units had gone; 24,500 are then in 490 mL, 50 units per mL.
    const [row] = await drugs(stay, "7 19:00", "7 20:00");
    expect(row).toMatchObject({ amounts: [500], certainty: ["at-least"] });
    // 100 mL an hour by what is charted late: 5,000 units had gone, and 20,000 are in 445 mL.
    await stay.post([change("4 07:00", 100)]);
    const [late] = await drugs(stay, "7 19:00", "7 20:00");
    expect(late.exact).toEqual(["40000/89"]);
  });

  it("says them where it hung without, from then on", async () => {
    const stay = await stayWith(drug("07:00"), start("07:00", 10), made("09:00"));
    expect((await only(stay)).amounts).toEqual([0, 0, 1_000, 1_000]);
  });
});

describe("what is added to a bag", () => {
  it("dilutes it, and may have held drug: the bag gives no more than went into it", async () => {
    const stay = await stayWith(made("07:00"), added("07:00", 250), start("07:00", 100), down("12:00"));
    const row = await only(stay, "07:00", "13:00");
    expect(row.amounts).toEqual([5_000, 5_000, 5_000, 5_000, 5_000, 0]);
    expect(row).toMatchObject({ total: 25_000, totalCertainty: "at-least", volume: 500 });
  });

  it("changes the concentration from its instant on, also of a dose", async () => {
    // By 08:30 150 mL are out; 10,000 units in 100 mL become 10,000 in 200.
    const stay = await stayWith(
      made("07:00"),
      start("07:00", 100, { volumeToInfuse: "none" }),
      added("08:30", 100),
    );
    const row = await only(stay, "07:00", "10:00");
    expect(row.amounts).toEqual([10_000, 7_500, 5_000]);
    expect(row.certainty).toEqual(["exact", "at-least", "at-least"]);
    const { kind, at, channel } = change("09:00", 1) as Record<string, string>;
    const { body } = await stay.post([{ kind, at, channel, dose: { value: 500, unit: "units/h" } }]);
    expect(body.entries[0].recorded.frozen).toMatchObject({ rate: 10, concentration: { in: 500 } });
  });

  it("to a bag that has given all of its drug holds none that is known", async () => {
    const stay = await stayWith(made("07:00"), start("07:00", 250), added("08:00", 100));
    const row = await only(stay, "07:00", "09:00");
    expect(row).toMatchObject({ amounts: [25_000, 0], certainty: ["exact", "at-least"] });
    const { kind, at, channel } = change("08:10", 1) as Record<string, string>;
    const dose = { value: 500, unit: "units/h" };
    expect(await stay.faults([{ kind, at, channel, dose }])).toEqual([
      "#/entries/0/dose dose-without-concentration",
    ]);
  });

  it("takes nothing from its strength where something is taken out", async () => {
    const primed = bag("07:00", "bag-adjusted", { volume: -50, reason: "primed" });
    const stay = await stayWith(made("07:00"), primed, start("07:00", 100));
    expect((await only(stay, "07:00", "08:00")).amounts).toEqual([10_000]);
  });
});

describe("beyond what was put into a bag", () => {
  it("the label's concentration goes on into the overfill, and is then the most it can have been", async () => {
    const stay = await stayWith(made("07:00"), start("07:00", 250, { volumeToInfuse: "none" }));
    const row = await only(stay, "07:00", "09:00");
    expect(row).toMatchObject({ amounts: [25_000, 2_500], certainty: ["exact", "uncertain"] });
    expect((await drugs(stay, "07:00", "08:06", "whole"))[0]).toMatchObject({
      total: 27_500,
      totalCertainty: "at-most",
    });
  });

  it("a level that finds more than was computed makes no more drug of it", async () => {
    // 200 mL are out at 09:00, so that 5,000 units are left, whatever the level says.
    const stay = await stayWith(
      made("07:00"),
      start("07:00", 100),
      down("09:00", { remaining: 150, method: "estimate" }),
      drug("09:00"),
      start("09:00", 50),
    );
    const row = await only(stay, "07:00", "12:00");
    expect(row.amounts).toEqual([10_000, 10_000, 5_000, 5_000, 5_000]);
    expect(row.certainty).toEqual(["exact", "exact", "exact", "at-most", "at-most"]);
  });

  it("as of a gravity set, its levels say what left, with its drug", async () => {
    const stay = await Stay.begun();
    const { rateStep: _, ...gravity } = pump("06:30", { type: "gravity", totals: "none", dropFactor: 20 });
    await stay.post([
      line("06:30"),
      gravity,
      made("07:00"),
      start("07:00", 60, { volumeToInfuse: "none" }),
      bag("09:00", "bag-level-read", { remaining: 150, method: "scale" }),
      bag("11:00", "bag-level-read", { remaining: 10, method: "scale" }),
    ]);
    expect(await only(stay)).toMatchObject({
      amounts: [5_000, 5_000, 7_000, 7_000],
      certainty: ["exact", "exact", "exact", "exact"],
    });
  });
});

describe("a loss", () => {
  it.each([10, "unknown"] as const)(
    "of %s leaves the amount as the most that reached the patient",
    async (volume) => {
      const stay = await stayWith(made("07:00"), start("07:00", 10), lost(volume));
      expect(await only(stay)).toMatchObject({
        amounts: [1_000, 1_000, 1_000, 1_000],
        certainty: ["exact", "at-most", "exact", "exact"],
        totalCertainty: "at-most",
        volume: 40,
      });
    },
  );

  it("is known of however late it is charted, and leaves alone what another channel gave, or none", async () => {
    const stay = await stayWith(made("07:00"), start("07:00", 10), lost(10, "13:00"));
    expect((await only(stay, "08:00", "09:00")).certainty).toEqual(["at-most"]);
    const other = await stayWith(made("07:00"), start("07:00", 10), lost(0), {
      ...lost(10),
      channel: "pump-2",
    });
    expect((await only(other)).totalCertainty).toBe("exact");
  });
});

describe("one drug", () => {
  it("is one row however its name and unit are spelled", async () => {
    const spelled = (name: string, unit: string, amount = 25_000) => ({
      additives: [{ name, amount, unit }],
    });
    const stay = await stayWith(
      drug("07:00", spelled("Heparin  sodium", "units"), "a"),
      start("07:00", 10),
      drug("08:00", spelled("heparin sodium", "[iU]"), "b"),
      drug("09:00", spelled("Fentanyl", "mcg", 2_500), "c"),
      drug("10:00", spelled("fentanyl", "ug", 2_500), "d"),
    );
    expect((await drugs(stay)).map(({ name, unit, amounts }) => [name, unit, ...amounts])).toEqual([
      ["Fentanyl", "ug", 0, 0, 100, 100],
      ["Heparin  sodium", "[iU]", 1_000, 1_000, 0, 0],
    ]);
  });
});

describe("what a reading adds that no flow can hold", () => {
  const read = (volume: number) => on("09:00", "total-read", { total: "primary", volume, confirmed: true });

  it("came from the one bag that hung, at its instant", async () => {
    const stay = await stayWith(made("07:00"), start("07:00", 10), read(50));
    const row = await only(stay, "07:00", "10:00");
    expect(row).toMatchObject({ amounts: [1_000, 4_000, 1_000], volumes: [10, 40, 10], volume: 60 });
  });

  it("leaves more to be known of either drug where two bags hung", async () => {
    const other = { additives: [{ name: "Fentanyl", amount: 250, unit: "ug" }] };
    const stay = await stayWith(made("07:00"), start("07:00", 10), drug("08:00", other, "other"), read(50));
    const rows = await drugs(stay, "07:00", "10:00");
    expect(rows.map(({ name, amounts, certainty }) => [name, amounts, certainty])).toEqual([
      ["Fentanyl", [0, 10, 10], ["exact", "at-least", "exact"]],
      ["Heparin", [1_000, 0, 0], ["exact", "at-least", "exact"]],
    ]);
  });
});
