/** Irrigant as a ward charts it: it finds its site by whatever name, is no intake, and comes off what the site drains. */

import { afterEach, describe, expect, it } from "vitest";
import { type Patient, type Ward, ward } from "../check-values/ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;

let here: Ward | undefined;
afterEach(async () => {
  await here?.close();
  here = undefined;
});

async function patient(settings: object = {}): Promise<Patient> {
  here = await ward("2026-03-06T07:00:00Z", settings);
  return here.admit("stay", at("06:00"));
}

const output = (clock: string, volume: number, more: object = {}) => ({
  kind: "output-measured",
  at: at(clock),
  category: "urine",
  volume,
  ...more,
});
const instilled = (clock: string, volume: number, site = "bladder") => ({
  kind: "irrigant-instilled",
  at: at(clock),
  site,
  volume,
});
const on = (clock: string, kind: string, more: object = {}) => ({
  kind,
  at: at(clock),
  channel: "cbi",
  ...more,
});
const line = (more: object = {}) => ({
  kind: "line-placed",
  at: at("07:00"),
  line: "three-way",
  route: "irrigation",
  ...more,
});
const hung = on("07:00", "bag-hung", {
  bag: "saline-3000",
  volume: 3_000,
  fluid: { name: "Saline", category: "iv-fluid" },
  additives: [{ name: "Amikacin", amount: 3_000, unit: "mg" }],
});
const running = (type: string, rate: number | "unknown", site?: string) => [
  line(site === undefined ? {} : { site }),
  on("07:00", "channel-connected", { line: "three-way", type, totals: "none" }),
  hung,
  on("07:00", "flow-started", { rate }),
];
const emptied = (clock: string, volume: number, site = "bladder") => output(clock, volume, { site });
const lost = (from: string, to: string, volume: number | "unknown") =>
  on(to, "delivery-lost", { from: at(from), to: at(to), volume, reason: "leaked" });

// biome-ignore lint/suspicious/noExplicitAny: the answer is read by the field a test is about; its form has a test of its own
type Answer = any;
const ask = (stay: Patient, from: string, to: string): Promise<Answer> =>
  stay.ask<Answer>(`balance?from=${at(from)}&to=${at(to)}&by=hour`);
const found = async (stay: Patient): Promise<Answer[]> => {
  const { findings } = await stay.ask<Answer>("findings");
  return findings.filter(({ code }: Answer) => code === "irrigant-exceeds-output");
};

describe("a site", () => {
  it.each([
    ["Bladder", "bladder"],
    ["bladder", " BLADDER "],
    ["Urinary bladder, 3-way", "urinary bladder, 3-way"],
    ["Urinary bladder, 3-way", "three-way"],
    [undefined, "three-way"],
  ])("that a line has as %j is emptied as %j", async (site, named) => {
    const stay = await patient();
    await stay.chart(
      ...running("gravity", "unknown", site),
      on("12:00", "flow-stopped"),
      { kind: "bag-level-read", at: at("12:00"), bag: "saline-3000", remaining: 2_750, method: "scale" },
      emptied("12:00", 925, named),
    );
    const answer = await ask(stay, "07:00", "13:00");
    expect(answer.output).toMatchObject({ total: 675, totalCertainty: "exact" });
    const only = { site: site ?? "three-way", instilled: 250, drained: 925, trueOutput: 675, retained: 0 };
    expect(answer.irrigation).toMatchObject([only]);
    expect(answer.output.rows[0].parts).toMatchObject([{ site: only.site, total: 675 }]);
    expect(answer.intake.total).toBe(0);
  });

  it("has one row, as it was charted first, whoever writes it how", async () => {
    const stay = await patient();
    await stay.chart(
      instilled("07:30", 100, "Bladder"),
      emptied("08:00", 300, "bladder"),
      emptied("09:00", 50, "BLADDER"),
      { kind: "chamber-emptied", at: at("10:00"), chamber: "bladder", category: "urine", level: 20 },
    );
    const { output: out, irrigation } = await ask(stay, "07:00", "10:00");
    expect(out.rows[0].parts).toMatchObject([{ site: "Bladder", volumes: [200, 50, 20] }]);
    expect(irrigation).toHaveLength(1);
  });

  it("that has the very name of a line's key is that site, and not the line's", async () => {
    const stay = await patient();
    await stay.chart(
      line({ line: "three-way", site: "Bladder" }),
      line({ line: "other", site: "three-way" }),
      instilled("08:00", 100, "three-way"),
      emptied("09:00", 150, "Three-way"),
      emptied("09:30", 40, "bladder"),
    );
    const { output: out } = await ask(stay, "07:00", "10:00");
    expect(out.rows[0].parts).toMatchObject([
      { site: "Bladder", total: 40 },
      { site: "three-way", total: 50 },
    ]);
  });

  it("that no output names while it holds irrigant is a finding, which says which output to name", async () => {
    const stay = await patient();
    await stay.chart(instilled("08:00", 500), output("10:00", 700, { id: "urine-1" }));
    expect((await ask(stay, "07:00", "11:00")).output.total).toBe(700);
    const [only, ...others] = await found(stay);
    expect(others).toEqual([]);
    expect(only.sentence).toBe(
      "At 10:00 on 2026-03-04 700 mL came out by no named site while 500 mL of irrigant stood in bladder: if it came from there, irrigant counts as output.",
    );
    const amendment = only.settledBy[0].entry;
    expect(amendment).toMatchObject({ kind: "entry-amended", entry: "urine-1" });
    expect(amendment.replacement).toMatchObject({ kind: "output-measured", volume: 700, site: "bladder" });
    await stay.chart(amendment);
    expect(await found(stay)).toEqual([]);
    expect((await ask(stay, "07:00", "11:00")).output.total).toBe(200);
  });
});

