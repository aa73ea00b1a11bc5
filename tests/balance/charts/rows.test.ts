/** What was charted in another place than its own: another row, both shifts, the wrong sign; and a row that is half in the totals. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, infused, item, mL, passed, reconciled } from "./ward.js";

const NINE = "09:00-10:00";
const DAY = "07:00-19:00";
const NIGHT = "19:00-31:00";
const oral = { category: "oral" };
const ivFluid = { category: "iv-fluid" };
const intake = { sum: "intake" } as const;
const net = { sum: "net" } as const;

describe("in another row of the same side", () => {
  const tea = item(NINE, "tea", 180, { clock: "09:10" });
  const soup = item(NINE, "soup", 230, { clock: "09:40" });
  const saline = infused(NINE, "litre", 75);
  const ledger = [tea, soup, saline];

  test("tea under the infusions explains both rows, and is to be moved", () => {
    const { differences } = reconciled(ledger, [charted(oral, NINE, 230), charted(ivFluid, NINE, 255)]);
    expect(differences.map(first)).toEqual([["other-row tea -180"], ["other-row tea 180"]]);
    expect(differences[1]!.explanations[0]!.sentence).toContain(
      "belongs under oral and seems to be charted under iv fluid: move it",
    );
  });

  test("nothing is moved into a row that matches", () => {
    const found = difference(ledger, [charted(oral, NINE, 230), charted(ivFluid, NINE, 75)]);
    expect(first(found)).toEqual(["left-out tea -180"]);
  });
});

describe("a net with its sign turned", () => {
  const ledger = [item(DAY, "tea", 180), item(DAY, "soup", 240), passed(DAY, "void", 900)];

  test("above what was added up", () => {
    const chart = [charted(intake, DAY, 420), charted({ sum: "output" }, DAY, 900), charted(net, DAY, 480)];
    expect(first(difference(ledger, chart))).toEqual(["sign-turned 960"]);
  });

  test("by itself", () => {
    const found = difference(ledger, [charted(net, DAY, 480)]);
    expect(first(found)).toEqual(["sign-turned tea soup void 960"]);
    expect(found.explanations[0]!.sentence).toContain("comes to -480 mL");
  });

  test("is not supposed of other digits", () => {
    const found = difference(ledger, [charted(net, DAY, 503)]);
    expect(found.explanations.map(({ kind }) => kind)).not.toContain("sign-turned");
  });
});

test("charted by both shifts at their border: once too often in the shift it does not belong to", () => {
  const ledger = [
    passed(DAY, "void", 310, { clock: "12:00" }),
    passed(DAY, "last void", 260, { clock: "19:00" }),
    passed(NIGHT, "night void", 400, { clock: "23:00" }),
  ];
  const urine = { category: "urine" };
  const found = difference(ledger, [charted(urine, DAY, 570), charted(urine, NIGHT, 660)]);
  expect(first(found)).toEqual(["counted-twice last void 260"]);
  expect(found.explanations[0]!.sentence).toContain(
    "belongs to 07:00 to 19:00 and seems to be charted in 19:00 to 07:00 as well",
  );
});

describe("a row of which the unit has part in no total", () => {
  const cells = { category: "blood-product" };
  const ledger = [
    item(DAY, "first unit", 280, cells),
    item(DAY, "second unit", 320, { ...cells, apart: true }),
    item(DAY, "tea", 200),
  ];

  test.each([600, 280, 320])("matches as the balance has it, or all together: %s", (volume) => {
    expect(reconciled(ledger, [charted(cells, DAY, volume)]).differences).toEqual([]);
  });

  test("adds to a sum what counts in it", () => {
    const rows = [charted(cells, DAY, 600), charted(oral, DAY, 200)];
    expect(reconciled(ledger, [...rows, charted(intake, DAY, 480)]).differences).toEqual([]);
    const found = difference(ledger, [...rows, charted(intake, DAY, 580)]);
    expect(first(found)).toEqual(["addition-slip 100"]);
  });
});

describe("a name on both sides of the balance", () => {
  const tube = { line: null, item: "tube" };
  const ledger = [
    item(NINE, "feed", 120, { category: "enteral-feed", ...tube }),
    passed(NINE, "aspirate", 300, { category: "gastric", site: "tube" }),
  ];
  const row = { item: "tube" };

  test.each([120, 300])("is one of them, and the other is not charted: %s", (volume) => {
    const { differences, notCharted } = reconciled(ledger, [charted(row, NINE, volume)]);
    expect(differences).toEqual([]);
    expect(notCharted.map((one) => one.ledger)).toEqual([mL(420 - volume)]);
  });

  test("is what it is nearer to, and says so", () => {
    const found = difference(ledger, [charted(row, NINE, 330)]);
    expect(found.difference).toBe(mL(30));
    expect(found.sentence).toContain("The name is on both sides of the balance; this was taken for output.");
  });
});

describe("what the ledger does not know", () => {
  const saline = infused(NINE, "litre", 40);
  const unknown = infused(NINE, "litre", 0, { entries: [] });
  const doubts = [{ item: unknown, certainty: { more: true, less: false } }];
  const told = (volume: number) =>
    reconciled([saline], [charted(ivFluid, NINE, volume)], doubts).differences[0]!;

  test("may be what the chart has more, and is named without being claimed", () => {
    const found = told(72);
    expect(first(found)).toEqual(["not-known litre 32"]);
    expect(found.explanations[0]).toMatchObject({ hedged: true, remaining: 0 });
    expect(found.explanations[0]!.sentence).toContain(
      "does not know all of iv fluid from litre on pump-1, 09:00 to 10:00: the 32 mL more may be that",
    );
    expect(found.sentence).not.toContain("in the ledger explains this");
  });

  test("stands after a slip that fits", () => {
    expect(told(80).explanations.map(({ kind, place }) => [kind, place])).toEqual([
      ["counted-twice", 1],
      ["not-known", 2],
    ]);
  });

  test("explains nothing that is missing", () => {
    expect(told(17).explanations).toEqual([]);
  });
});

describe("a habit", () => {
  const flushes = ["09:00-10:00", "10:00-11:00", "11:00-12:00"].map((hour, i) =>
    item(hour, `flush ${i}`, 20 + i, { category: "iv-flush", carrier: true, line: i === 1 ? "port" : "arm" }),
  );
  const chart = (left: number) =>
    flushes.map(({ start, end, volume }, i) => ({
      row: { line: i === 1 ? "port" : "arm" },
      start,
      end,
      volume: i < left ? 0 : volume,
    }));

  test("every flush left out, on either line, is said once", () => {
    const { habits } = reconciled(flushes, chart(3));
    expect(habits).toMatchObject([
      { kind: "carrier-left-out", entries: ["flush 0", "flush 2", "flush 1"], figures: 3 },
    ]);
    expect(habits[0]!.sentence).toContain("(line arm and line port, 09:00 to 12:00)");
  });

  test("two are none", () => {
    expect(reconciled(flushes, chart(2)).habits).toEqual([]);
  });
});

test("two bags of one channel are told apart by name", () => {
  const bags = [infused(NINE, "first", 60), infused(NINE, "second", 60)];
  const found = difference(bags, [charted(ivFluid, NINE, 60)]);
  expect(found.explanations.slice(0, 2).map(({ sentence }) => sentence.slice(0, 42))).toEqual([
    "60 mL of iv fluid from first on pump-1, 09",
    "60 mL of iv fluid from second on pump-1, 0",
  ]);
});

test("names are offered by the words they share", () => {
  const ledger = ["Tea", "Juice of apple and pear", "Soup"].map((name) => item(NINE, name, 100));
  const found = difference(ledger, [charted({ item: "apple juice" }, NINE, 300)]);
  expect(found.sentence).toContain("The ledger has Juice of apple and pear, Tea and Soup.");
});
