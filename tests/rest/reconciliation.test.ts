/** A chart reconciled over REST: one that is right has no difference; one slip of each kind is named, and mended where it is. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { first, type Patient, type Ward, ward } from "../check-values/ward.js";
import { at, type Balance, Chart, charted, copied } from "./charted-day.js";

let here: Ward;
let patient: Patient;
beforeAll(async () => {
  here = await ward("2026-03-06T07:00:00Z");
  patient = await charted(here);
});
afterAll(() => here.close());

describe("a chart copied from the balance", () => {
  it.each([
    ["by the hour", "shift=2026-03-04/day&by=hour"],
    ["by the shift", "day=2026-03-04&by=shift"],
    ["by the day", "day=2026-03-04&by=day"],
    ["by other hours than the unit's", `from=${at("07:20")}&to=${at("13:50")}&by=whole`],
  ])("%s has no difference, and nothing that is not charted", async (_, query) => {
    const figures = await copied(patient, query);
    const { matches, differences, notCharted } = await patient.reconcile({ figures });
    expect(differences).toEqual([]);
    expect(matches).toHaveLength(figures.length);
    for (const { charted, ledger } of matches) expect(ledger).toBe(charted);
    expect(notCharted).toEqual([]);
  });

  it("holds every category", async () => {
    const figures = await copied(patient, "day=2026-03-04&by=day");
    const categories = figures.flatMap(({ row, volume }) =>
      row.category !== undefined && volume !== 0 ? [row.category] : [],
    );
    // All that domain and API know, but for nothing: ten of intake, nine of output.
    expect(categories).toHaveLength(19);
  });
});

describe("one slip in a chart that is right", () => {
  it.each<[string, (chart: Chart) => Chart, string[]]>([
    ["tea left out", (chart) => chart.add("oral", 9, -180), ["oral 09 left-out tea -180"]],
    [
      "a flush left out",
      (chart) => chart.add("iv-flush", 9, -20),
      ["iv-flush 09 carrier-left-out flush -20"],
    ],
    ["tea twice", (chart) => chart.add("oral", 9, 180), ["oral 09 counted-twice tea 180"]],
    [
      "tea in the next hour",
      (chart) => chart.add("oral", 9, -180).add("oral", 10, 180),
      ["oral 09 neighbouring-interval tea -180", "oral 10 neighbouring-interval tea 180"],
    ],
    [
      "urine among the drinks",
      (chart) => chart.add("urine", 8, -310).add("oral", 8, 310),
      ["oral 08 other-side void 310", "urine 08 other-side void -310"],
    ],
    [
      "the label of the antibiotic for what went in",
      (chart) => chart.set("iv-medication", 9, 250),
      ["iv-medication 09 bag-for-delivered antibiotic-started 145"],
    ],
    ["ice by the cup", (chart) => chart.add("oral", 10, 65), ["oral 10 ice-whole ice 65"]],
    [
      "the aspirate without what was returned",
      (chart) => chart.add("gastric", 10, 50),
      ["gastric 10 output-whole aspirate 50"],
    ],
    [
      "the secondary in the primary as well",
      (chart) => chart.add("iv-fluid", 9, 105),
      ["iv-fluid 09 secondary-in-primary antibiotic-started 105"],
    ],
    ["ten times too much", (chart) => chart.set("oral", 11, 1_500), ["oral 11 unit-slip coffee 1350"]],
    [
      "litres in a column of millilitres",
      (chart) => chart.set("oral", 11, 0.15),
      ["oral 11 unit-slip coffee -149.85"],
    ],
    ["420 for 240", (chart) => chart.set("urine", 11, 420), ["urine 11 transposed-digits void-later 180"]],
    [
      "the running total as it stands",
      (chart) => chart.set("iv-fluid", 10, 262.5),
      ["iv-fluid 10 reading-not-differenced litre-started read-11 187.5"],
    ],
    [
      "the level of a chamber as it stands",
      (chart) => chart.set("chest-drain", 9, 310),
      ["chest-drain 09 reading-not-differenced chest-10 275"],
    ],
    ["a total added up wrong", (chart) => chart.misadd("oral", 100), ["oral 07 addition-slip 100"]],
  ])("%s", async (_, plant, told) => {
    const figures = plant(await Chart.of(patient)).figures();
    const { differences } = await patient.reconcile({ shift: "2026-03-04/day", figures });
    const explained = differences.filter(({ explanations }) => explanations.length > 0);
    const name = ({ row, start }: (typeof differences)[number]) =>
      `${Object.values(row)[0]} ${start.slice(11, 13)}`;
    expect(explained.flatMap((one) => first(one).map((slip) => `${name(one)} ${slip}`)).sort()).toEqual(told);
    // Whatever else differs follows from that, and says so.
    for (const one of differences) {
      if (!explained.includes(one)) expect(one.follows, name(one)).not.toEqual([]);
    }
  });

  it("is told in a sentence with what to do, and with the entry concerned", async () => {
    const figures = (await Chart.of(patient)).add("oral", 9, -180).figures();
    const { differences } = await patient.reconcile({ figures });
    expect(differences[0]).toMatchObject({
      row: { category: "oral" },
      start: "2026-03-04T09:00:00+00:00",
      end: "2026-03-04T10:00:00+00:00",
      charted: 230,
      ledger: 410,
      certainty: "exact",
      difference: -180,
      severity: "attention",
      sentence: "oral, 09:00 to 10:00: 180 mL less is charted (230 mL) than the ledger has (410 mL).",
      explanations: [
        {
          kind: "left-out",
          entries: ["tea"],
          remaining: 0,
          sentence:
            "180 mL of Tea at 09:10 is in the ledger and not in the chart: chart it, or void the entry if it did not happen.",
        },
      ],
    });
  });
});

describe("two slips", () => {
  it("in one figure are told together", async () => {
    const figures = (await Chart.of(patient)).add("oral", 9, -180 + 230).figures();
    const { differences } = await patient.reconcile({ figures });
    expect(first(differences[0]!)).toContain("counted-twice soup 230 + left-out tea -180");
  });

  it("in different figures are told apart", async () => {
    const figures = (await Chart.of(patient)).add("oral", 9, -180).add("gastric", 10, 50).figures();
    const { differences } = await patient.reconcile({ figures });
    const slips = differences.flatMap((one) => first(one));
    expect(slips).toEqual(["left-out tea -180", "output-whole aspirate 50"]);
  });
});

describe("what is on the other side of the chart's edge", () => {
  it("is looked for where an amount stands on the boundary or beside it", async () => {
    const figures = [{ row: { category: "oral" }, start: at("10:00"), end: at("11:00"), volume: 65 + 230 }];
    const { differences } = await patient.reconcile({ figures });
    expect(differences[0]!.explanations.map(({ kind, entries }) => [kind, ...entries])).toContainEqual([
      "neighbouring-interval",
      "soup",
    ]);
  });
});

describe("where nothing explains a difference", () => {
  it("says so instead of guessing", async () => {
    const figures = (await Chart.of(patient)).add("blood-product", 8, 33).figures();
    const { differences } = await patient.reconcile({ figures });
    expect(differences[0]!.explanations).toEqual([]);
    expect(differences[0]!.sentence).toContain("No single entry in the ledger explains this");
  });
});

describe("a sum charted as the running figure", () => {
  const start = at("10:00");
  const end = at("12:00");

  it.each(["intake", "output", "net"] as const)("is recognised: %s", async (sum) => {
    const day = await patient.ask<Balance>(`balance?from=${at("07:00")}&to=${end}&by=whole`);
    const own = await patient.ask<Balance>(`balance?from=${start}&to=${end}&by=whole`);
    const of = (made: typeof own) => (sum === "net" ? made.net[0] : made[sum].sums[0]);
    const running = of(day)!;
    const { differences } = await patient.reconcile({
      figures: [{ row: { sum }, start, end, volume: running }],
    });
    const [best] = differences[0]!.explanations;
    expect(best).toMatchObject({ kind: "brought-forward", entries: [], remaining: 0, hedged: false });
    expect(best!.accountsFor).toBeCloseTo(running - of(own)!, 6);
    expect(best!.sentence).toContain("the running figure since the stay began");
  });
});

describe("what the ledger does not know itself", () => {
  it("makes its figure at least that, and the difference says so", async () => {
    const stay = await charted(here);
    await stay.chart({ kind: "output-measured", at: at("08:50"), category: "urine", occurrences: 1 });
    const figures = [{ row: { category: "urine" }, start: at("08:00"), end: at("09:00"), volume: 423 }];
    const { differences } = await stay.reconcile({ figures });
    expect(differences[0]).toMatchObject({ ledger: 310, certainty: "at-least" });
    expect(differences[0]!.sentence).toContain("The ledger's figure is at least this");
  });

  it("makes a net at most that where it came out, and says so and not that anything was lost", async () => {
    const stay = await charted(here);
    await stay.chart({ kind: "output-measured", at: at("08:50"), category: "stool", occurrences: 1 });
    const figures = [{ row: { sum: "net" }, start: at("08:00"), end: at("09:00"), volume: 3 }];
    const { differences } = await stay.reconcile({ figures });
    expect(differences[0]).toMatchObject({ certainty: "at-most" });
    expect(differences[0]!.sentence).toMatch(
      /The ledger's figure is at most this: something came out that nobody measured\.$/,
    );
  });
});

describe("a row whose name the ledger does not have", () => {
  const hour = { start: at("09:00"), end: at("10:00") };
  it.each([["Soop"], ["soup."], ["SOUP "]])("is taken for one that is nearly the same: %s", async (item) => {
    const figures = [{ row: { item }, ...hour, volume: 130 }];
    const { differences } = await patient.reconcile({ figures });
    const takenFor = item === "SOUP " ? null : "Soup";
    expect(differences).toMatchObject([{ row: { item }, ledger: 230, difference: -100, takenFor }]);
    if (takenFor !== null) expect(differences[0]!.sentence).toContain(`${item} was taken for Soup.`);
  });

  it.each([
    [{ item: "Broth" }, "No such item was in use in this time: Broth."],
    [
      { line: "left-arm" },
      "No such line was in use in this time: line left-arm. The ledger has forearm and port.",
    ],
  ])("is not in use, whether or not anything is charted: %j", async (row, sentence) => {
    const all = await patient.reconcile({
      figures: [
        { row, ...hour, volume: 120 },
        { row, start: at("10:00"), end: at("11:00"), volume: 0 },
      ],
    });
    expect(all.differences).toMatchObject([{ row, ledger: 0, explanations: [] }]);
    expect(all.differences[0]!.sentence).toContain(sentence);
    expect(all.differences[0]!.sentence).not.toContain("in the ledger explains this");
    expect(all.matches).toEqual([]);
    expect(all.notInUse).toMatchObject([{ row, start: "2026-03-04T10:00:00+00:00", charted: 0 }]);
    expect(all.notInUse[0]!.sentence).toContain(sentence);
  });

  it("may be a line that is in place and empty", async () => {
    const stay = await charted(here);
    await stay.chart({ kind: "line-placed", at: at("07:30"), line: "spare", route: "intravenous" });
    const { matches } = await stay.reconcile({ figures: [{ row: { line: "spare" }, ...hour, volume: 0 }] });
    expect(matches).toMatchObject([{ row: { line: "spare" }, ledger: 0 }]);
  });
});

it("what nobody identified can be charted as that", async () => {
  const stay = await charted(here);
  await stay.chart(
    { kind: "channel-connected", at: at("07:00"), channel: "pump-3", line: "port", type: "pump" },
    { kind: "flow-started", at: at("08:00"), channel: "pump-3", rate: 60 },
  );
  const row = { category: null };
  const hour = { start: at("09:00"), end: at("10:00") };
  const { matches } = await stay.reconcile({ figures: [{ row, ...hour, volume: 60 }] });
  expect(matches).toMatchObject([{ row, charted: 60, ledger: 60 }]);
  const { differences, notCharted } = await stay.reconcile({
    figures: [
      { row, ...hour, volume: 10 },
      { row: { category: "oral" }, start: at("08:00"), end: at("09:00"), volume: 0 },
    ],
  });
  expect(differences[0]!.sentence).toContain("unidentified fluid, 09:00 to 10:00: 50 mL less");
  expect(notCharted.map(({ row, ledger }) => [row, ledger])).toContainEqual([{ line: "port" }, 72]);
});

it("rows are named in any case, drains by where they are", async () => {
  const figures = ["TEA", "soup", "Saline", "wound"].map((item) => ({
    row: { item },
    start: at("07:00"),
    end: at("14:00"),
    volume: null,
  }));
  const { notCharted } = await patient.reconcile({ figures });
  expect(notCharted.slice(0, 4).map(({ row, ledger }) => [row, ledger])).toEqual([
    [{ item: "TEA" }, 180],
    [{ item: "soup" }, 230],
    [{ item: "Saline" }, 487.5],
    [{ item: "wound" }, 45],
  ]);
});

describe("what stands away and what stands below nothing", () => {
  it("an amount of a time away, charted in the hours, is named with where it stands", async () => {
    const away = await here.admit("away-charted", at("06:00"), { value: 70, unit: "kg" });
    await away.chart(
      { id: "left", kind: "away-started", at: at("10:00"), place: "theatre", flows: "go-on" },
      { id: "their-cells", kind: "intake-measured", at: at("11:00"), category: "blood-product", volume: 300 },
      { kind: "away-ended", at: at("12:00") },
    );
    const whole = { start: at("07:00"), end: at("13:00") };
    const row = { category: "blood-product" };
    const { differences, notCharted } = await away.reconcile({ figures: [{ row, ...whole, volume: 300 }] });
    expect(differences.flatMap(first)).toEqual(["outside-hours their-cells 300"]);
    expect(differences[0]!.explanations[0]!.sentence).toContain("the row for the time away (theatre)");
    expect(notCharted).toEqual([]);
    const without = await away.reconcile({ figures: [{ row, ...whole, volume: 0 }] });
    expect(without.differences).toEqual([]);
    expect(without.notCharted).toMatchObject([{ ledger: 300, entries: ["their-cells"] }]);
  });

  it("output that irrigant comes off may be charted below nothing, as the ledger has it", async () => {
    const stay = await here.admit("irrigated-charted", at("06:00"), { value: 70, unit: "kg" });
    await stay.chart(
      { kind: "irrigant-instilled", at: at("08:30"), site: "bladder", volume: 100 },
      { kind: "output-measured", at: at("09:00"), category: "urine", site: "bladder", volume: 50 },
    );
    const whole = { start: at("08:00"), end: at("10:00") };
    const figures = [{ category: "urine" }, { sum: "output" }].map((row) => ({ row, ...whole, volume: -50 }));
    const { matches } = await stay.reconcile({ figures });
    expect(matches.map(({ ledger }) => ledger)).toEqual([-50, -50]);
  });
});

describe("a chart copied from the balance over a change of what counts", () => {
  it("has no difference, by the hour, the shift or the day", async () => {
    const changes = [
      { effectiveFrom: at("08:20"), settings: { counts: { bloodProducts: false, flushes: false } } },
      { effectiveFrom: at("09:30"), settings: { softFoods: { tea: 0.5, soup: 0.5 }, iceFraction: 0.4 } },
    ];
    const ward2 = await ward("2026-03-06T07:00:00Z", {}, changes);
    const stay = await charted(ward2);
    const flush = { kind: "intake-measured", category: "iv-flush", volume: 15, line: "forearm" };
    await stay.chart({ ...flush, at: at("08:10") }, { ...flush, at: at("08:30") });
    for (const query of [
      "shift=2026-03-04/day&by=hour",
      "day=2026-03-04&by=shift",
      "day=2026-03-04&by=day",
    ]) {
      const figures = await copied(stay, query);
      const { differences } = await stay.reconcile({ figures });
      expect(differences, query).toEqual([]);
    }
    await ward2.close();
  });
});
