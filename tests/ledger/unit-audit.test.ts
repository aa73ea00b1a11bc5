/**
 * Every measure of the audit, of a stay in which it is nothing and of one in which it is something; whose numbers
 * they are when patients come and go. Expected values are worked out by hand: 75 mL/h from 07:00.
 */

import { describe, expect, it } from "vitest";
import { MEASURES } from "../../src/audit/measures.js";
import { read, reset } from "./asking.js";
import { done, type Json, NURSE, PUMPS, Stay } from "./stay.js";
import {
  amend,
  at,
  change,
  cup,
  drank,
  hang,
  line,
  on,
  pump,
  running,
  start,
  type Told,
  void_,
  weighed,
  when,
} from "./telling.js";

const CHARGE = { ...NURSE, id: "c-1", name: "C. Charge", role: "charge-nurse" };

const output = (clock: string, more: Told = {}): Told => ({
  kind: "output-measured",
  at: at(clock),
  category: "urine",
  ...more,
});

/** A stay that runs since 07:00, charted as it happens; it is 19:30 where nothing else is said. */
async function charted(...told: readonly Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "07:00" });
  await stay.post(running());
  const timeOf = (one: Told) => when((one.at as string | undefined) ?? "14:00");
  for (const one of [...told].sort((a, b) => timeOf(a) - timeOf(b))) {
    await stay.itIs(Math.max(stay.now, timeOf(one))).post([one]);
  }
  return stay.itIs("19:30");
}

/** The values of measures of the one encounter of a shift. */
async function values(stay: Stay, shift?: string, query?: Parameters<Stay["audit"]>[1]): Promise<Json> {
  const { encounters } = await stay.audit(shift, query);
  expect(encounters).toHaveLength(1);
  return encounters[0].values;
}

const only = (all: Json, ...names: string[]) => Object.fromEntries(names.map((name) => [name, all[name]]));

/** A quiet shift: everything read, nothing in doubt. */
const QUIET = [read("13:00", 450), read("19:00", 900), output("12:00", { volume: 300 })];

describe("a shift in which nothing is wrong", () => {
  it("has nothing to look at but that it is not signed", async () => {
    expect(await values(await charted(...QUIET))).toEqual({
      "signed-within-10": null,
      "signed-within-50": null,
      "signed-furthest": null,
      readings: 2,
      "readings-apart": 0,
      "readings-furthest": 0,
      "charted-within-10": null,
      "charted-within-50": null,
      "charted-furthest": null,
      "charted-apart": null,
      "lines-running": 1,
      "lines-without-entries": 1,
      "longest-without-entry": 360,
      "unknown-minutes": 0,
      "clears-unread": 0,
      "clears-unread-volume": 0,
      "unmeasured-output": 0,
      "irrigated-sites": 0,
      "irrigant-instilled": null,
      "irrigant-retained": null,
      "irrigant-exceeding": null,
      "late-entries": 0,
      "longest-delay": null,
      amendments: 0,
      voids: 0,
      "unsigned-minutes": 720,
      "signed-spans": 0,
      "changed-spans": null,
      "carrier-volume": 0,
      "carrier-uncounted": 0,
      "carrier-uncharted": null,
      "weight-missing": false,
      "brought-forward-known": true,
      "brought-forward-since": at("06:00"),
    });
  });

  it("says of every measure what it is, in what unit, and of whom it is told and counted", async () => {
    const { measures } = await (await charted()).audit();
    expect(measures.map(({ key }: Json) => key)).toEqual(MEASURES.map(({ key }) => key));
    for (const { key, label, unit, definition, counting, n, of } of measures) {
      expect([label.length > 5, definition.endsWith("."), counting.endsWith(".")], key).toEqual([
        true,
        true,
        true,
      ]);
      expect(["mL", "min", "count", "yes/no", "instant"], key).toContain(unit);
      expect(n, key).toBeLessThanOrEqual(of);
    }
  });
});

