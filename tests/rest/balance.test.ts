/** The balance as a ward reads it: what is left out, lost, away, before the admission, and by which conventions. */

import { afterEach, describe, expect, it } from "vitest";
import { type Patient, type Ward, ward } from "../check-values/ward.js";

const at = (clock: string, day = 4) => `2026-03-0${day}T${clock}:00Z`;

let here: Ward | undefined;
afterEach(async () => {
  await here?.close();
  here = undefined;
});

async function patient(settings: object = {}, changes: readonly object[] = []): Promise<Patient> {
  here = await ward("2026-03-06T07:00:00Z", settings, changes);
  return here.admit("stay", at("06:00"), { value: 80, unit: "kg" });
}

const intake = (clock: string, volume: number, more: object = {}) => ({
  kind: "intake-measured",
  at: at(clock),
  category: "oral",
  volume,
  ...more,
});
const output = (clock: string, volume: number, more: object = {}) => ({
  kind: "output-measured",
  at: at(clock),
  category: "urine",
  volume,
  ...more,
});
const unmeasured = (clock: string, category: string, occurrences = 1) => ({
  kind: "output-measured",
  at: at(clock),
  category,
  occurrences,
});
const channel = (clock: string, kind: string, more: object = {}) => ({
  kind,
  at: at(clock),
  channel: "pump-1",
  ...more,
});
const pump = (rate: number, category = "iv-fluid") => [
  { kind: "line-placed", at: at("07:00"), line: "forearm", label: "Left forearm", route: "intravenous" },
  channel("07:00", "channel-connected", { line: "forearm", type: "pump", totals: "none" }),
  channel("07:00", "bag-hung", { bag: "litre", volume: 1_000, fluid: { name: "Saline", category } }),
  channel("07:00", "flow-started", { rate }),
];

// biome-ignore lint/suspicious/noExplicitAny: the answer is read by the field a test is about; its form has a test of its own
type Answer = any;
const ask = (stay: Patient, from: string, to: string, more = "by=hour"): Promise<Answer> =>
  stay.ask<Answer>(`balance?from=${at(from)}&to=${at(to)}&${more}`);

const row = ({ rows }: Answer, key: string | null) => rows.find((one: Answer) => one.key === key);

