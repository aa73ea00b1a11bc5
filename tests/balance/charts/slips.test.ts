/** One slip of each kind, in a chart that is otherwise right. */

import { describe, expect, test } from "vitest";
import { charted, difference, first, infused, item, passed, reconciled, told } from "./ward.js";

const EIGHT = "08:00-09:00";
const NINE = "09:00-10:00";
const TEN = "10:00-11:00";
const oral = { category: "oral" };
const ivFluid = { category: "iv-fluid" };

describe("what was drunk", () => {
  const tea = item(NINE, "tea", 180, { clock: "09:10" });
  const soup = item(NINE, "soup", 230, { clock: "09:40" });

  test("soup without the tea: the tea is left out", () => {
    const found = difference([tea, soup], [charted(oral, NINE, 230)]);
    expect(first(found)).toEqual(["left-out tea -180"]);
    expect(found.explanations[0]!.sentence).toContain("180 mL of tea at 09:10");
  });

  test("tea twice", () => {
    expect(first(difference([tea, soup], [charted(oral, NINE, 590)]))).toEqual(["counted-twice tea 180"]);
  });

  test("tea in the next hour explains both hours", () => {
    const coffee = item(TEN, "coffee", 150);
    const { differences } = reconciled(
      [tea, soup, coffee],
      [charted(oral, NINE, 230), charted(oral, TEN, 330)],
    );
    expect(differences.map(first)).toEqual([
      ["neighbouring-interval tea -180"],
      ["neighbouring-interval tea 180"],
    ]);
  });

  test("tea and soup in the next hour explain both hours, and neither is to be charted again", () => {
    const coffee = item(TEN, "coffee", 150);
    const { differences } = reconciled(
      [tea, soup, coffee],
      [charted(oral, NINE, 0), charted(oral, TEN, 560)],
    );
    expect(differences.map(first)).toEqual([
      ["neighbouring-interval soup -230 + neighbouring-interval tea -180"],
      ["neighbouring-interval soup 230 + neighbouring-interval tea 180"],
    ]);
  });

  test("tea left out here, and nothing else in the next hour: not moved there", () => {
    const coffee = item(TEN, "coffee", 150);
    const found = difference([tea, soup, coffee], [charted(oral, NINE, 230), charted(oral, TEN, 150)]);
    expect(found.explanations.map(({ kind }) => kind)).not.toContain("neighbouring-interval");
  });

  test("420 for 240: the digits are swapped", () => {
    const milk = item(NINE, "milk", 240);
    const found = difference([milk], [charted(oral, NINE, 420)]);
    expect(first(found)).toEqual(["transposed-digits milk 180"]);
    expect(found.explanations[0]!.sentence).toContain("240 mL seem to be charted as 420 mL");
  });

  test("a difference divisible by nine is not enough for swapped digits", () => {
    const found = difference([item(NINE, "milk", 250)], [charted(oral, NINE, 277)]);
    expect(found.explanations).toEqual([]);
  });

  test("ten times too much", () => {
    expect(first(difference([tea], [charted(oral, NINE, 1_800)]))).toEqual(["unit-slip tea 1620"]);
  });

  test("0.24 for 240: litres in a column of millilitres", () => {
    const found = difference([item(NINE, "milk", 240)], [charted(oral, NINE, 0.24)]);
    expect(first(found)).toEqual(["unit-slip milk -239.76"]);
    expect(found.explanations[0]!.sentence).toContain("in litres instead of millilitres");
  });

  test("ice by the cup, not by what it melts to", () => {
    const ice = item(NINE, "ice", 60, { whole: 120_000 });
    expect(first(difference([tea, ice], [charted(oral, NINE, 300)]))).toEqual(["ice-whole ice 60"]);
  });

  test("two of equal volume are named together", () => {
    const coffee = item(NINE, "coffee", 180);
    const found = difference([tea, coffee, soup], [charted(oral, NINE, 410)]);
    expect(first(found).sort()).toEqual(["left-out coffee -180", "left-out tea -180"]);
    expect(found.explanations[0]!.tied).toBe(true);
  });

  test("two slips in one figure", () => {
    const ice = item(NINE, "ice", 65, { whole: 130_000 });
    // 180 + 230 + 65 = 475; without the tea, and with 130 of ice: 360.
    const found = difference([tea, soup, ice], [charted(oral, NINE, 360)]);
    expect(first(found)).toEqual(["left-out tea -180 + ice-whole ice 65"]);
  });
});