describe("totals", () => {
  it("that were signed are held against what is computed now", async () => {
    const stay = await charted(...QUIET);
    await stay.signs("2026-03-04/day");
    const names = [
      "signed-within-10",
      "signed-within-50",
      "signed-furthest",
      "signed-spans",
      "changed-spans",
    ];
    expect(only(await values(stay), ...names, "unsigned-minutes")).toEqual({
      ...{ "signed-within-10": true, "signed-within-50": true, "signed-furthest": 0 },
      ...{ "signed-spans": 1, "changed-spans": 0, "unsigned-minutes": 0 },
    });
    // A drink nobody had charted: the hour, intake and net are 30 mL others.
    await stay.post([drank("10:30", 30)]);
    expect(only(await values(stay), ...names)).toEqual({
      ...{ "signed-within-10": false, "signed-within-50": true, "signed-furthest": 30 },
      ...{ "signed-spans": 1, "changed-spans": 1 },
    });
    await stay.post([drank("10:40", 40)]);
    expect((await values(stay))["signed-within-50"]).toBe(false);
  });

  it("that were read are judged by what they gained", async () => {
    // By 10:00 225 mL were computed: 235 is within 5 %, by 13:00 the device says 90 mL more than it gained.
    const stay = await charted(read("10:00", 235), read("13:00", 550, { confirmed: true }));
    expect(only(await values(stay), "readings", "readings-apart", "readings-furthest")).toEqual({
      ...{ readings: 2, "readings-apart": 1, "readings-furthest": 90 },
    });
    expect(only(await values(await charted()), "readings", "readings-apart", "readings-furthest")).toEqual({
      ...{ readings: 0, "readings-apart": null, "readings-furthest": null },
    });
  });

  it("of a kept chart are held against the ledger's, whatever the unit has set for its findings", async () => {
    const names = ["charted-within-10", "charted-within-50", "charted-furthest", "charted-apart"];
    const keep = async (volume: number) => {
      const stay = await charted(...QUIET);
      const of = { start: at("07:00"), end: at("19:00") };
      const figures = [
        { row: { sum: "intake" as const }, ...of, volume },
        { row: { sum: "output" as const }, ...of, volume: 300 },
      ];
      done(await stay.ledger.keepChart(CHARGE, "stay-1", { figures, shift: "2026-03-04/day" }, null));
      return only(await values(stay), ...names);
    };
    expect(await keep(910)).toEqual({
      ...{ "charted-within-10": true, "charted-within-50": true, "charted-furthest": 10, "charted-apart": 0 },
    });
    expect(await keep(860)).toEqual({
      ...{
        "charted-within-10": false,
        "charted-within-50": true,
        "charted-furthest": 40,
        "charted-apart": 1,
      },
    });
    expect(await keep(849)).toMatchObject({ "charted-within-50": false, "charted-furthest": 51 });
  });
});

describe("lines, and time", () => {
  it("run without entries where nobody charts anything of them for longer than four hours", async () => {
    const names = ["lines-running", "lines-without-entries", "longest-without-entry"];
    const seen = await charted(read("10:30", 262.5), read("14:30", 562.5), read("18:00", 825));
    expect(only(await values(seen), ...names)).toEqual({
      ...{ "lines-running": 1, "lines-without-entries": 0, "longest-without-entry": 240 },
    });
    // A device's own report is nobody's, and what is charted of the other line is none of this one.
    const alone = await charted(line("07:00", "hand"), pump("07:00", { channel: "pump-2", line: "hand" }));
    await alone.itIs("13:00").post([read("13:00", 450)], { as: PUMPS });
    await alone.itIs("19:30").post([hang("16:00", "saline-2", 100, { channel: "pump-2" })]);
    expect(only(await values(alone), ...names)).toEqual({
      ...{ "lines-running": 1, "lines-without-entries": 1, "longest-without-entry": 720 },
    });
  });

  it("do not run below the rate that is attended", async () => {
    const stay = await charted(change("07:01", 5));
    expect(
      only(await values(stay), "lines-running", "lines-without-entries", "longest-without-entry"),
    ).toEqual({
      ...{ "lines-running": 1, "lines-without-entries": 0, "longest-without-entry": 1 },
    });
  });

  it("is unknown after an end that nobody confirmed, and not before it can be told", async () => {
    // 100 mL of label and 10 more of overfill at 75 mL/h end at 18:28 of a flow since 17:00.
    const ended = [hang("17:00", "small", 100), start("17:00", 75, { volumeToInfuse: "none" })];
    const stay = await charted(...ended);
    expect((await values(stay.itIs("18:40")))["unknown-minutes"]).toBe(0);
    expect((await values(stay.itIs("19:30")))["unknown-minutes"]).toBe(32);
    expect((await values(await charted()))["unknown-minutes"]).toBe(0);
  });

  it("is not kept while an end at the very end of the shift may still be confirmed", async () => {
    // 112.5 mL is what 75 mL/h give from 17:26 to 18:56; by 19:05 nobody can tell whether it goes unconfirmed.
    const stay = await charted(start("17:26", 75, { volumeToInfuse: 112.5 }));
    expect((await values(stay.itIs("19:05")))["unknown-minutes"]).toBe(0);
    expect((await values(stay.itIs("19:30")))["unknown-minutes"]).toBe(4);
  });
});