describe("intake", () => {
  it("stands by category, and in it by line, item and role, the roles of one bag apart", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(100),
      channel("08:00", "bag-hung", {
        bag: "antibiotic",
        role: "secondary",
        volume: 50,
        fluid: { name: "Antibiotic", category: "iv-medication" },
      }),
      channel("08:00", "secondary-started", { rate: 100, primaryClamped: true }),
      channel("09:00", "bolus-started", { volume: 20, rate: 600 }),
      intake("09:30", 150, { item: "Water" }),
    );
    const { intake: taken } = await ask(stay, "07:00", "10:00");
    // 08:00 to 08:30 the secondary, then the primary until 09:00; the bolus takes two minutes.
    expect(row(taken, "iv-fluid").parts).toMatchObject([
      { label: "Left forearm, Saline, bolus", role: "bolus", volumes: [0, 0, 20] },
      { label: "Left forearm, Saline, primary", role: "primary", volumes: [100, 50, 96.7] },
    ]);
    expect(row(taken, "iv-fluid").volumes).toEqual([100, 50, 116.7]);
    expect(row(taken, "iv-medication").parts).toMatchObject([{ role: "secondary", volumes: [0, 50, 0] }]);
    expect(row(taken, "oral")).toMatchObject({
      label: "Oral",
      code: { code: "9000-1" },
      volumes: [0, 0, 150],
    });
    expect(taken.sums).toEqual([100, 100, 266.7]);
  });

  it("has a row for fluid nobody identified", async () => {
    const stay = await patient();
    const [line, connected, , started] = pump(60);
    await stay.chart(line!, connected!, { ...started, volumeToInfuse: "none" });
    const { intake: taken } = await ask(stay, "07:00", "09:00");
    expect(row(taken, null)).toMatchObject({ label: "Unidentified fluid", volumes: [60, 60] });
    expect(taken.total).toBe(120);
  });

  it("is at least what is known over minutes of which nobody knows", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(100),
      { kind: "away-started", at: at("08:00"), place: "Theatre", flows: "unknown" },
      { kind: "away-ended", at: at("09:00") },
      output("09:30", 40),
    );
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.intake.sums).toEqual([100, 0, 100]);
    expect(answer.intake.certainty).toEqual(["exact", "at-least", "exact"]);
    expect(answer.net).toEqual([100, 0, 60]);
    expect(answer.netCertainty).toEqual(["exact", "at-least", "exact"]);
    expect(answer.cumulativeCertainty).toEqual(["exact", "at-least", "at-least"]);
  });

  it("is less what was lost, in the hours in which it was delivered, and at most that where nobody knows how much", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(100),
      channel("09:00", "delivery-lost", {
        id: "leak",
        from: at("07:30"),
        to: at("08:30"),
        volume: 40,
        reason: "leaked",
      }),
    );
    const answer = await ask(stay, "07:00", "10:00");
    expect(row(answer.intake, "iv-fluid").volumes).toEqual([80, 80, 100]);
    expect(answer.lost).toEqual([
      {
        entry: "leak",
        channel: "pump-1",
        start: "2026-03-04T07:30:00+00:00",
        end: "2026-03-04T08:30:00+00:00",
        reason: "leaked",
        volume: 40,
        takenOff: 40,
      },
    ]);
    await stay.chart(
      channel("10:00", "delivery-lost", {
        from: at("09:00"),
        to: at("10:00"),
        volume: "unknown",
        reason: "disconnected",
      }),
    );
    const unsure = await ask(stay, "07:00", "10:00");
    expect(unsure.intake.sums).toEqual([80, 80, 100]);
    expect(unsure.intake.certainty).toEqual(["exact", "exact", "at-most"]);
    // The same hours asked for alone, though the loss was charted after them.
    expect((await ask(stay, "07:00", "08:00")).intake.sums).toEqual([80]);
  });

  it("loses no more than was delivered", async () => {
    const stay = await patient();
    const lost = { from: at("07:00"), to: at("08:00"), volume: 500, reason: "leaked" };
    await stay.chart(...pump(100), channel("08:00", "delivery-lost", lost));
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.intake.sums).toEqual([0, 100]);
    expect(answer.lost[0]).toMatchObject({ volume: 500, takenOff: 100 });
  });
});

describe("output", () => {
  it("that nobody measured is counted as having happened, and makes the output at least and the net at most", async () => {
    const stay = await patient();
    await stay.chart(output("07:30", 200), unmeasured("07:40", "stool", 2), unmeasured("08:40", "urine"));
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.output.certainty).toEqual(["at-least", "at-least"]);
    expect(answer.netCertainty).toEqual(["at-most", "at-most"]);
    expect(row(answer.output, "stool").volumes).toEqual([0, 0]);
    expect(answer.unmeasured).toEqual(
      [
        { side: "output", key: "urine", label: "Urine", occurrences: [0, 1], total: 1 },
        { side: "output", key: "stool", label: "Stool", occurrences: [2, 0], total: 2 },
      ].sort((a, b) => a.key.localeCompare(b.key)),
    );
  });

  it("of a drain's chamber counts when it is read or emptied; emptied unread it is left out", async () => {
    const stay = await patient();
    const chamber = (clock: string, doing: string, more: object = {}) => ({
      kind: `chamber-${doing}`,
      at: at(clock),
      chamber: "left",
      ...more,
    });
    await stay.chart(
      chamber("07:00", "placed", { category: "chest-drain", level: 20 }),
      chamber("08:00", "read", { level: 80 }),
      chamber("09:00", "emptied", { level: 95 }),
      chamber("10:00", "emptied", { leaveUncaptured: { reason: "unreadable" } }),
    );
    const answered = (clock: string) => at(clock).replace("Z", "+00:00");
    const answer = await ask(stay, "07:00", "10:00");
    expect(row(answer.output, "chest-drain")).toMatchObject({
      volumes: [60, 15, 0],
      certainty: ["exact", "exact", "at-least"],
      parts: [{ site: "left", label: "left", since: ["07:00", "08:00", "09:00"].map(answered) }],
    });
  });
});