describe("what was passed", () => {
  const gastric = { category: "gastric" };
  const aspirated = passed(NINE, "aspirate", 120, { category: "gastric", whole: 170_000 });

  test("on the other side of the balance: the urine is among the drinks", () => {
    const ledger = [passed(NINE, "void", 230), item(NINE, "tea", 180)];
    const { differences } = reconciled(ledger, [
      charted(oral, NINE, 410),
      charted({ category: "urine" }, NINE, 0),
    ]);
    expect(differences.map(first)).toEqual([["other-side void 230"], ["other-side void -230"]]);
  });

  test("on the other side, where that is charted as nothing but a sum: the same on both figures", () => {
    const ledger = [passed(NINE, "void", 230), passed(NINE, "stool", 90), item(NINE, "tea", 180)];
    const { differences } = reconciled(ledger, [
      charted(oral, NINE, 0),
      charted({ sum: "output" }, NINE, 500),
    ]);
    expect(differences.map(first)).toEqual([["other-side tea -180"], ["other-side tea 180"]]);
  });

  test("on the other side, in a sum beside rows that match, and in a sum of more hours", () => {
    const ledger = [passed(NINE, "void", 230), item(NINE, "tea", 180), item(TEN, "soup", 150)];
    const rows = [charted(oral, NINE, 0), charted(oral, TEN, 150), charted({ category: "urine" }, NINE, 230)];
    for (const span of [NINE, "09:00-11:00"]) {
      const { differences } = reconciled(ledger, [...rows, charted({ sum: "output" }, span, 410)]);
      expect(differences.map(first), span).toEqual([["other-side tea -180"], ["other-side tea 180"]]);
    }
  });

  test("a net balance shows the wrong side twice over", () => {
    const ledger = [passed(NINE, "void", 230), item(NINE, "tea", 180)];
    const found = difference(ledger, [charted({ sum: "net" }, NINE, 410)]);
    expect(first(found)).toEqual(["other-side void 460"]);
  });

  test("as drained: what was returned is not taken off", () => {
    expect(first(difference([aspirated], [charted(gastric, NINE, 170)]))).toEqual([
      "output-whole aspirate 50",
    ]);
  });

  test("a chamber's level charted as it stands", () => {
    const drain = passed(NINE, "chamber", 35, { category: "chest-drain", reading: 310_000 });
    const found = difference([drain], [charted({ category: "chest-drain" }, NINE, 310)]);
    expect(first(found)).toEqual(["reading-not-differenced chamber 275"]);
  });
});

