/** What sheets ask for and what entries they make, from the shift that is shown; and which acts make sense. */

import { describe, expect, it } from "vitest";
import type { ChannelTotals, Entry, Finding, RunningTotal, Settings } from "../../src/page/api/shapes.js";
import type { ShiftSheet } from "../../src/page/api/sheet.js";
import { actsOf } from "../../src/page/record/acts.js";
import { effectsOf } from "../../src/page/record/effects.js";
import { enteredIn, type Form } from "../../src/page/record/form.js";
import type { Asking } from "../../src/page/record/forms/asking.js";
import { bagKey } from "../../src/page/record/forms/bag.js";
import { formOf, type Opened } from "../../src/page/record/opened.js";
import { settling } from "../../src/page/record/settling.js";
import { speechIn } from "../../src/page/words/speech.js";

const AT = "2026-03-04T18:46:00-06:00";

const total = (name: "primary" | "secondary", atRisk: number): RunningTotal => ({
  ...{ total: name, expected: 500 + atRisk, lastReading: 500, atRisk, since: AT, atLeast: false },
  flows: [],
});

const running: ChannelTotals = {
  ...{ channel: "pump-1", line: "forearm", lineLabel: "Left forearm", connected: true },
  ...{ delivering: "primary", hold: "none", segments: null },
  flow: { bag: "sodium-1", role: "primary", rate: 75, left: 400, emptyAt: null, endsAt: null },
  totals: [total("primary", 40), total("secondary", 100)],
};

const hanging = {
  ...{ id: "bag", kind: "bag-hung", at: AT, bag: "sodium-1", channel: "pump-1", volume: 1000 },
  fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
} as unknown as Entry;

function sheetOf(channels: readonly ChannelTotals[]): ShiftSheet {
  const shift = {
    ...{ shift: "2026-03-04/day", start: "2026-03-04T07:00:00-06:00", end: "2026-03-04T19:00:00-06:00" },
    ...{ zone: "America/Chicago", until: AT, totals: { at: AT, channels, chambers: [] } },
    volumes: { rows: [{ key: "forearm", label: "Left forearm", total: 900 }] },
    balance: { netTotal: 500, output: { rows: [] } },
  };
  return { shift, hangings: [hanging], entries: [] } as unknown as ShiftSheet;
}

const asking: Asking = { sheet: sheetOf([running]), speech: speechIn("en", ["en-US"]), settings: null };

/** What a form makes of what was entered. */
function made(form: Form, values: Record<string, string>) {
  const held = { ...form.initial, ...values };
  return form.entries(enteredIn(form.fields(held), held, "."), form.timed ? AT : "");
}

const open = (opened: Opened) => formOf(opened, asking);

