/** What was charted in another place than its own: another row, both shifts, the wrong sign; and a row that is half in the totals. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, infused, item, passed, reconciled } from "./ward.js";

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