describe("what was infused", () => {
  const running = infused(NINE, "saline", 62.5, { reading: 437_500, label: 1_000_000 });
  const antibiotic = infused(NINE, "antibiotic", 105, { role: "secondary", category: "iv-medication" });
  const medication = { category: "iv-medication" };

  test("the running total charted as it stands", () => {
    expect(first(difference([running], [charted(ivFluid, NINE, 438)]))).toEqual([
      "reading-not-differenced saline 375",
    ]);
  });

  test("an hour of it left out: when it stopped is to be charted, and what began it not to be voided", () => {
    const ran = infused(NINE, "bag", 50);
    const found = difference([ran], [charted(ivFluid, NINE, 0)]);
    expect(first(found)).toEqual(["left-out bag -50"]);
    expect(found.explanations[0]!.sentence).toMatch(
      /: chart it, or chart when the infusion stopped or paused if it did not run\.$/,
    );
    const byHand = item(NINE, "saline by hand", 180, { category: "iv-fluid" });
    const both = difference([ran, byHand], [charted(ivFluid, NINE, 0)]);
    expect(both.explanations[0]!.sentence).toMatch(
      /^Nothing is charted in .*: chart it, or void the entry if it did not happen, or chart when the infusion stopped/,
    );
  });

  test("the whole bag charted for what went in", () => {
    const found = difference([running], [charted(ivFluid, NINE, 1_000)]);
    expect(first(found)).toEqual(["bag-for-delivered saline 937.5"]);
  });

  test("the whole bag where it was hung, and nothing in the hours after", () => {
    const bag = (interval: string) => infused(interval, "saline", 80, { label: 500_000 });
    const chart = [charted(ivFluid, EIGHT, 500), charted(ivFluid, NINE, 0), charted(ivFluid, TEN, 0)];
    const { differences } = reconciled([EIGHT, NINE, TEN].map(bag), chart);
    expect(differences.map(first)).toEqual([
      ["bag-for-delivered saline 420"],
      ["bag-for-delivered saline -80"],
      ["bag-for-delivered saline -80"],
    ]);
  });

  test("the secondary counted in the primary as well", () => {
    const chart = [charted(ivFluid, NINE, 168), charted(medication, NINE, 105)];
    const found = difference([running, antibiotic], chart);
    expect(first(found)).toEqual(["secondary-in-primary antibiotic 105"]);
    expect(found.explanations[0]!.sentence).toContain("which waited on pump-1");
  });

  test("twice what went in beside it may be the rate that was set, and is not claimed", () => {
    const half = infused(NINE, "saline", 37.5);
    const found = difference(
      [half, antibiotic],
      [charted(ivFluid, NINE, 75), charted(medication, NINE, 105)],
    );
    expect(first(found)).toEqual(["counted-twice saline 37.5"]);
    expect(found.explanations[0]).toMatchObject({ hedged: true });
    expect(found.sentence).not.toContain("strike");
    const alone = difference([half], [charted(ivFluid, NINE, 75)]);
    expect(alone.explanations[0]).toMatchObject({ kind: "counted-twice", hedged: false });
  });

  test("the flush after it", () => {
    const flush = item(NINE, "flush", 25, { category: "iv-flush", carrier: true });
    const push = item(NINE, "push", 12, { category: "iv-flush" });
    expect(first(difference([flush, push], [charted({ category: "iv-flush" }, NINE, 12)]))).toEqual([
      "carrier-left-out flush -25",
    ]);
  });

  test("keep-open flow, too little in any hour and 27 mL in three", () => {
    const open = [EIGHT, NINE, TEN].map((interval) =>
      infused(interval, "keep-open", 9, { role: "keep-open", carrier: true }),
    );
    const hours = [EIGHT, NINE, TEN].map((interval) => charted(ivFluid, interval, 0));
    const found = difference(open, [...hours, charted(ivFluid, "08:00-11:00", 0)]);
    expect(first(found)).toEqual(["carrier-left-out keep-open -27"]);
  });
});

describe("two slips are held to more than one", () => {
  const day = "07:00-15:00";
  // A shift charted as nothing but its sum, off by what two far-fetched slips would make: 15 as 1.5, 1,200 as 1,020.
  const shift = [
    item(day, "gelatin", 15),
    item(day, "ice", 450, { whole: 900_000 }),
    item(day, "broth", 1_200),
  ];

  test("two that are both unusual are not supposed", () => {
    const found = difference(shift, [charted({ sum: "intake" }, day, 1_665 - 13.5 - 180)]);
    expect(found.explanations.map(told)).toEqual([]);
    expect(found.sentence).toContain("No single entry in the ledger explains this");
  });

  test("nor is it denied that two together might be it", () => {
    const drinks = [item(NINE, "tea", 180), item(NINE, "juice", 120)];
    const found = difference(drinks, [charted(oral, NINE, 240)]);
    expect(found.explanations).toEqual([]);
    expect(found.sentence).toContain("No single entry in the ledger explains this");
  });

  test("nor one that matters beside one that hardly does", () => {
    const ledger = [item(NINE, "tea", 180), item(NINE, "sip", 11), item(NINE, "soup", 430)];
    const found = difference(ledger, [charted(oral, NINE, 1_010 + 11 - 180 - 11)]);
    for (const { together } of found.explanations) {
      for (const { accountsFor } of together) expect(Math.abs(accountsFor)).toBeGreaterThan(11_000);
    }
  });

  test("none is named for a figure that it does nothing to", () => {
    const ledger = [item(NINE, "tea", 180), item(TEN, "soup", 230), item(TEN, "coffee", 150)];
    // The tea in the next hour, where the coffee is left out.
    const { differences } = reconciled(ledger, [charted(oral, NINE, 0), charted(oral, TEN, 410)]);
    for (const { explanations } of differences) {
      for (const { accountsFor, together } of explanations) {
        for (const volume of [accountsFor, ...together.map((one) => one.accountsFor)])
          expect(volume).not.toBe(0);
      }
    }
  });
});