describe("clears", () => {
  it("without a reading are counted with the volume behind them, a reading at the clear saves it", async () => {
    const names = ["clears-unread", "clears-unread-volume"];
    const stay = await charted(read("10:00", 225), reset("12:00"), reset("19:00"));
    // 150 mL since 10:00, and 525 mL since noon: the clear at 19:00 belongs to the shift that ends there.
    expect(only(await values(stay), ...names)).toEqual({ "clears-unread": 2, "clears-unread-volume": 675 });
    await stay.post([read("19:00", 525)]);
    expect(only(await values(stay), ...names)).toEqual({ "clears-unread": 1, "clears-unread-volume": 150 });
    const night = await values(stay.itIs("20:00"), "2026-03-04/night");
    expect(only(night, ...names)).toEqual({ "clears-unread": 0, "clears-unread-volume": 0 });
  });

  it("that a device reported are saved by a reading charted some minutes later by another clock", async () => {
    const stay = await charted(read("10:00", 225));
    await stay.itIs("19:00").post([reset("18:59")], { as: PUMPS });
    await stay.itIs("19:02").post([read("19:01", 897.5)]);
    expect((await values(stay.itIs("19:30")))["clears-unread"]).toBe(0);
  });
});

describe("what comes out", () => {
  it("and nobody measured is counted as having happened", async () => {
    const stay = await charted(output("09:00", { occurrences: 2 }), output("19:00", { occurrences: 1 }));
    expect((await values(stay))["unmeasured-output"]).toBe(3);
  });

  it("with irrigant is told by site: in, still there, and negative", async () => {
    const names = ["irrigated-sites", "irrigant-instilled", "irrigant-retained", "irrigant-exceeding"];
    const instilled = (clock: string, volume: number): Told => ({
      ...{ kind: "irrigant-instilled", at: at(clock), site: "bladder", volume },
    });
    const stay = await charted(
      ...[instilled("08:00", 500), output("10:00", { site: "bladder", volume: 400 })],
      instilled("11:00", 200),
    );
    expect(only(await values(stay), ...names)).toEqual({
      ...{
        "irrigated-sites": 1,
        "irrigant-instilled": 700,
        "irrigant-retained": 200,
        "irrigant-exceeding": 1,
      },
    });
    // In the night it is still there, whenever it went in.
    const night = await values(stay.itIs("23:00"), "2026-03-04/night");
    expect(only(night, ...names)).toEqual({
      ...{ "irrigated-sites": 1, "irrigant-instilled": 0, "irrigant-retained": 200, "irrigant-exceeding": 0 },
    });
  });
});

describe("entries", () => {
  it("are late by when they happened and were recorded", async () => {
    const stay = await charted();
    await stay.itIs("12:00").post([drank("10:00", 50)]);
    expect(only(await values(stay), "late-entries", "longest-delay")).toEqual({
      ...{ "late-entries": 0, "longest-delay": null },
    });
    await stay.itIs("20:30").post([drank("15:00", 50), drank("17:30", 50)]);
    expect(only(await values(stay), "late-entries", "longest-delay")).toEqual({
      ...{ "late-entries": 2, "longest-delay": 330 },
    });
    // By what the unit allows, and also if it decides so afterwards.
    await stay.settle("east", { effectiveFrom: at("07:00"), settings: { lateAfter: "PT4H" } });
    expect((await values(stay))["late-entries"]).toBe(1);
  });

  it("are corrected: amendments and voids of the shift, whenever they were made", async () => {
    const stay = await charted(drank("10:00", 50, { id: "tea" }), drank("11:00", 60, { id: "soup" }));
    await stay.itIs("22:00").post([amend("tea", drank("10:10", 55), { id: "more-tea" }), void_("soup")]);
    expect(only(await values(stay), "amendments", "voids")).toEqual({ amendments: 1, voids: 1 });
    await stay.post([void_("more-tea")]);
    expect(only(await values(stay), "amendments", "voids")).toEqual({ amendments: 1, voids: 2 });
    // Moved into the night it is still a correction of the day's, and one of the night's.
    await stay.post([amend("tea", drank("21:00", 50))]);
    expect((await values(stay)).amendments).toBe(2);
    expect((await values(stay, "2026-03-04/night")).amendments).toBe(2);
  });
});