describe("what is in no hour", () => {
  it("from before the admission is inside the cumulative figures and a row of its own", async () => {
    const stay = await patient();
    await stay.chart(intake("05:00", 500), output("05:30", 200), intake("08:00", 100));
    const answer = await ask(stay, "06:00", "09:00");
    expect(answer.net).toEqual([0, 100, 0]);
    expect(answer.broughtForward).toBe(300);
    expect(answer.cumulative).toEqual([300, 400, 400]);
    expect(answer.beside).toMatchObject([
      { when: "before-admission", intake: { total: 500 }, output: { total: 200 }, net: 300 },
    ]);
    // An hour from before the admission holds nothing of it either.
    const earlier = await ask(stay, "05:00", "07:00");
    expect([earlier.net, earlier.cumulative]).toEqual([
      [0, 0],
      [300, 300],
    ]);
  });

  it("from the very first minute that is accepted counts too", async () => {
    const stay = await patient();
    await stay.chart({ ...intake("06:00", 300), at: at("06:00", 3) });
    const answer = await ask(stay, "06:00", "09:00");
    expect([answer.broughtForward, answer.beside[0].intake.total]).toEqual([300, 300]);
  });

  it("is seen where the unit has it outside of the totals", async () => {
    const stay = await patient({ counts: { bloodProducts: false, flushes: true, returned: false } });
    await stay.chart(
      { kind: "away-started", at: at("08:00"), place: "Theatre", flows: "go-on" },
      intake("09:00", 300, { category: "blood-product" }),
      intake("09:10", 1_000, { category: "iv-fluid" }),
      { kind: "away-ended", at: at("10:00") },
    );
    const { beside, cumulative } = await ask(stay, "07:00", "11:00");
    expect(beside[0].intake).toMatchObject({ total: 1_000, apart: [{ key: "blood-product", total: 300 }] });
    expect(cumulative.at(-1)).toBe(1_000);
  });

  it("from time away is inside the cumulative figures from then on, with where the patient was", async () => {
    const stay = await patient();
    await stay.chart(
      intake("07:30", 100),
      { kind: "away-started", at: at("08:00"), place: "Theatre", flows: "go-on" },
      intake("09:00", 1_000, { category: "iv-fluid" }),
      output("10:00", 300),
      { kind: "away-ended", at: at("10:00") },
      intake("10:30", 50),
    );
    const answer = await ask(stay, "07:00", "11:00");
    expect(answer.net).toEqual([100, 0, 0, 50]);
    expect(answer.cumulative).toEqual([100, 1_100, 800, 850]);
    expect(answer.beside).toMatchObject([{ when: "away", place: "Theatre", net: 700 }]);
    // Afterwards it is brought forward.
    expect((await ask(stay, "11:00", "12:00")).broughtForward).toBe(850);
  });

  it("cumulates from where the caller says, and refuses a start after the period's", async () => {
    const stay = await patient();
    await stay.chart(intake("06:30", 500), intake("07:30", 100), intake("08:30", 50));
    const answer = await ask(stay, "08:00", "09:00", `by=hour&start=${at("07:00")}`);
    expect([answer.broughtForward, answer.cumulative, answer.cumulativeFrom]).toEqual([
      100,
      [150],
      "2026-03-04T07:00:00+00:00",
    ]);
    await expect(ask(stay, "08:00", "09:00", `by=hour&start=${at("08:01")}`)).rejects.toThrow(
      /"parameter":"start"/,
    );
  });
});