test("a slip of a whole figure names the entries behind it", () => {
  const found = difference([item(NINE, "tea", 180), item(NINE, "soup", 60)], [charted(oral, NINE, 420)]);
  const [digits] = found.explanations.filter(({ kind }) => kind === "transposed-digits");
  expect(digits!.entries).toEqual(["tea", "soup"]);
});

test("where as many would do as there are hours, all are named and none is claimed", () => {
  const cups = Array.from({ length: 13 }, (_, i) => item(NINE, `cup ${i}`, 100, { clock: `09:${10 + i}` }));
  const found = difference(cups, [charted(oral, NINE, 1_200)]);
  expect(found.explanations.map(told).sort()).toEqual(
    cups.map(({ entries }) => `left-out ${entries[0]} -100`).sort(),
  );
  for (const { place, tied, hedged, sentence } of found.explanations) {
    expect([place, tied, hedged]).toEqual([1, true, true]);
    expect(sentence).toContain("look before anything is changed");
    expect(sentence).not.toContain("chart it");
  }
  expect(found.sentence).not.toContain("in the ledger explains this");
  expect(found.sentence).toContain("Several entries would fit and none stands out");
  expect(found.sentence).toContain("and 5 more");
});

describe("what fits is never denied", () => {
  const day = "07:00-19:00";
  const voids = [50, 60, 70, 80, 90, 100, 110, 120].map((volume, i) =>
    passed(day, `void ${volume}`, volume, { clock: `${8 + i}:20` }),
  );

  test.each(voids)("$entries left out of eight is named", ({ entries, volume }) => {
    const found = difference(voids, [charted({ category: "urine" }, day, 680 - volume / 1_000)]);
    expect(found.explanations.map(told)).toContain(`left-out ${entries[0]} ${-volume / 1_000}`);
    expect(found.sentence).not.toContain("in the ledger explains this");
  });

  const drinks = [180, 210, 150, 120, 240].map((volume, i) =>
    item(day, `drink ${volume}`, volume, { clock: `${8 + i}:30` }),
  );
  const ice = item(day, "ice", 120, { whole: 240_000, clock: "15:00" });
  const bag = infused(day, "bag", 900, { label: 1_000_000 });

  test.each(drinks)("$entries left out of nothing but a sum is named", ({ entries, volume }) => {
    const all = [...drinks, ice, bag];
    const sum = all.reduce((mL, one) => mL + one.volume / 1_000, 0);
    const left = difference(all, [charted({ sum: "intake" }, day, sum - volume / 1_000)]);
    expect(left.explanations.map(told)).toContain(`left-out ${entries[0]} ${-volume / 1_000}`);
    const twice = difference(all, [charted({ sum: "intake" }, day, sum + volume / 1_000)]);
    expect(twice.explanations.map(told)).toContain(`counted-twice ${entries[0]} ${volume / 1_000}`);
    // What melts to as much is named beside it and not instead.
    if (volume === 120_000) expect(first(twice).length).toBeGreaterThan(1);
  });
});

test("an explanation never names what it does not fit", () => {
  const found = difference([item(NINE, "tea", 180)], [charted(oral, NINE, 213)]);
  expect(found.explanations.map(told)).toEqual([]);
  expect(found.sentence).toContain("33 mL more is charted (213 mL) than the ledger has (180 mL)");
});