describe("carriers and flushes", () => {
  const flush = (clock: string, volume: number): Told => ({
    ...{ kind: "intake-measured", at: at(clock), category: "iv-flush", volume },
  });
  const antibiotic = [
    hang("10:00", "antibiotic", 100, {
      role: "secondary",
      fluid: { name: "Drug", category: "iv-medication" },
    }),
    on("10:00", "secondary-started", { rate: 200 }),
    on("10:30", "secondary-ended"),
  ];

  it("are a volume of their own, and outside the totals where the unit has them so", async () => {
    const stay = await charted(...antibiotic, flush("10:35", 20));
    expect(only(await values(stay), "carrier-volume", "carrier-uncounted")).toEqual({
      ...{ "carrier-volume": 120, "carrier-uncounted": 0 },
    });
    await stay.settle("east", { effectiveFrom: at("07:00"), settings: { counts: { flushes: false } } });
    expect(only(await values(stay), "carrier-volume", "carrier-uncounted")).toEqual({
      ...{ "carrier-volume": 120, "carrier-uncounted": 20 },
    });
  });

  it("are left out of a chart that lacks just them", async () => {
    const stay = await charted(...antibiotic, flush("10:35", 20));
    // 75 mL/h for eleven and a half hours is all that was charted.
    const intake = { row: { sum: "intake" as const }, start: at("07:00"), end: at("19:00"), volume: 862.5 };
    done(await stay.ledger.keepChart(CHARGE, "stay-1", { figures: [intake], shift: "2026-03-04/day" }, null));
    expect((await values(stay))["carrier-uncharted"]).toBe(120);
    const whole = { ...intake, volume: 982.5 };
    done(await stay.ledger.keepChart(CHARGE, "stay-1", { figures: [whole], shift: "2026-03-04/day" }, null));
    expect((await values(stay))["carrier-uncharted"]).toBe(0);
  });
});

describe("the weight", () => {
  it("is missing until somebody writes it down in the shift or before", async () => {
    const stay = await Stay.begun({ encounter: { admissionWeight: undefined }, now: "19:30" });
    expect((await values(stay))["weight-missing"]).toBe(true);
    await stay.post([weighed("19:01", 70)]);
    expect((await values(stay))["weight-missing"]).toBe(true);
    await stay.post([weighed("18:00", 70)]);
    expect((await values(stay))["weight-missing"]).toBe(false);
  });
});

describe("the balance brought forward", () => {
  const known = async (stay: Stay, shift = "2026-03-04/night") =>
    only(await values(stay, shift), "brought-forward-known", "brought-forward-since");
  const certainty = async (stay: Stay) => {
    const query = { period: { shift: "2026-03-04/night" }, by: "whole" as const };
    return (done(await stay.ledger.balance("stay-1", query)) as Json).broughtForwardCertainty;
  };

  it("is none where the stay begins in the shift", async () => {
    const stay = await Stay.begun({ encounter: { admittedAt: at("08:00") }, now: "12:00" });
    expect(await known(stay, "2026-03-04/day")).toEqual({
      ...{ "brought-forward-known": null, "brought-forward-since": null },
    });
  });

  it.each<[string, readonly Told[], string]>([
    ["something came out unmeasured", [output("12:00", { occurrences: 1 })], "12:00"],
    [
      "something went in in a measure nobody knows",
      [cup("09:00", { measure: { name: "jug", count: 1 } })],
      "09:00",
    ],
    [
      "nobody knows how much was lost",
      [
        on("11:00", "delivery-lost", {
          from: at("10:00"),
          to: at("11:00"),
          volume: "unknown",
          reason: "leaked",
        }),
      ],
      "11:00",
    ],
    ["a reading is in dispute", [read("10:00", 300, { confirmed: true })], "10:00"],
    ["nobody confirmed an end", [start("17:00", 75, { volumeToInfuse: 75 })], "19:00"],
  ])("is not known where %s, and known from then on", async (_, told, since) => {
    const stay = await charted(...told);
    stay.itIs("20:00");
    expect(await known(stay)).toEqual({
      ...{ "brought-forward-known": false, "brought-forward-since": at(since) },
    });
    expect(await certainty(stay)).not.toBe("exact");
  });

  it("is known since the admission where nothing is in doubt, and again once that is settled", async () => {
    const stay = await charted(output("12:00", { occurrences: 1, id: "unseen" }));
    stay.itIs("20:00");
    expect(await known(stay)).toMatchObject({ "brought-forward-known": false });
    await stay.post([amend("unseen", output("12:00", { volume: 200 }))]);
    expect(await known(stay)).toEqual({
      ...{ "brought-forward-known": true, "brought-forward-since": at("06:00") },
    });
    expect(await certainty(stay)).toBe("exact");
  });
});