describe("a sheet", () => {
  it("writes down the totals of a channel that were read, the one asked about first", () => {
    const form = open({ act: "reading", channel: "pump-1", total: "secondary" });
    expect(form.fields({}).map(({ label }) => label)).toEqual(["Secondary total", "Primary total"]);
    expect(made(form, {})).toBeNull();
    expect(made(form, { "pump-1 secondary": "0" })).toEqual([
      { kind: "total-read", at: AT, channel: "pump-1", total: "secondary", volume: 0 },
    ]);
  });

  it("writes down all that is open, the largest first", () => {
    const form = open({ act: "readings" });
    expect(form.fields({}).map(({ label }) => label)).toEqual([
      "pump-1, Secondary total",
      "pump-1, Primary total",
    ]);
    expect(made(form, { "pump-1 primary": "540", "pump-1 secondary": "100" })).toHaveLength(2);
  });

  it("changes the rate of what runs: the primary's, a secondary's, or drops of a set", () => {
    const change = { kind: "rate-changed", at: AT, channel: "pump-1" };
    expect(made(open({ act: "rate", channel: "pump-1" }), { rate: "62.5" })).toEqual([
      { ...change, role: "primary", rate: 62.5 },
    ]);
    const secondary: ChannelTotals = { ...running, delivering: "secondary" };
    const during = formOf({ act: "rate", channel: "pump-1" }, { ...asking, sheet: sheetOf([secondary]) });
    expect(made(during, { rate: "150" })).toEqual([{ ...change, role: "secondary", rate: 150 }]);
    expect(made(during, { rate: "80", role: "primary" })).toEqual([{ ...change, role: "primary", rate: 80 }]);
    const dripping: ChannelTotals = { ...running, flow: { ...running.flow!, dripRate: 25 } };
    const drops = formOf({ act: "rate", channel: "pump-1" }, { ...asking, sheet: sheetOf([dripping]) });
    expect(drops.fields({})).toMatchObject([{ unit: "drops/min" }]);
    expect(made(drops, { rate: "20" })).toEqual([{ ...change, role: "primary", dripRate: 20 }]);
  });

  it("hangs a bag under a key that no bag of the stay has, and starts it where nothing runs", () => {
    const hung = {
      kind: "bag-hung",
      role: "primary",
      at: AT,
      channel: "pump-1",
      volume: 500,
      bag: "sodium-2",
    };
    const known = { fluid: "Sodium chloride 0.9 %", volume: "500", rate: "80" };
    // While it flows the rate stays as it is: it is not asked for.
    expect(made(open({ act: "bag", channel: "pump-1" }), known)).toMatchObject([hung]);
    const still: ChannelTotals = { ...running, delivering: "nothing", flow: null };
    const starting = formOf({ act: "bag", channel: "pump-1" }, { ...asking, sheet: sheetOf([still]) });
    expect(made(starting, known)).toMatchObject([hung, { kind: "flow-started", rate: 80 }]);
    expect(bagKey(asking, "Ringer's lactate")).toBe("ringer-1");
    expect(bagKey(asking, "5 %")).toBe("bag-1");
  });

  it("starts a secondary with its bag or out of the primary's, and asks about the clamp of a fast one", () => {
    const form = open({ act: "secondary", channel: "pump-1" });
    const keys = (rate: string) => form.fields({ rate }).map(({ key }) => key);
    expect(keys("300")).not.toContain("clamped");
    expect(keys("301")).toContain("clamped");
    expect(made(form, { fluid: "flush", volume: "20", rate: "301", clamped: "no" })).toEqual([
      {
        ...{ kind: "secondary-started", at: AT, channel: "pump-1", rate: 301, volumeToInfuse: 20 },
        primaryClamped: false,
      },
    ]);
    const drug = { fluid: "A medication in dextrose 5 %", drug: "Cefazolin", volume: "50", rate: "100" };
    expect(made(form, { ...drug, amount: "2", unit: "g" })).toMatchObject([
      {
        fluid: { name: "Cefazolin in dextrose 5 %", category: "iv-medication" },
        additives: [{ name: "Cefazolin", amount: 2, unit: "g" }],
      },
      { kind: "secondary-started" },
    ]);
  });

  it("writes down an output that was seen and not measured as having happened", () => {
    const form = open({ act: "output" });
    const seen = { category: "emesis", measured: "no", volume: "120" };
    expect(made(form, seen)).toEqual([
      { kind: "output-measured", at: AT, category: "emesis", occurrences: 1 },
    ]);
    expect(made(form, { ...seen, measured: "yes" })).toMatchObject([{ volume: 120 }]);
  });

  it("writes down an intake by a measure of the unit's table, where it is taken by mouth", () => {
    const settings = { household: { cup: 240 } } as unknown as Settings;
    const form = formOf({ act: "intake" }, { ...asking, settings });
    const asked = (category: string) => form.fields({ category, measure: "cup" }).map(({ key }) => key);
    expect(asked("oral")).toEqual(["category", "count", "measure", "item"]);
    expect(asked("iv-push")).toEqual(["category", "volume", "item"]);
    const base = { kind: "intake-measured", at: AT };
    expect(made(form, { category: "oral", measure: "cup", count: "0.5", item: "Tea" })).toEqual([
      { ...base, category: "oral", measure: { name: "cup", count: 0.5 }, item: "Tea" },
    ]);
    expect(made(form, { category: "iv-push", measure: "cup", volume: "10" })).toEqual([
      { ...base, category: "iv-push", volume: 10 },
    ]);
  });

  it("reads or empties a chamber, and leaves open what it held where nobody looked", () => {
    const chamber = { chamber: "chest-left", category: "chest-drain", lastReading: 180 };
    const sheet = sheetOf([running]);
    (sheet.shift.totals.chambers as object[]).push(chamber);
    const form = formOf({ act: "output" }, { ...asking, sheet });
    const chosen = { category: "chamber chest-left" };
    const base = { at: AT, chamber: "chest-left" };
    expect(made(form, chosen)).toBeNull();
    expect(made(form, { ...chosen, level: "210" })).toEqual([{ kind: "chamber-read", ...base, level: 210 }]);
    const emptied = { ...chosen, emptied: "yes" };
    expect(made(form, { ...emptied, level: "210" })).toEqual([
      { kind: "chamber-emptied", ...base, level: 210 },
    ]);
    expect(made(form, emptied)).toEqual([{ kind: "chamber-emptied", ...base }]);
  });

  it("places a new line, under a key of its own", () => {
    const form = open({ act: "connect" });
    expect(made(form, { line: "new", label: "Left forearm 20 G", type: "syringe" })).toMatchObject([
      { kind: "line-placed", line: "left-forearm-20-g", route: "intravenous" },
      { kind: "channel-connected", channel: "syringe-1", line: "left-forearm-20-g", totals: "separate" },
    ]);
    expect(made(form, { line: "forearm", type: "pump" })).toMatchObject([
      { kind: "channel-connected", channel: "pump-2", line: "forearm" },
    ]);
  });

  it("puts right what was charted, keeps its second, and leaves out that it was confirmed", () => {
    const read = {
      ...{
        id: "r",
        kind: "total-read",
        at: "2026-03-04T18:40:30-06:00",
        channel: "pump-1",
        total: "primary",
      },
      ...{ volume: 500, confirmed: true, recorded: { state: "current" } },
    } as unknown as Entry;
    const form = open({ act: "amend", entry: read });
    const held = { ...form.initial, volume: "505", reason: "number" };
    const entered = enteredIn(form.fields(held), held, ".");
    const amended = (at: string) => form.entries(entered, at)?.[0];
    expect(amended("2026-03-04T18:40:00-06:00")).toEqual({
      kind: "entry-amended",
      entry: "r",
      reason: "Wrong number",
      replacement: {
        ...{ kind: "total-read", at: "2026-03-04T18:40:30-06:00", channel: "pump-1" },
        ...{ total: "primary", volume: 505 },
      },
    });
    expect(amended(AT)).toMatchObject({ replacement: { at: AT } });
  });

  it("undoes the last of several entries first", () => {
    const entries = [hanging, { ...hanging, id: "start", kind: "flow-started" }] as unknown as Entry[];
    const voids = made(open({ act: "void", entries }), { reason: "twice" });
    expect(voids).toEqual([
      { kind: "entry-voided", entry: "start", reason: "Recorded twice" },
      { kind: "entry-voided", entry: "bag", reason: "Recorded twice" },
    ]);
  });
});

