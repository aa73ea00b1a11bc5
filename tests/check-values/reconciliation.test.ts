/**
 * A published day of intake and output whose own answer contradicts itself, charted through the API and
 * reconciled with what its reader is told. Source: Fundamentals question bank, question 12
 * (members.simplenursing.com): the option says 2,115 and 1,850; the explanation prints 1,775, without the tea
 * and mis-added. That coffee, juice and tea are equal candidates from the total alone is derived: each is 240 mL.
 */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { first, type Patient, type Ward, ward } from "./ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;
const DAY = { start: at("07:00"), end: at("17:00") };

const took = (clock: string, item: string, count: number, name = "ounce") => ({
  id: item,
  kind: "intake-measured",
  at: at(clock),
  category: "oral",
  item,
  measure: { name, count },
});
const passed = (clock: string, category: string, more: object) => ({
  id: `${category}-${clock.replace(":", "")}`,
  kind: "output-measured",
  at: at(clock),
  category,
  ...more,
});
const ounces = (clock: string, count: number) =>
  passed(clock, "urine", { measure: { name: "ounce", count } });
const pump = { channel: "pump-1", at: at("07:00") };

let here: Ward;
let patient: Patient;
beforeAll(async () => {
  here = await ward("2026-03-05T07:00:00Z");
  patient = await here.admit("io-3", at("06:00"));
  await patient.chart(
    { kind: "line-placed", at: at("07:00"), line: "forearm", route: "intravenous" },
    { kind: "channel-connected", ...pump, line: "forearm", type: "pump", totals: "none" },
    {
      kind: "bag-hung",
      ...pump,
      bag: "litre",
      volume: 1_000,
      fluid: { name: "Check fluid", category: "iv-fluid" },
    },
    { id: "start", kind: "flow-started", ...pump, rate: 75 },
    { kind: "flow-stopped", at: at("17:00"), channel: "pump-1" },
    took("08:00", "coffee", 8),
    took("09:00", "gelatin", 3, "teaspoon"),
    took("10:00", "ice", 30),
    { id: "juice", kind: "intake-measured", at: at("11:00"), category: "oral", item: "juice", volume: 240 },
    took("12:00", "tea", 8),
    took("13:00", "cola", 6),
    ounces("10:30", 12),
    ounces("11:30", 18),
    ounces("12:30", 5),
    passed("15:00", "emesis", { volume: 800 }),
  );
});
afterAll(() => here.close());

const charted = (row: object, volume: number | null) => ({ row, ...DAY, volume });
const SUMS = [charted({ sum: "intake" }, 1_775), charted({ sum: "output" }, 1_850)];
const ROWS = [
  charted({ line: "forearm" }, 750),
  charted({ item: "Coffee" }, 240),
  charted({ item: "Gelatin" }, 15),
  charted({ item: "Ice" }, 450),
  charted({ item: "Juice" }, 240),
  charted({ item: "Cola" }, 180),
];

describe("IO-3: the explanation dropped the tea and mis-added", () => {
  it("with its item rows as the chart: the tea was left out, and what stands above 1,775 comes to 1,875", async () => {
    const { matches, differences, notCharted } = await patient.reconcile({ figures: [...ROWS, ...SUMS] });
    expect(matches.map(({ row }) => row)).toEqual([...ROWS.map(({ row }) => row), { sum: "output" }]);
    expect(differences).toMatchObject([
      { row: { sum: "intake" }, charted: 1_775, ledger: 2_115, difference: -340, severity: "attention" },
    ]);
    expect(first(differences[0]!)).toEqual(["left-out tea -240 + addition-slip -100"]);
    const [explanation] = differences[0]!.explanations;
    expect(explanation).toMatchObject({ remaining: 0, tied: false });
    expect(explanation!.sentence).toContain("240 mL of tea at 12:00");
    expect(explanation!.together[0]!.sentence).toContain("what stands above it comes to 1875 mL");
    expect(notCharted).toMatchObject([{ row: { item: "tea" }, ledger: 240, entries: ["tea"] }]);
  });

  it("with its row for the tea left empty", async () => {
    const figures = [...ROWS, charted({ item: "Tea" }, null), ...SUMS];
    const { differences } = await patient.reconcile({ figures });
    expect(differences.map(first)).toEqual([["left-out tea -240 + addition-slip -100"]]);
  });

  it("with only its total: coffee, juice and tea are equal, each with the slip, and none is named alone", async () => {
    const { differences, matches } = await patient.reconcile({ figures: SUMS });
    expect(matches).toMatchObject([{ row: { sum: "output" }, ledger: 1_850 }]);
    expect(differences.map((one) => first(one).sort())).toEqual([
      [
        "left-out coffee -240 + addition-slip -100",
        "left-out juice -240 + addition-slip -100",
        "left-out tea -240 + addition-slip -100",
      ],
    ]);
    for (const { place, tied } of differences[0]!.explanations) expect(tied).toBe(place === 1);
  });
});