describe("over the unit", () => {
  /** Beside the first patient one who came at ten and went at eleven, of whom nothing is charted. */
  async function two(): Promise<Stay> {
    const stay = await charted(output("09:00", { occurrences: 2 }));
    const second = { id: "stay-2", unit: "east", patient: { identifier: "P-2" }, admittedAt: at("10:00") };
    done(await stay.ledger.admit(NURSE, second, null));
    done(await stay.ledger.changeEncounter(NURSE, "stay-2", { discharge: { at: at("11:00") } }));
    return stay.itIs("19:30");
  }

  it("a measure is n of N, and the sum or the most", async () => {
    const stay = await two();
    const { measures, encounters } = await stay.audit();
    const told = (name: string) => {
      const { n, of, value } = measures.find(({ key }: Json) => key === name);
      return [n, of, value];
    };
    expect(encounters.map(({ encounter, from, to }: Json) => [encounter, from, to])).toEqual([
      ["stay-1", at("07:00"), at("19:00")],
      ["stay-2", at("10:00"), at("11:00")],
    ]);
    expect(told("unmeasured-output")).toEqual([1, 2, 2]);
    expect(told("lines-without-entries")).toEqual([1, 1, 1]);
    expect(told("longest-without-entry")).toEqual([1, 1, 720]);
    expect(told("weight-missing")).toEqual([1, 2, null]);
    expect(told("unsigned-minutes")).toEqual([2, 2, 780]);
    expect(told("signed-furthest")).toEqual([0, 0, null]);
  });

  it("minutes that were rounded add up to the unit's, as everything shown does", async () => {
    const stay = await charted();
    const second = { id: "stay-2", unit: "east", patient: { identifier: "P-2" }, admittedAt: at("10:00") };
    done(await stay.ledger.admit(NURSE, second, null));
    // Twenty seconds into a minute of the shift after.
    stay.itIs(when("20:00") + 20_000);
    const { measures, encounters } = await stay.audit("2026-03-04/night");
    const minutes = encounters.map((one: Json) => one.values["unsigned-minutes"]);
    expect(minutes).toEqual([60.4, 60.4]);
    expect(measures.find(({ key }: Json) => key === "unsigned-minutes").value).toBe(120.8);
  });

  it("encounters are shown by measure, and the numbers stay those of all", async () => {
    const stay = await two();
    const shown = async (query: Parameters<Stay["audit"]>[1]) => {
      const { encounters, measures } = await stay.audit(undefined, query);
      expect(measures).toEqual((await stay.audit()).measures);
      return encounters.map(({ encounter }: Json) => encounter);
    };
    expect(await shown({ counted: ["weight-missing"] })).toEqual(["stay-2"]);
    expect(await shown({ notCounted: ["weight-missing"] })).toEqual(["stay-1"]);
    expect(await shown({ notCounted: ["signed-within-10"] })).toEqual([]);
    expect(await shown({ counted: ["unmeasured-output"], notCounted: ["weight-missing"] })).toEqual([
      "stay-1",
    ]);
    expect(await shown({ sort: "unsigned-minutes", order: "least-first" })).toEqual(["stay-2", "stay-1"]);
    expect(await shown({ sort: "unmeasured-output" })).toEqual(["stay-1", "stay-2"]);
    // What cannot be told comes last either way.
    expect(await shown({ sort: "lines-without-entries", order: "least-first" })).toEqual([
      "stay-1",
      "stay-2",
    ]);
  });

  it("a patient who moves is each unit's for its own time, also long after, and as of before is not gone", async () => {
    const stay = await Stay.besideWest({});
    await stay.move("west", "11:30");
    const spans = async (unit: string, shift: string, query = {}) =>
      (await stay.audit(shift, { unit, ...query })).encounters.map(({ from, to }: Json) => [from, to]);
    expect(await spans("east", "2026-03-04/day")).toEqual([[at("07:00"), at("11:30")]]);
    expect(await spans("west", "2026-03-04/early")).toEqual([
      ["2026-03-04T12:30:00-05:00", "2026-03-04T14:00:00-05:00"],
    ]);
    const known = stay.now;
    stay.itIs("6 07:00");
    await stay.move("east", "5 12:00");
    await stay.discharge("6 06:00");
    expect(await spans("east", "2026-03-04/day")).toEqual([[at("07:00"), at("11:30")]]);
    expect(await spans("east", "2026-03-05/night")).toEqual([[at("5 19:00"), at("6 06:00")]]);
    expect(await spans("east", "2026-03-04/day", { recordedBy: known })).toEqual([
      [at("07:00"), at("11:30")],
    ]);
  });

  it("one who left earlier than it was recorded was still here before that was known", async () => {
    const stay = await charted();
    const known = stay.itIs("20:00").now;
    await stay.itIs("21:00").discharge("18:00");
    const shown = async (query = {}) => (await stay.audit("2026-03-04/night", query)).encounters.length;
    expect(await shown()).toBe(0);
    expect(await shown({ recordedBy: known })).toBe(1);
  });

  it("an audit is as of what was recorded by an instant, and up to another", async () => {
    const stay = await charted(...QUIET);
    const then = await stay.audit();
    const known = stay.now;
    await stay.itIs("21:00").post([drank("10:00", 50), output("11:00", { occurrences: 1 })]);
    expect(await stay.audit(undefined, { recordedBy: known })).toEqual(then);
    const { encounters, until } = await stay.audit(undefined, { until: when("12:00") });
    expect([until, encounters[0].to, encounters[0].values.readings]).toEqual([at("12:00"), at("12:00"), 0]);
    expect(encounters[0].values["unmeasured-output"]).toBe(1);
  });

  it("of nobody is none of anything; a shift that has not begun is none", async () => {
    const stay = await charted();
    const { encounters, measures } = await stay.audit("2026-03-01/day");
    expect(encounters).toEqual([]);
    expect(measures.every(({ n, of, value }: Json) => n === 0 && of === 0 && value === null)).toBe(true);
    const all = { counted: [], notCounted: [], order: "most-first" as const };
    for (const shift of ["2026-03-05/day", "2026-03-04/evening"]) {
      const { refused } = await stay.ledger.unitAudit("east", { ...all, shift });
      expect(refused).toMatchObject({ errors: [{ parameter: "shift", code: "not-there" }] });
    }
    const ahead = await stay.ledger.unitAudit("east", {
      ...all,
      shift: "2026-03-04/day",
      recordedBy: when("20:00"),
    });
    expect(ahead.refused).toMatchObject({ errors: [{ parameter: "asOf", code: "in-the-future" }] });
  });
});

