/** Names that people wrote: which mean the same thing, which one of them is taken for another, and which is neither. */

import { describe, expect, test } from "vitest";
import { lettersWrong } from "../../../src/balance/charts/names.js";
import { charted, difference, first, item, reconciled } from "./ward.js";

describe("two names", () => {
  test.each([
    ["Ringers lactate", "Ringer's lactate", 0],
    ["RINGER’S-LACTATE", "Ringer's lactate", 0],
    ["orangejuice", "Orange juice", 0],
    ["Sodium chloride 0,9 %", "sodium chloride 0.9 %", 0],
    ["Cofee", "Coffee", 1],
    ["Cofefe", "Coffee", 1],
    ["Ringer lactate", "Ringer's lactate", 1],
  ])("%s is %s, with so many letters wrong: %i", (written, meant, wrong) => {
    expect(lettersWrong(written, meant)).toBe(wrong);
  });

  test.each([
    ["Tea", "Pea"],
    ["Glucose 5 %", "Glucose 10 %"],
    ["Sodium chloride 0.9 %", "Sodium chloride 09 %"],
    ["Feed A", "Feed B"],
    ["Milk", "Milk pudding"],
  ])("%s is not %s", (written, meant) => {
    expect(lettersWrong(written, meant)).toBeNull();
  });
});

describe("a row of a chart", () => {
  const hour = "09:00-10:00";
  const lactate = item(hour, "Ringer's lactate", 120);

  test("is taken for what it nearly names, and matches by that", () => {
    const { matches, notCharted } = reconciled([lactate], [charted({ item: "Ringers lactate" }, hour, 120)]);
    expect(matches).toMatchObject([{ row: { item: "Ringers lactate" }, takenFor: "Ringer's lactate" }]);
    expect(notCharted).toEqual([]);
  });

  test("is not taken for one that has a row of its own", () => {
    const rows = [
      charted({ item: "Ringers lactate" }, hour, 50),
      charted({ item: "Ringer's lactate" }, hour, 120),
    ];
    expect(difference([lactate], rows).sentence).toContain(
      "No such item was in use in this time: Ringers lactate.",
    );
  });

  test("is taken for neither of two that are as near", () => {
    const ledger = [item(hour, "Juice red", 100), item(hour, "Juice rad", 50)];
    const found = difference(ledger, [charted({ item: "juice rod" }, hour, 100)]);
    expect(found.takenFor).toBeNull();
  });
});

describe("a row of a name that is not in use", () => {
  const day = "07:00-19:00";
  const drinks = [
    item(day, "Ice chips", 30, { clock: "08:00", whole: 60_000 }),
    item(day, "Juice", 120, { clock: "09:00" }),
    item(day, "Water", 150, { clock: "10:00" }),
  ];
  const firstOfOral = (volume: number) => {
    const rows = [charted({ item: "Orange juice" }, day, 120), charted({ category: "oral" }, day, volume)];
    const { differences } = reconciled(drinks, rows);
    return first(differences.find(({ row }) => "category" in row)!);
  };

  test("takes nothing away from one slip that fits elsewhere", () => {
    expect(firstOfOral(330)).toEqual(["ice-whole Ice chips 30"]);
  });

  test("may be where something went, which is as good as that it was left out", () => {
    expect(firstOfOral(180).sort()).toEqual(["left-out Juice -120", "other-row Juice -120"]);
  });
});