describe("the acts of a channel", () => {
  const still: ChannelTotals = { ...running, delivering: "nothing", flow: null };
  it.each<[string, ChannelTotals, string[], string[]]>([
    ["that runs", running, ["rate", "pause", "secondary", "therapy"], ["resume", "end-secondary"]],
    ["in a secondary", { ...running, delivering: "secondary" }, ["end-secondary"], ["stop-bolus"]],
    ["in a bolus", { ...running, delivering: "bolus" }, ["stop-bolus"], ["end-secondary"]],
    ["that is paused", { ...still, hold: "paused" }, ["resume", "rate"], ["pause"]],
    ["with nothing flowing", still, ["bag", "start"], ["rate", "pause", "stop"]],
    ["without totals", { ...running, totals: [] }, ["rate"], ["reading", "therapy", "reset"]],
  ])("%s make sense", (_, channel, some, none) => {
    const acts: string[] = actsOf(channel);
    expect(acts).toEqual(expect.arrayContaining(some));
    for (const act of none) expect(acts).not.toContain(act);
  });

  it("are none of one that is not connected", () => {
    expect(actsOf({ ...running, connected: false })).toEqual([]);
  });
});

describe("a finding is settled by", () => {
  const finding = (code: Finding["code"], more: Partial<Finding> = {}): Finding => ({
    ...{ id: code, code, severity: "attention", state: "open", sentence: "" },
    concerns: { channel: "pump-1", entries: [] },
    settledBy: [{ text: "An act." }],
    ...more,
  });

  it("the entry that is ready, filled in, else the act of its kind where that makes sense", () => {
    const entry = { kind: "total-read", at: AT, channel: "pump-1", total: "primary" } as const;
    const ready = finding("totals-lost", { settledBy: [{ text: "Read it.", entry, fill: ["/volume"] }] });
    const opened = settling(ready, 0, [running]);
    expect(opened).toMatchObject({ act: "settle" });
    expect(made(open(opened as Opened), { "/0/volume": "812" })).toEqual([{ ...entry, volume: 812 }]);
    expect(settling(finding("flow-without-bag"), 0, [running])).toEqual({ act: "bag", channel: "pump-1" });
    expect(settling(finding("pause-not-ended"), 0, [running])).toBeNull();
    expect(settling(finding("late-entry"), 0, [running])).toBeNull();
  });

  it("the channel with most to lose, where it is about a flow nobody looked at; a shift's own signature", () => {
    const other: ChannelTotals = { ...running, channel: "pump-2", totals: [total("primary", 900)] };
    const unattended = finding("flow-unattended", { concerns: { channel: null, entries: [] } });
    expect(settling(unattended, 0, [running, other])).toEqual({ act: "reading", channel: "pump-2" });
    const unsigned = finding("shift-unsigned", { concerns: { shift: "2026-03-03/night", entries: [] } });
    expect(settling(unsigned, 0, [])).toEqual({ act: "sign", shift: "2026-03-03/night" });
  });
});