describe("what was lost of irrigant", () => {
  it("came into no site, so that what drained is output by that much more", async () => {
    const stay = await patient();
    await stay.chart(
      ...running("pump", 100),
      lost("07:00", "08:00", 100),
      emptied("09:00", 150, "three-way"),
    );
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.output.sums).toEqual([0, 50]);
    expect(answer.lost).toMatchObject([{ volume: 100, takenOff: 100 }]);
    expect(answer.irrigation).toMatchObject([{ instilled: 100, drained: 150, trueOutput: 50, retained: 0 }]);
    expect(await found(stay)).toEqual([]);
  });

  it("is told after the site was emptied and still comes off that emptying", async () => {
    const stay = await patient();
    await stay.chart(...running("pump", 100), emptied("09:00", 250, "three-way"));
    expect((await ask(stay, "07:00", "09:00")).output.total).toBe(50);
    const leak = lost("07:00", "08:00", 60);
    await stay.chart({ ...leak, at: at("11:00") });
    expect((await ask(stay, "07:00", "09:00")).output.total).toBe(110);
  });

  it("nobody knows how much of leaves the output at least what it says", async () => {
    const stay = await patient();
    await stay.chart(
      ...running("pump", 100),
      lost("07:00", "08:00", "unknown"),
      emptied("09:00", 250, "three-way"),
    );
    const { output: out, irrigation, urine } = await ask(stay, "07:00", "09:00");
    expect(out).toMatchObject({ sums: [0, 50], certainty: ["exact", "at-least"] });
    expect(irrigation).toMatchObject([{ certainty: "uncertain" }]);
    expect(urine[0].why).toBe("Cannot judge, because no weight is known.");
  });
});

describe("what is read of irrigant", () => {
  it("was running in since the level before: an emptying between them has its part of it", async () => {
    const stay = await patient();
    await stay.chart(...running("gravity", "unknown"), emptied("09:00", 900, "three-way"));
    expect((await ask(stay, "07:00", "08:00")).irrigation).toMatchObject([{ certainty: "uncertain" }]);
    const before = await ask(stay, "07:00", "09:00");
    expect(before.output).toMatchObject({ sums: [0, 900], certainty: ["exact", "at-most"] });
    expect(before.irrigation).toMatchObject([{ certainty: "uncertain" }]);
    await stay.chart(
      { kind: "bag-level-read", at: at("11:00"), bag: "saline-3000", remaining: 2_000, method: "scale" },
      emptied("11:00", 800, "three-way"),
    );
    // A litre in four hours: half of it by 09:00.
    const answer = await ask(stay, "07:00", "11:00");
    expect(answer.output).toMatchObject({ sums: [0, 400, 0, 300], totalCertainty: "exact" });
    expect(await found(stay)).toEqual([]);
  });

  it("by a channel that only counts went in by its reading", async () => {
    const stay = await patient();
    const counting = [
      line({ site: "Bladder" }),
      on("07:00", "channel-connected", { line: "three-way", type: "metered", totals: "separate" }),
    ];
    await stay.chart(
      ...counting,
      on("09:00", "total-read", { total: "primary", volume: 400 }),
      emptied("09:00", 550),
      on("10:00", "total-read", { total: "primary", volume: 500 }),
    );
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.output.sums).toEqual([0, 150, 0]);
    expect(answer.irrigation).toMatchObject([{ site: "Bladder", instilled: 500, retained: 100 }]);
    expect(answer.intake).toMatchObject({ total: 0, rows: [] });
  });
});