describe("what stands beside the balance", () => {
  it("urine per weight says why it cannot be judged", async () => {
    const why = async (...entries: readonly object[]) => {
      const stay = await patient();
      if (entries.length > 0) await stay.chart(...entries);
      const { urine } = await ask(stay, "07:00", "13:00");
      await here?.close();
      here = undefined;
      return urine.map((one: Answer) => one.why ?? one.mLPerKgPerHour);
    };
    const tooShort = "Cannot judge, because the patient has not been here that long.";
    const never = "Cannot judge, because no urine was ever charted.";
    expect(await why()).toEqual([never, never, tooShort, tooShort]);
    // 80 kg: 240 mL are 3 mL/kg in an hour, 0.5 mL/kg/h over six.
    expect(await why(output("12:30", 240))).toEqual([3, 0.5, tooShort, tooShort]);
    expect(await why(output("12:30", 240), unmeasured("08:00", "urine"))).toEqual([
      3,
      "Cannot judge, because urine came once and nobody measured it.",
      tooShort,
      tooShort,
    ]);
  });

  it("urine is not judged where nobody measured lately, and none that was charted is none", async () => {
    const stay = await patient();
    await stay.chart(output("08:00", 100), output("09:00", 60));
    const told = async (from: string, to: string) => {
      const { urine } = await ask(stay, from, to);
      return urine.slice(0, 3).map((one: Answer) => one.why ?? one.mLPerKgPerHour);
    };
    const nobody = "Cannot judge, because nobody measured urine in this time.";
    const since = "Cannot judge, because nobody measured urine since 09:00.";
    const tooShort = "Cannot judge, because the patient has not been here that long.";
    // 80 kg: 160 mL in the six hours before 12:00 are 0.33 mL/kg/h; three of them are still to be measured.
    expect(await told("07:00", "12:00")).toEqual([nobody, 0.33, tooShort]);
    expect(await told("07:00", "13:00")).toEqual([nobody, since, tooShort]);
    await stay.chart(output("12:45", 0));
    expect(await told("07:00", "13:00")).toEqual([0, 0.33, tooShort]);
  });

  it("urine collected over longer than a window says nothing of it, and counts by its share in a longer one", async () => {
    const stay = await patient();
    await stay.chart(output("19:30", 1_200, { from: at("07:30") }));
    const { urine } = await ask(stay, "07:00", "19:30");
    const longer = "Cannot judge, because it was collected since 07:30, which is longer than this.";
    // 1,200 mL in twelve hours at 80 kg.
    expect(urine.slice(0, 3).map((one: Answer) => one.why ?? one.mLPerKgPerHour)).toEqual([
      longer,
      longer,
      1.25,
    ]);
    await stay.chart(output("21:30", 100, { from: at("19:30") }));
    // Of the six hours before 23:30 the last two are unmeasured, the first two hold two twelfths of the 1,200.
    const { urine: later } = await ask(stay, "19:00", "21:30");
    expect(later[0].why).toBe(
      "Cannot judge, because it was collected since 19:30, which is longer than this.",
    );
    expect(later[2]).toMatchObject({ volume: 1_100, mLPerKgPerHour: 1.15 });
  });

  it("urine cannot be judged without a weight, and the share of it neither", async () => {
    here = await ward("2026-03-06T07:00:00Z");
    const stay = await here.admit("stay", at("06:00"));
    await stay.chart(output("08:00", 100));
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.urine[0].why).toBe("Cannot judge, because no weight is known.");
    expect(answer.shareOfAdmissionWeight.percent).toBeNull();
    expect(answer.weightChange).toBeNull();
  });

  it("the share is one of the weight at admission, whatever was weighed before or goes wrong later", async () => {
    const stay = await patient();
    const weighed = (clock: string, value: number) => ({
      kind: "weight-measured",
      at: at(clock),
      weight: { value, unit: "kg" },
    });
    await stay.chart(weighed("05:00", 90), intake("08:00", 800), weighed("09:00", 81));
    const share = async () => (await ask(stay, "07:00", "10:00")).shareOfAdmissionWeight;
    expect(await share()).toMatchObject({ percent: 1, weight: { value: 80 } });
    // One charted at the minute of the admission takes the place of the one that came with it.
    await stay.chart(weighed("06:00", 100));
    expect(await share()).toMatchObject({ percent: 0.8, weight: { value: 100 } });
    expect((await ask(stay, "07:00", "10:00")).weightChange).toMatchObject({ kilograms: -19 });
  });

  it("the weight's change stands beside the net and corrects nothing", async () => {
    const stay = await patient();
    await stay.chart(intake("08:00", 2_000), {
      kind: "weight-measured",
      at: at("09:00"),
      weight: { value: 81.5, unit: "kg" },
    });
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.cumulative.at(-1)).toBe(2_000);
    expect(answer.shareOfAdmissionWeight).toMatchObject({ percent: 2.5, weight: { value: 80, unit: "kg" } });
    expect(answer.weightChange).toMatchObject({ kilograms: 1.5, to: { weight: { value: 81.5 } } });
  });
});

