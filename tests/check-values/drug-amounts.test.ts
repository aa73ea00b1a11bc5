/** What of a drug is in a delivered volume, as nursing references work out the rate for an amount, turned round. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Patient, type Ward, ward } from "./ward.js";

interface DrugAmounts {
  readonly rows: readonly {
    readonly name: string;
    readonly unit: string;
    readonly amounts: readonly (number | null)[];
    readonly exact: readonly (string | null)[];
    readonly certainty: readonly (string | null)[];
    readonly total: number;
    readonly totalExact: string;
    readonly volumes: readonly (number | null)[];
    readonly volume: number;
  }[];
}

const at = (clock: string) => `2026-03-04T${clock}:00Z`;
let here: Ward;
let patients = 0;
beforeAll(async () => {
  here = await ward("2026-03-05T06:00:00Z");
});
afterAll(() => here.close());

interface Additive {
  readonly name: string;
  readonly amount: number;
  readonly unit: string;
}

const on = (clock: string, kind: string, more: object) => ({
  kind,
  at: at(clock),
  channel: "pump-1",
  ...more,
});
const hang = (clock: string, bag: string, volume: number, ...additives: Additive[]) =>
  on(clock, "bag-hung", {
    bag,
    volume,
    fluid: { name: "Check fluid", category: "iv-medication" },
    additives,
  });

async function running(...told: object[]): Promise<Patient> {
  const patient = await here.admit(`drug-${++patients}`, at("05:00"));
  await patient.chart(
    { kind: "line-placed", at: at("06:00"), line: "forearm", route: "intravenous" },
    on("06:00", "channel-connected", { line: "forearm", type: "pump", totals: "none" }),
    ...told,
  );
  return patient;
}

const ask = (patient: Patient, query: string) =>
  patient.ask<DrugAmounts>(`drug-amounts?from=${at("07:00")}&to=${at("11:00")}&${query}`);

describe("an amount per interval", () => {
  it("IV-18 turned round: heparin 25,000 units/500 mL at 17 mL/h is 850 units/h. Published (slideplayer 3845140)", async () => {
    const heparin = { name: "Heparin", amount: 25_000, unit: "[iU]" };
    const patient = await running(
      hang("07:00", "a", 500, heparin),
      on("07:00", "flow-started", { rate: 17 }),
    );
    expect((await ask(patient, "by=hour")).rows).toMatchObject([
      {
        name: "Heparin",
        unit: "[iU]",
        amounts: [850, 850, 850, 850],
        exact: ["850", "850", "850", "850"],
        total: 3_400,
        volumes: [17, 17, 17, 17],
        volume: 68,
      },
    ]);
  });

  it("IV-24 turned round: 50 mg/250 mL at 1.5 mL/h is 0.3 mg/h, 5 mcg/min. Published (osmosis.org, 4 March 2024)", async () => {
    const drug = { name: "Nitroglycerin", amount: 50, unit: "mg" };
    const patient = await running(hang("07:00", "a", 250, drug), on("07:00", "flow-started", { rate: 1.5 }));
    const { rows } = await ask(patient, "by=whole");
    expect(rows).toMatchObject([{ amounts: [1.2], exact: ["6/5"], totalExact: "6/5" }]);
  });

  it("that no decimal holds stays exact, and its shown thirds add up to the whole", async () => {
    // 1 mg in 30 mL at 10 mL/h: a third of a milligram an hour, three hours a milligram.
    const drug = { name: "Thirds", amount: 1, unit: "mg" };
    const patient = await running(
      hang("07:00", "a", 30, drug),
      on("07:00", "flow-started", { rate: 10 }),
      on("10:00", "flow-stopped", {}),
    );
    const [row] = (await ask(patient, "by=hour")).rows;
    expect(row!.exact).toEqual(["1/3", "1/3", "1/3", "0"]);
    expect(row!.amounts).toEqual([0.333333, 0.333334, 0.333333, 0]);
    expect([row!.total, row!.totalExact]).toEqual([1, "1"]);
  });

  it("follows the bag that hangs: the same drug at two strengths is one row, another unit another", async () => {
    const patient = await running(
      hang("07:00", "weak", 100, { name: "Morphine", amount: 100, unit: "mg" }),
      on("07:00", "flow-started", { rate: 10 }),
      hang(
        "08:00",
        "strong",
        100,
        { name: "morphine ", amount: 200, unit: "mg" },
        { name: "Salt", amount: 9, unit: "g" },
      ),
    );
    const { rows } = await ask(patient, "by=hour");
    expect(rows.map(({ name, unit, amounts }) => [name, unit, ...amounts])).toEqual([
      ["Morphine", "mg", 10, 20, 20, 20],
      ["Salt", "g", 0, 0.9, 0.9, 0.9],
    ]);
  });

  it("is at least what is known where nobody knows what flowed, and counts nothing of a bag without additives", async () => {
    const patient = await running(
      hang("07:00", "plain", 100),
      on("07:00", "flow-started", { rate: 10 }),
      hang("08:00", "drug", 100, { name: "Morphine", amount: 100, unit: "mg" }),
      { kind: "away-started", at: at("09:00"), place: "Theatre", flows: "unknown" },
      { kind: "away-ended", at: at("10:00") },
    );
    const [row] = (await ask(patient, "by=hour")).rows;
    expect(row!.amounts).toEqual([0, 10, 0, 10]);
    expect(row!.certainty).toEqual(["exact", "exact", "at-least", "exact"]);
  });

  it("of a bag that was hung in an earlier shift is known in this one", async () => {
    const patient = await running(
      hang("06:00", "a", 500, { name: "Heparin", amount: 25_000, unit: "[iU]" }),
      on("06:00", "flow-started", { rate: 17 }),
    );
    expect((await ask(patient, "by=whole")).rows).toMatchObject([{ amounts: [3_400] }]);
  });
});
