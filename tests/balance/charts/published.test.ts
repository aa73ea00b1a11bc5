/** Published days of intake and output, with the answers their readers usually get wrong. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, infused, item, passed, reconciled, told } from "./ward.js";

describe("IO-3: the published explanation dropped the tea and mis-added (Fundamentals question bank, question 12)", () => {
  const day = "07:00-17:00";
  // 10 h × 75 = 750; ounces of 30 mL, gelatin 3 × 5 mL, ice half of 900: 2,115 in all.
  const ledger = [
    infused(day, "saline", 750),
    item(day, "coffee", 240, { clock: "08:00" }),
    item(day, "gelatin", 15, { clock: "09:00" }),
    item(day, "ice", 450, { clock: "10:00", whole: 900_000 }),
    item(day, "juice", 240, { clock: "11:00" }),
    item(day, "tea", 240, { clock: "12:00" }),
    item(day, "cola", 180, { clock: "13:00" }),
    passed(day, "voids", 1_050),
    passed(day, "emesis", 800, { category: "emesis" }),
  ];
  const rows = [
    charted({ line: "forearm" }, day, 750),
    charted({ item: "coffee" }, day, 240),
    charted({ item: "gelatin" }, day, 15),
    charted({ item: "ice" }, day, 450),
    charted({ item: "juice" }, day, 240),
    charted({ item: "cola" }, day, 180),
  ];
  const sums = [charted({ sum: "intake" }, day, 1_775), charted({ sum: "output" }, day, 1_850)];

  test("with its rows: the tea was left out, and what stands above 1,775 comes to 1,875", () => {
    const found = difference(ledger, [...rows, ...sums]);
    expect(found.difference).toBe(-340_000);
    expect(first(found)).toEqual(["left-out tea -240 + addition-slip -100"]);
    expect(found.explanations[0]).toMatchObject({ remaining: 0, tied: false });
    expect(found.explanations[0]!.together[0]!.sentence).toContain("comes to 1875 mL");
  });

  test("no explanation stands twice", () => {
    const said = difference(ledger, [...rows, ...sums]).explanations.map(told);
    expect(said).toEqual([...new Set(said)]);
  });

  test("the tea has no row of its own", () => {
    expect(reconciled(ledger, [...rows, ...sums]).notCharted).toMatchObject([
      { row: { item: "tea" }, ledger: 240_000, entries: ["tea"] },
    ]);
  });

  test("a row for the tea that is left empty comes to the same", () => {
    const chart = [...rows, charted({ item: "tea" }, day, null), ...sums];
    expect(first(difference(ledger, chart))).toEqual(["left-out tea -240 + addition-slip -100"]);
    expect(reconciled(ledger, chart).notCharted).toMatchObject([{ row: { item: "tea" }, ledger: 240_000 }]);
  });

  test("from the total alone coffee, juice and tea are equal, each with the slip", () => {
    const found = difference(ledger, sums);
    expect(first(found).sort()).toEqual([
      "left-out coffee -240 + addition-slip -100",
      "left-out juice -240 + addition-slip -100",
      "left-out tea -240 + addition-slip -100",
    ]);
    expect(found.explanations.filter(({ place }) => place === 1).every(({ tied }) => tied)).toBe(true);
  });

  test("and from the total alone, with the infusion by the hour", () => {
    const hours = Array.from({ length: 10 }, (_, i) => {
      const clock = (hour: number) => `${String(hour).padStart(2, "0")}:00`;
      return infused(`${clock(7 + i)}-${clock(8 + i)}`, "saline", 75);
    });
    const found = difference([...hours, ...ledger.slice(1)], sums);
    expect(first(found)).toHaveLength(3);
    expect(first(found)).toContain("left-out tea -240 + addition-slip -100");
  });
});

describe("IO-1: ice counted whole is the usual wrong answer (nursing examination item, allnurses.com 1153879)", () => {
  const shift = "07:00-15:00";
  const ledger = [
    infused(shift, "bag", 350),
    item(shift, "ice", 240, { whole: 480_000, clock: "10:00" }),
    ...["09:00", "12:00", "15:00"].flatMap((clock) => [
      item(shift, `feed ${clock}`, 200, { category: "enteral-feed", clock }),
      item(shift, `water ${clock}`, 50, { category: "enteral-water", clock }),
    ]),
  ];

  test("1,580 for 1,340", () => {
    const found = difference(ledger, [charted({ sum: "intake" }, shift, 1_580)]);
    expect(first(found)).toEqual(["ice-whole ice 240"]);
  });
});

describe("IO-5: what does not belong to the evening shift (allnurses.com 735008, problem 2; derived)", () => {
  const shift = "15:00-23:00";
  const ledger = [
    infused(shift, "maintenance", 200),
    infused(shift, "nutrition", 400, { category: "parenteral-nutrition", channel: "pump-2" }),
    infused(shift, "lipids", 30, { category: "parenteral-nutrition", channel: "pump-3", label: 120_000 }),
    item(shift, "feed", 200, { category: "enteral-feed" }),
    item(shift, "blood at 16:00", 250, { category: "blood-product", clock: "16:00" }),
    infused(shift, "piggyback at 20:00", 250, { category: "iv-medication", role: "secondary" }),
    item("07:00-15:00", "blood at 10:00", 250, { category: "blood-product", clock: "10:00" }),
    infused("07:00-15:00", "piggyback at 08:00", 250, { category: "iv-medication", role: "secondary" }),
  ];

  test("lipids for all twelve hours, 1,420 for 1,330", () => {
    const found = difference(ledger, [charted({ sum: "intake" }, shift, 1_420)]);
    expect(first(found)).toEqual(["bag-for-delivered lipids 90"]);
  });

  test("both units of blood, of which one was given in the shift before", () => {
    const found = difference(ledger, [charted({ category: "blood-product" }, shift, 500)]);
    expect(found.explanations.map(told)).toContain("neighbouring-interval blood at 10:00 250");
  });
});
