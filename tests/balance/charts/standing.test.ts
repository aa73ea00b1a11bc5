/** What stands elsewhere than a chart has it: outside the hours, in no total, or in rows that another is the total of. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, item, passed, reconciled, told } from "./ward.js";

const DAY = "07:00-19:00";
const NINE = "09:00-10:00";
const TEN = "10:00-11:00";
const oral = { category: "oral" };
const intake = { sum: "intake" } as const;

describe("what stands outside the hours", () => {
  const standsIn = "the row for the time away (operating theatre)";
  const blood = item(DAY, "red cells", 300, { category: "blood-product", clock: "11:00", standsIn });
  const urine = passed(DAY, "theatre urine", 150, { clock: "11:30", standsIn });
  const here = [item(DAY, "tea", 200), passed(DAY, "void", 440)];

  test("is named where it is charted in them, and where it stands is said", () => {
    const chart = [
      charted(oral, DAY, 200),
      charted({ category: "blood-product" }, DAY, 300),
      charted({ category: "urine" }, DAY, 590),
    ];
    const { differences, notCharted } = reconciled([...here, blood, urine], chart);
    expect(differences.map(first)).toEqual([
      ["outside-hours red cells 300"],
      ["outside-hours theatre urine 150"],
    ]);
    for (const { sentence, explanations } of differences) {
      expect(sentence).not.toContain("in the ledger explains this");
      expect(explanations[0]!.sentence).toContain(standsIn);
      expect(explanations[0]!.sentence).not.toContain(": chart it");
    }
    expect(notCharted).toEqual([]);
  });

  test("is listed where the chart does not have it, and differs in nothing", () => {
    const chart = [charted(oral, DAY, 200), charted({ category: "urine" }, DAY, 440)];
    const { differences, notCharted } = reconciled([...here, blood, urine], chart);
    expect(differences).toEqual([]);
    expect(notCharted.map(({ entries, standsIn }) => [entries, standsIn])).toEqual([
      [["red cells"], standsIn],
      [["theatre urine"], standsIn],
    ]);
  });

  test("its name is known", () => {
    const { notInUse, matches } = reconciled([...here, blood], [charted({ item: "Red cells" }, DAY, 0)]);
    expect([notInUse.length, matches.length]).toEqual([0, 1]);
  });
});

describe("a figure of nothing", () => {
  const drinks = [180, 150, 200, 130, 120].map((volume) => item(DAY, `drink ${volume}`, volume));
  const all = drinks.flatMap(({ entries }) => entries).join(" ");

  test("is without everything in it", () => {
    expect(first(difference(drinks, [charted(oral, DAY, 0)]))).toEqual([`left-out ${all} -780`]);
  });

  test("nothing is explained by it where the ledger has nothing", () => {
    expect(reconciled(drinks, [charted({ category: "urine" }, DAY, 0)]).differences).toEqual([]);
  });

  test("a total of 0 over cells left empty is without all of them", () => {
    const ledger = [item(NINE, "tea", 180), item(TEN, "soup", 230)];
    const chart = [charted(oral, NINE, null), charted(oral, TEN, null), charted(oral, "09:00-11:00", 0)];
    const { differences } = reconciled(ledger, chart);
    expect(differences.map(first)).toEqual([["left-out tea soup -410"]]);
  });
});

describe("a category is the total of its items", () => {
  const ledger = ["juice", "soup", "tea", "milk", "water"].map((name, i) => item(DAY, name, 100 + 20 * i));
  const rows = (zero: readonly string[] = []) =>
    ledger.map(({ item: name, volume }) =>
      charted({ item: name! }, DAY, zero.includes(name!) ? 0 : volume / 1_000),
    );

  test("added up wrong where they are right", () => {
    const { differences } = reconciled(ledger, [...rows(), charted(oral, DAY, 800)]);
    expect(differences.map(first)).toEqual([["addition-slip 100"]]);
  });

  test("follows where they differ, and is not explained again", () => {
    const { differences } = reconciled(ledger, [...rows(["juice", "soup"]), charted(oral, DAY, 480)]);
    expect(differences.map(first)).toEqual([["left-out juice -100"], ["left-out soup -120"], []]);
    expect(differences[2]!.follows).toHaveLength(2);
    expect(differences[2]!.sentence).not.toContain("in the ledger explains this");
  });
});

describe("what the unit counts in no total", () => {
  const ledger = [
    item(DAY, "tea", 200),
    item(DAY, "red cells", 280, { category: "blood-product", apart: true }),
  ];

  test.each([280, 285])("added in, charted as %s, is no slip of addition", (blood) => {
    const chart = [
      charted(oral, DAY, 200),
      charted({ category: "blood-product" }, DAY, blood),
      charted(intake, DAY, 200 + blood),
    ];
    const found = difference(ledger, chart);
    expect(found.explanations.map(told)).toEqual([`not-in-totals red cells ${blood}`]);
    expect(found.explanations[0]!.sentence).toContain("the unit does not count it inside the total");
  });

  test("charted as nothing but the sum, it is named as well", () => {
    expect(first(difference(ledger, [charted(intake, DAY, 480)]))).toContain("not-in-totals red cells 280");
  });

  test("a sum that is wrong by something else is still added up wrong", () => {
    const chart = [charted(oral, DAY, 200), charted(intake, DAY, 300)];
    expect(first(difference(ledger, chart))).toEqual(["addition-slip 100"]);
  });
});