it("what is kept is not kept beyond a change of the unit's settings, a discharge, or one taken back", async () => {
  const stay = await charted(...QUIET);
  const same = async () =>
    expect(await stay.audit()).toEqual(await stay.audit(undefined, { ledger: stay.afresh() }));
  await same();
  // From before the stay on: an entry of a time that nothing was asked about.
  await stay.settle("east", {
    effectiveFrom: at("1 07:00"),
    settings: { precision: 10, unattendedAfter: "PT8H" },
  });
  expect((await values(stay))["lines-without-entries"]).toBe(0);
  await same();
  await stay.discharge("18:30");
  expect((await stay.audit()).encounters[0].to).toBe(at("18:30"));
  await same();
  await stay.dischargeUndone();
  expect((await stay.audit()).encounters[0].to).toBe(at("19:00"));
  await same();
});

it("what is kept is not kept beyond what was recorded some minutes ahead and has happened meanwhile", async () => {
  const drug = { fluid: { name: "Drug", category: "iv-medication" } };
  const stay = await charted(hang("07:00", "drug", 1_000, drug));
  // 942.5 mL are computed by 19:34; what was read then says 2 % more of every hour since 07:00.
  await stay.post([read("19:34", 961.35)]);
  expect((await values(stay.itIs("19:31")))["carrier-volume"]).toBe(900);
  expect((await values(stay.itIs("19:35")))["carrier-volume"]).toBe(918);
});
