/** Totals: what follows from the figures in them, and what was added up wrong. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, item, passed, reconciled } from "./ward.js";

const EIGHT = "08:00-09:00";
const NINE = "09:00-10:00";
const BOTH = "08:00-10:00";
const oral = { category: "oral" };
const urine = { category: "urine" };

const ledger = [item(EIGHT, "tea", 180), item(NINE, "soup", 230), passed(EIGHT, "void", 310)];
interface Charted {
  readonly tea?: number;
  readonly total?: number;
  readonly intake?: number;
  readonly net?: number;
}

/** Added up as it stands, but for what is given. */
function chart({ tea = 180, ...given }: Charted) {
  const total = given.total ?? tea + 230;
  const intake = given.intake ?? total;
  return [
    charted(oral, EIGHT, tea),
    charted(oral, NINE, 230),
    charted(oral, BOTH, total),
    charted(urine, BOTH, 310),
    charted({ sum: "intake" }, BOTH, intake),
    charted({ sum: "output" }, BOTH, 310),
    charted({ sum: "net" }, BOTH, given.net ?? intake - 310),
  ];
}

describe("a total that follows", () => {
  test("matches where everything in it does", () => {
    const { matches, differences } = reconciled(ledger, chart({}));
    expect([matches.length, differences.length]).toEqual([7, 0]);
  });

  test("is explained by the cell that differs, and not again", () => {
    const { differences } = reconciled(ledger, chart({ tea: 0 }));
    expect(differences.map(({ row }) => row)).toEqual([oral, oral, { sum: "intake" }, { sum: "net" }]);
    const [cell, ...totals] = differences;
    expect(first(cell!)).toEqual(["left-out tea -180"]);
    for (const { explanations, follows, sentence } of totals) {
      expect(explanations).toEqual([]);
      expect(follows).toEqual([{ row: oral, start: cell!.start, end: cell!.end }]);
      expect(sentence).toContain("It follows from oral, 08:00 to 09:00");
      expect(sentence).not.toContain("Nothing in the ledger");
    }
  });
});

describe("a total that does not come to what stands above it", () => {
  test("is added up wrong, by exactly that much", () => {
    const { differences } = reconciled(ledger, chart({ total: 510, intake: 410 }));
    expect(differences.map(first)).toEqual([["addition-slip 100"]]);
    expect(differences[0]!.explanations[0]!.sentence).toContain("comes to 410 mL");
  });

  test("names the figure that was passed over", () => {
    const found = difference(ledger, chart({ total: 230, intake: 410 }));
    expect(first(found)).toEqual(["addition-slip -180"]);
    expect(found.explanations[0]!.sentence).toContain("perhaps without oral");
  });

  test("or was copied with two digits swapped", () => {
    const found = difference(ledger, chart({ intake: 140, net: 100 }));
    expect(first(found)).toContain("transposed-digits -270");
  });

  test("beside a cell that differs, only what the addition is off by is explained", () => {
    // 0 + 230 charted as 330: 180 less by the tea, 100 more by the addition.
    const { differences } = reconciled(ledger, chart({ tea: 0, total: 330, intake: 330 }));
    const total = differences[1]!;
    expect(total.difference).toBe(-80_000);
    expect(first(total)).toEqual(["addition-slip 100"]);
    expect(total.follows).toHaveLength(1);
  });

  test("is not asked why, beside a cell that differs, it is off by less than would be a difference", () => {
    // 0 + 230 charted as 239: nine more by the addition, which nobody would look for without the tea.
    const { differences } = reconciled(ledger, chart({ tea: 0, total: 239, intake: 239, net: -71 }));
    const [cell, total] = differences;
    expect(first(cell!)).toEqual(["left-out tea -180"]);
    expect(total!.explanations).toEqual([]);
    expect(total!.sentence).not.toContain("Nothing in the ledger");
  });

  test("a net is intake less output as charted", () => {
    const found = difference(ledger, chart({ net: 720 }));
    expect(found.row).toEqual({ sum: "net" });
    expect(found.explanations[0]!.kind).toBe("addition-slip");
    // 410 − 310 = 100; 720 is 410 + 310.
    expect(found.explanations[0]!.accountsFor).toBe(620_000);
  });
});

test("a figure left empty and a row that is missing are not charted, and no difference", () => {
  const { differences, notCharted } = reconciled(ledger, [
    charted(oral, EIGHT, null),
    charted(oral, NINE, 230),
  ]);
  expect(differences).toEqual([]);
  expect(notCharted.map(({ row, ledger }) => [row, ledger])).toEqual([
    [oral, 180_000],
    [urine, 310_000],
  ]);
});
