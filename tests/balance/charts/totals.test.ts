/** Totals: what follows from the figures in them, and what was added up wrong. */

import { describe, expect, test } from "vitest";
import { at, charted, difference, first, infused, item, passed, reconciled, told } from "./ward.js";

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
      expect(sentence).not.toContain("in the ledger explains this");
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
    expect(total!.sentence).not.toContain("in the ledger explains this");
  });

  test("a net is intake less output as charted", () => {
    const found = difference(ledger, chart({ net: 720 }));
    expect(found.row).toEqual({ sum: "net" });
    expect(found.explanations[0]!.kind).toBe("addition-slip");
    // 410 − 310 = 100; 720 is 410 + 310.
    expect(found.explanations[0]!.accountsFor).toBe(620_000);
  });
});

describe("one sum added up wrong, while every cell matches", () => {
  const iv = { category: "iv-fluid" };
  const medication = { category: "iv-medication" };
  const hours = [EIGHT, NINE];
  // Each hour a secondary of 100 and 100 of the primary; before and after them 100 to drink.
  const patient = [
    ...hours.flatMap((hour) => [
      infused(hour, "saline", 100),
      infused(hour, "antibiotic", 100, { role: "secondary", category: "iv-medication" }),
    ]),
    item("07:00-08:00", "juice", 100, { clock: "08:00" }),
    item("10:00-11:00", "milk", 100, { clock: "10:00" }),
  ];
  const cells = hours.flatMap((hour) => [
    charted(iv, hour, 100),
    charted(medication, hour, 100),
    charted(oral, hour, 0),
  ]);
  const wrong = (volume: number) => difference(patient, [...cells, charted({ sum: "intake" }, BOTH, volume)]);

  test("is that and nothing that would show in a cell", () => {
    expect(wrong(500).explanations.map(told)).toEqual(["addition-slip 100"]);
  });

  test("does not say which of many equal addends it may have been", () => {
    expect(wrong(500).explanations[0]!.sentence).toBe(
      "total intake, 08:00 to 10:00 is charted as 500 mL; what stands above it comes to 400 mL, so it is added up " +
        "100 mL too high: add it up again.",
    );
  });

  test("names the addend with its interval, where it is one", () => {
    const own = [item(EIGHT, "tea", 180), item(NINE, "soup", 230)];
    const chart = [
      charted(oral, EIGHT, 180),
      charted(oral, NINE, 230),
      charted({ sum: "intake" }, BOTH, 590),
    ];
    expect(difference(own, chart).explanations[0]!.sentence).toContain(
      "perhaps with twice oral, 08:00 to 09:00: add it up again",
    );
  });
});

describe("a figure left empty", () => {
  const chart = (total: number) => [
    charted(oral, EIGHT, null),
    charted(oral, NINE, 230),
    charted(oral, BOTH, total),
    charted({ sum: "intake" }, BOTH, total),
    charted({ sum: "net" }, BOTH, total),
  ];
  const drunk = [item(EIGHT, "tea", 180), item(NINE, "soup", 230)];

  test("is said once, and the totals that go without it follow from it", () => {
    const { differences, notCharted } = reconciled(drunk, chart(230));
    expect(notCharted).toMatchObject([{ row: oral, ledger: 180_000, entries: ["tea"] }]);
    expect(differences).toHaveLength(3);
    for (const { explanations, follows, sentence } of differences) {
      expect(explanations).toEqual([]);
      expect(follows).toMatchObject([{ row: oral, start: at("08:00") }]);
      expect(sentence).toContain("It follows from oral, 08:00 to 09:00, which was left empty.");
      expect(sentence).not.toContain("in the ledger explains this");
    }
  });

  test("does not hide what else a total is off by", () => {
    const { differences } = reconciled(drunk, chart(330).slice(0, 3));
    expect(differences.map(first)).toEqual([["left-out tea -180 + addition-slip 100"]]);
  });

  test("in a net counts an output as less", () => {
    const { notCharted } = reconciled(ledger, [
      charted({ sum: "net" }, BOTH, null),
      charted(oral, EIGHT, 180),
    ]);
    expect(notCharted).toContainEqual(expect.objectContaining({ row: { sum: "net" }, ledger: -80_000 }));
  });
});

test("what has no row and is in the total all the same is charted", () => {
  const flush = item(EIGHT, "flush", 20, { category: "iv-flush", item: null, carrier: true });
  const rows = [charted({ item: "tea" }, EIGHT, 180), charted({ item: "soup" }, NINE, 230)];
  const drunk = [item(EIGHT, "tea", 180), item(NINE, "soup", 230), flush];
  const intake = (volume: number) => [...rows, charted({ sum: "intake" }, BOTH, volume)];
  expect(reconciled(drunk, intake(430)).notCharted).toEqual([]);
  expect(reconciled(drunk, intake(410)).notCharted).toMatchObject([{ entries: ["flush"] }]);
});

test("a negative net keeps its sign in every sentence", () => {
  const output = [item(EIGHT, "tea", 180), passed(EIGHT, "void", 445)];
  const found = difference(output, [charted({ sum: "net" }, EIGHT, -625)]);
  expect(found.sentence).toContain("360 mL less is charted (-625 mL) than the ledger has (-265 mL)");
  const digits = found.explanations.find(({ kind }) => kind === "transposed-digits");
  expect(digits!.sentence).toContain("-265 mL seem to be charted as -625 mL");
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

describe("a total of figures that each match", () => {
  const hours = Array.from(
    { length: 12 },
    (_, i) => `${String(7 + i).padStart(2, "0")}:00-${String(8 + i).padStart(2, "0")}:00`,
  );
  const pump = hours.map((hour) => infused(hour, "bag", 3.4));
  const ivFluid = { category: "iv-fluid" };

  test("rounded up hour by hour is told as what it is, and asks nobody to look", () => {
    const found = difference(pump, [
      ...hours.map((hour) => charted(ivFluid, hour, 5)),
      charted(ivFluid, "07:00-19:00", 60),
    ]);
    expect(found.explanations).toEqual([]);
    expect(found.sentence).toMatch(
      /19.2 mL more .*\. The figures in it each agree within 10 mL, and it is what they add up to: .*rounding\.$/,
    );
  });

  test("added up wrong as well, it is that", () => {
    const found = difference(pump, [
      ...hours.map((hour) => charted(ivFluid, hour, 5)),
      charted(ivFluid, "07:00-19:00", 160),
    ]);
    expect(first(found)).toEqual(["addition-slip 100"]);
    expect(found.sentence).not.toContain("what they add up to");
  });
});

test("a whole row left out of a sum of which nothing else is charted is named", () => {
  const day = "07:00-19:00";
  const medicines = [57, 64, 71].map((volume) =>
    item(day, `drug ${volume}`, volume, { category: "iv-medication", channel: `pump ${volume}` }),
  );
  const drinks = [180, 210, 150].map((volume) => item(day, `drink ${volume}`, volume));
  const found = difference([...medicines, ...drinks], [charted({ sum: "intake" }, day, 540)]);
  expect(found.explanations.map(told)).toContain("left-out drug 57 drug 64 drug 71 -192");
  expect(found.sentence).not.toContain("in the ledger explains this");
});