describe("conventions", () => {
  const cup = { category: "oral", measure: { name: "cup", count: 1 } };
  const drinks = (clock: string) => ({ kind: "intake-measured", at: at(clock), ...cup });

  it("hold from their date on, move no earlier figure, and stand on the answer with their dates", async () => {
    const changes = [{ effectiveFrom: at("10:00"), settings: { household: { cup: 200 }, iceFraction: 0.4 } }];
    const stay = await patient({}, changes);
    const ice = (clock: string) => intake(clock, 100, { item: "Ice chips" });
    await stay.chart(drinks("09:00"), ice("09:30"), drinks("11:00"), ice("11:30"));
    const answer = await ask(stay, "08:00", "12:00");
    expect(answer.intake.sums).toEqual([240, 50, 200, 40]);
    expect(
      answer.conventions.map(({ start, household, iceFraction }: Answer) => [
        start.slice(11, 16),
        household.cup,
        iceFraction,
      ]),
    ).toEqual([
      ["08:00", 240, 0.5],
      ["10:00", 200, 0.4],
    ]);
  });

  it("changed at the very minute of an amount leave it where, and what, it was", async () => {
    const changes = [
      { effectiveFrom: at("10:00"), settings: { household: { cup: 200 }, precision: 10 } },
      { effectiveFrom: at("19:00"), settings: { boundary: "starts" } },
    ];
    const stay = await patient({}, changes);
    await stay.chart(drinks("10:00"), intake("09:30", 33), intake("19:00", 100), intake("20:00", 50));
    const answer = await ask(stay, "08:00", "21:00");
    // The cup of ten belongs to the hour before, and was one of 240; until 19:00 figures go to a tenth.
    expect(answer.intake.sums).toEqual([0, 273, 0, 0, 0, 0, 0, 0, 0, 0, 100, 0, 50]);
    expect(
      answer.conventions.map(({ start, household, precision, boundary }: Answer) => [
        start.slice(11, 16),
        household.cup,
        precision,
        boundary,
      ]),
    ).toEqual([
      ["08:00", 240, 0.1, "ends"],
      ["10:00", 200, 0.1, "ends"],
      ["19:00", 200, 10, "starts"],
    ]);
  });

  it("say which soft foods count and for how much", async () => {
    const stay = await patient({ softFoods: { pudding: 0, yoghurt: 0.8 } });
    await stay.chart(
      intake("07:30", 100, { item: "Pudding" }),
      intake("08:30", 100, { item: "yoghurt" }),
      intake("09:30", 100, { item: "Gelatin" }),
    );
    expect((await ask(stay, "07:00", "10:00")).intake.sums).toEqual([0, 80, 100]);
  });

  it("may have blood and flushes outside the totals, where they still have rows", async () => {
    const changes = [
      { effectiveFrom: at("09:30"), settings: { counts: { bloodProducts: false, flushes: false } } },
    ];
    const stay = await patient({}, changes);
    const [line, connected, hung, started] = pump(100, "blood-product");
    const flush = (clock: string) => intake(clock, 10, { category: "iv-flush" });
    await stay.chart(line!, connected!, hung!, started!, flush("08:30"), flush("09:45"));
    const { intake: taken, cumulative } = await ask(stay, "07:00", "10:00");
    expect(row(taken, "blood-product").volumes).toEqual([100, 100, 50]);
    expect(taken.sums).toEqual([100, 110, 50]);
    expect(cumulative).toEqual([100, 210, 260]);
    expect(taken.apart).toMatchObject([
      { key: "iv-flush", volumes: [0, 0, 10] },
      { key: "blood-product", volumes: [0, 0, 50] },
    ]);
  });

  it("say whether residual that was given back is taken off", async () => {
    const residual = (clock: string) => output(clock, 120, { category: "gastric", returned: 80 });
    const changes = [{ effectiveFrom: at("08:00"), settings: { counts: { returned: true } } }];
    const stay = await patient({}, changes);
    await stay.chart(residual("07:30"), residual("08:30"));
    expect((await ask(stay, "07:00", "09:00")).output.sums).toEqual([40, 120]);
  });
});