describe("what goes in by a line that irrigates", () => {
  it("measured by hand is irrigant at its site and no intake", async () => {
    const stay = await patient();
    const flushed = (clock: string, more: object) => ({
      kind: "intake-measured",
      at: at(clock),
      category: "other-intake",
      line: "three-way",
      ...more,
    });
    await stay.chart(line({ site: "Bladder" }), flushed("08:00", { volume: 200 }), emptied("09:00", 260));
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.intake.total).toBe(0);
    expect(answer.output.total).toBe(60);
    expect(answer.irrigation).toMatchObject([{ instilled: 200, drained: 260, trueOutput: 60 }]);
    // In a measure that nobody knows it is still irrigant.
    await stay.chart(flushed("09:30", { measure: { name: "bucket", count: 1 } }), emptied("10:00", 80));
    const unsure = await ask(stay, "09:00", "11:00");
    expect(unsure.output).toMatchObject({ sums: [80, 0], certainty: ["at-most", "exact"] });
    expect(unsure.irrigation).toMatchObject([{ certainty: "uncertain" }]);
    expect(unsure.intake.certainty).toEqual(["exact", "exact"]);
  });

  it("brings no drug to the patient", async () => {
    const stay = await patient();
    await stay.chart(...running("pump", 100));
    const drugs = await stay.ask<Answer>(`drug-amounts?from=${at("07:00")}&to=${at("09:00")}&by=hour`);
    expect(drugs.rows).toEqual([]);
  });
});

describe("the irrigation of a period", () => {
  it("begins and ends as its intervals do, by the rule of the boundary", async () => {
    const charted = [
      instilled("08:00", 100),
      instilled("09:00", 30),
      emptied("09:00", 250),
      instilled("10:00", 40),
    ];
    const of = async (settings: object) => {
      const stay = await patient(settings);
      await stay.chart(...charted);
      const told = [];
      for (const [from, to] of [
        ["07:00", "08:00"],
        ["08:00", "09:00"],
        ["09:00", "10:00"],
      ] as const) {
        const { irrigation, output: out } = await ask(stay, from, to);
        const [{ broughtForward, instilled: into, drained, trueOutput, retained } = {} as Answer] =
          irrigation;
        expect(trueOutput ?? 0).toBe(out.total);
        told.push([broughtForward, into, drained, retained]);
      }
      await here?.close();
      here = undefined;
      return told;
    };
    expect(await of({})).toEqual([
      [0, 100, 0, 100],
      [100, 30, 250, 0],
      [0, 40, 0, 40],
    ]);
    expect(await of({ boundary: "starts" })).toEqual([
      [undefined, undefined, undefined, undefined],
      [0, 100, 0, 100],
      [100, 30, 250, 0],
    ]);
  });

  it("is at least what it says where something came and nobody measured it", async () => {
    const stay = await patient();
    const seen = {
      kind: "output-measured",
      at: at("08:30"),
      category: "urine",
      occurrences: 1,
      site: "bladder",
    };
    await stay.chart(instilled("08:00", 100), seen, emptied("09:00", 150));
    const { irrigation } = await ask(stay, "07:00", "10:00");
    expect(irrigation).toMatchObject([{ drained: 150, trueOutput: 50, certainty: "at-least" }]);
  });

  it("of a chamber emptied unread has drained no more than was seen, and nothing less than nothing is output", async () => {
    const stay = await patient();
    const chamber = (clock: string, doing: string, more: object = {}) => ({
      kind: `chamber-${doing}`,
      at: at(clock),
      chamber: "bag",
      category: "urine",
      ...more,
    });
    await stay.chart(
      chamber("07:00", "placed"),
      instilled("07:30", 500, "bag"),
      chamber("08:00", "read", { level: 100 }),
      chamber("09:00", "emptied", { leaveUncaptured: { reason: "unreadable" } }),
    );
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.output).toMatchObject({ total: 0, totalCertainty: "at-least" });
    expect(answer.irrigation).toMatchObject([
      { instilled: 500, drained: 100, trueOutput: 0, retained: 0, certainty: "at-least" },
    ]);
    expect(await found(stay)).toEqual([]);
  });
});

describe("true output below nothing", () => {
  it("is a finding also where more was counted than came less irrigant", async () => {
    const stay = await patient();
    const chamber = (clock: string, doing: string, level: number) => ({
      kind: `chamber-${doing}`,
      at: at(clock),
      chamber: "bag",
      category: "urine",
      level,
    });
    await stay.chart(
      chamber("07:00", "placed", 0),
      chamber("08:00", "read", 50),
      instilled("08:30", 100, "bag"),
      chamber("09:00", "emptied", 130),
    );
    expect((await ask(stay, "07:00", "09:00")).output.sums).toEqual([50, -20]);
    const sentence =
      "By 09:00 on 2026-03-04 20 mL more irrigant had gone into bag than came out of it since 08:00 on 2026-03-04: the output is negative by that much.";
    expect(await found(stay)).toMatchObject([{ sentence }]);
  });
});