describe("what recording would do", () => {
  it("is said hour by hour, or of the shift where several hours change, and what runs then", () => {
    const row = { line: "forearm", label: "Left forearm" };
    const hour = (start: number, before: number, after: number) => ({
      ...{ row, before, after },
      start: `2026-03-04T${start}:00:00-06:00`,
      end: `2026-03-04T${start + 1}:00:00-06:00`,
    });
    const flow = { ...running.flow!, rate: 60, emptyAt: "2026-03-05T02:02:30-06:00" };
    const would = (effects: ReturnType<typeof hour>[]) => ({
      ...{ ledger: { sequence: 1, digest: "" }, entries: [], effects },
      totals: [{ ...running, flow }],
      findings: [],
    });
    const said = (effects: ReturnType<typeof hour>[]) =>
      effectsOf(would(effects), asking.sheet, asking.speech).map(({ text }) =>
        text.replaceAll("\u00a0", " "),
      );
    expect(said([hour(18, 57.5, 51)])).toEqual([
      "Left forearm, 18:00–19:00: 57.5 mL becomes 51 mL",
      "pump-1 then runs at 60 mL/h, bag empty about 02:02",
    ]);
    expect(said([hour(17, 75, 60), hour(18, 57.5, 51)])[0]).toBe(
      "Left forearm, the shift: 900 mL becomes 878.5 mL",
    );
  });
});