describe("what was given back of a household measure", () => {
  it("is taken off as far as the measure holds it, and more than that is found", async () => {
    const stay = await patient();
    const cup = { category: "gastric", volume: undefined, measure: { name: "cup", count: 1 } };
    await stay.chart(output("07:30", 0, { ...cup, returned: 200 }));
    await stay.chart(output("08:30", 0, { ...cup, returned: 300, id: "too-much" }));
    // A cup holds 240 mL unless the unit says otherwise (common practice).
    expect((await ask(stay, "07:00", "09:00")).output.sums).toEqual([40, 0]);
    const { findings } = await stay.ask<Answer>("findings");
    const found = findings.filter(({ code }: Answer) => code === "entry-without-effect");
    expect(found).toMatchObject([{ concerns: { entries: ["too-much"] } }]);
    expect(found[0].sentence).toContain("more was given back than came out");
  });
});

describe("late and corrected entries", () => {
  it("move the balance of their own hours and everything cumulated since", async () => {
    const stay = await patient();
    await stay.chart(output("10:00", 300, { id: "void-1" }), intake("11:30", 100));
    expect((await ask(stay, "09:00", "12:00")).cumulative).toEqual([-300, -300, -200]);
    await stay.chart(
      { kind: "entry-amended", entry: "void-1", reason: "Misread", replacement: output("10:00", 200) },
      intake("09:30", 50),
    );
    const amended = await ask(stay, "09:00", "12:00");
    expect([amended.net, amended.cumulative]).toEqual([
      [-150, 0, 100],
      [-150, -150, -50],
    ]);
    await stay.chart({ kind: "entry-voided", entry: "void-1", reason: "Another patient's" });
    expect((await ask(stay, "09:00", "12:00")).net).toEqual([50, 0, 100]);
  });
});

describe("a channel without a rate", () => {
  const feed = [
    { kind: "line-placed", at: at("07:00"), line: "tube", label: "Feeding tube", route: "enteral" },
    {
      ...channel("07:00", "channel-connected", { line: "tube", type: "metered", totals: "combined" }),
      clearsOn: [],
    },
    channel("07:00", "bag-hung", {
      bag: "feed",
      volume: 500,
      fluid: { name: "Feed", category: "enteral-feed" },
    }),
  ];
  const read = (clock: string, volume: number) => channel(clock, "total-read", { total: "combined", volume });

  it("that was stopped is not unknown any more, and goes on when it is resumed", async () => {
    const stay = await patient();
    await stay.chart(...feed, read("08:00", 60), channel("08:00", "flow-stopped"));
    const { intake: taken } = await ask(stay, "07:00", "11:00");
    expect(taken.sums).toEqual([60, 0, 0, 0]);
    expect(taken.certainty).toEqual(["exact", "exact", "exact", "exact"]);
    await stay.chart(channel("09:00", "flow-resumed"));
    expect((await ask(stay, "07:00", "11:00")).intake.certainty).toEqual([
      "exact",
      "exact",
      "at-least",
      "at-least",
    ]);
    const { findings } = await stay.ask<Answer>("findings");
    expect(findings.map(({ code }: Answer) => code)).not.toContain("entry-without-effect");
  });
});

describe("a reading in dispute", () => {
  it("leaves what it covers uncertain, and what no flow accounts for says so", async () => {
    const stay = await patient();
    const [line, connected, ...rest] = pump(100);
    await stay.chart(line!, { ...connected, totals: "separate" }, ...rest);
    await stay.chart(channel("09:00", "total-read", { total: "primary", volume: 300, confirmed: true }));
    const { intake: taken, netCertainty } = await ask(stay, "07:00", "10:00");
    expect([taken.sums, taken.certainty]).toEqual([
      [100, 200, 100],
      ["uncertain", "uncertain", "exact"],
    ]);
    expect(netCertainty).toEqual(["uncertain", "uncertain", "exact"]);
    expect(row(taken, "iv-fluid").parts.map(({ label }: Answer) => label)).toContain(
      "Left forearm, Saline, pump-1: read beyond what was charted",
    );
  });
});
