/** From what was posted to what the calculation sees: whole microlitres, instants, and defaults. */

import { describe, expect, it } from "vitest";
import type { Entry } from "../../src/infusion/entry.js";
import { declaredProperties } from "../../src/wire/declared.js";
import { decodeEntry } from "../../src/wire/decode.js";
import { type PostedEntry, parseEntries } from "../../src/wire/entry.js";
import type { Resolved } from "../../src/wire/resolved.js";

const AT = "2026-03-04T07:00:00-06:00";
const SEVEN = Date.UTC(2026, 2, 4, 13);
const SIX = SEVEN - 3_600_000;
const pump = { at: AT, channel: "pump-1" };
const dose = { value: 5, unit: "mg/h" };

/** Parses, then decodes: what the ledger does with an entry of a request. */
function read(entry: object, resolved?: Resolved): Entry {
  return decodeEntry(posted(entry), resolved);
}

function posted(entry: object): PostedEntry {
  const { entries, faults } = parseEntries({ entries: [entry] });
  if (entries?.[0] === undefined) throw new Error(JSON.stringify(faults));
  return entries[0];
}

const bag = {
  kind: "bag-hung",
  ...pump,
  bag: "saline-1",
  volume: 1000,
  fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
};
const channel = { kind: "channel-connected", ...pump, line: "forearm", type: "pump" };

describe("what an entry says", () => {
  it.each<[object, object]>([
    [
      { kind: "line-placed", at: AT, line: "forearm", label: "Left forearm 20 G", route: "intravenous" },
      { line: "forearm", label: "Left forearm 20 G", route: "intravenous" },
    ],
    [{ kind: "line-removed", at: AT, line: "forearm" }, { line: "forearm" }],
    [
      { ...channel, rateStep: 0.1, dropFactor: 20, clearsOn: ["disconnect", "disconnect"] },
      {
        channel: "pump-1",
        line: "forearm",
        type: "pump",
        totals: "separate",
        clearsOn: ["disconnect"],
        rateStep: 100,
        dropFactor: 20,
      },
    ],
    [
      { ...bag, remaining: 612.5, additives: [{ name: "Potassium chloride", amount: 0.02, unit: "mol" }] },
      {
        channel: "pump-1",
        bag: "saline-1",
        role: "primary",
        volume: 1_000_000,
        remaining: 612_500,
        fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
        additives: [{ name: "Potassium chloride", amount: 20_000, unit: "mol" }],
      },
    ],
    [{ kind: "bag-taken-down", at: AT, bag: "saline-1" }, { bag: "saline-1" }],
    [
      { kind: "bag-level-read", at: AT, bag: "saline-1", remaining: 380, method: "weighed" },
      { bag: "saline-1", remaining: 380_000 },
    ],
    [
      { kind: "bag-adjusted", at: AT, bag: "saline-1", volume: -20.5, reason: "primed" },
      { bag: "saline-1", volume: -20_500 },
    ],
    [
      { kind: "flow-started", ...pump, rate: 75, volumeToInfuse: 500, keepOpenRate: 0.5 },
      { channel: "pump-1", rate: 75_000, volumeToInfuse: 500_000, keepOpenRate: 500 },
    ],
    [
      { kind: "flow-started", ...pump, rate: "unknown", volumeToInfuse: "none" },
      { channel: "pump-1", rate: "unknown", volumeToInfuse: "none" },
    ],
    [
      { kind: "rate-changed", ...pump, role: "secondary", rate: 0.001 },
      { channel: "pump-1", role: "secondary", rate: 1 },
    ],
    [
      { kind: "volume-to-infuse-set", ...pump, volumeToInfuse: 250 },
      { channel: "pump-1", role: "primary", volumeToInfuse: 250_000 },
    ],
    [{ kind: "flow-paused", ...pump, reason: "alarming" }, { channel: "pump-1" }],
    [{ kind: "flow-resumed", ...pump }, { channel: "pump-1" }],
    [
      { kind: "flow-stopped", ...pump, order: -2 },
      { channel: "pump-1", order: -2 },
    ],
    [
      { kind: "secondary-started", ...pump, rate: 200, volumeToInfuse: 100 },
      { channel: "pump-1", rate: 200_000, volumeToInfuse: 100_000, whenDone: "resume-primary" },
    ],
    [{ kind: "secondary-ended", ...pump }, { channel: "pump-1" }],
    [
      { kind: "bolus-started", ...pump, volume: 250, rate: 999, whenDone: "wait" },
      { channel: "pump-1", volume: 250_000, rate: 999_000, whenDone: "wait" },
    ],
    [{ kind: "bolus-stopped", ...pump }, { channel: "pump-1" }],
    [
      {
        kind: "delivery-lost",
        ...pump,
        from: "2026-03-04T06:00:00-06:00",
        to: AT,
        volume: "unknown",
        reason: "leaked",
      },
      { channel: "pump-1", from: SIX, to: SEVEN, volume: "unknown", reason: "leaked" },
    ],
    [
      { kind: "total-read", ...pump, total: "primary", volume: 162.5, position: "before", confirmed: true },
      { channel: "pump-1", total: "primary", volume: 162_500, position: "before" },
    ],
    [
      { kind: "totals-reset", ...pump },
      { channel: "pump-1", totals: ["primary", "secondary", "combined"] },
    ],
    [
      { kind: "totals-reset", ...pump, totals: ["secondary"] },
      { channel: "pump-1", totals: ["secondary"] },
    ],
    [{ kind: "therapy-changed", ...pump }, { channel: "pump-1" }],
    [
      { kind: "variance-settled", at: AT, reading: "reading-1", use: "computed", reason: "Misread" },
      { reading: "reading-1", use: "computed" },
    ],
    [
      {
        kind: "intake-measured",
        at: AT,
        category: "oral",
        volume: 150,
        item: "Water",
        from: "2026-03-04T12:00:00Z",
      },
      { category: "oral", volume: 150_000, item: "Water", from: SIX },
    ],
    [
      { kind: "intake-measured", at: AT, category: "oral", measure: { name: "cup", count: 0.5 } },
      { category: "oral", measure: { name: "cup", count: 500 } },
    ],
    [
      { kind: "output-measured", at: AT, category: "urine", volume: 320, site: "bladder" },
      { category: "urine", volume: 320_000, site: "bladder" },
    ],
    [
      { kind: "output-measured", at: AT, category: "gastric", volume: 120, returned: 80 },
      { category: "gastric", volume: 120_000, returned: 80_000 },
    ],
    [
      { kind: "output-measured", at: AT, category: "emesis", measure: { name: "cup", count: 0.5 } },
      { category: "emesis", measure: { name: "cup", count: 500 } },
    ],
    [
      { kind: "output-measured", at: AT, category: "urine", weighed: { wet: 212.5, dry: 38 } },
      { category: "urine", weighed: { wet: 212_500, dry: 38_000 } },
    ],
    [
      {
        kind: "output-measured",
        at: AT,
        category: "stool",
        occurrences: 2,
        from: "2026-03-04T12:00:00Z",
      },
      { category: "stool", occurrences: 2, from: SIX },
    ],
    [
      { kind: "irrigant-instilled", at: AT, site: "bladder", volume: 3000 },
      { site: "bladder", volume: 3_000_000 },
    ],
    [
      { kind: "chamber-placed", at: AT, chamber: "chest-left", category: "chest-drain" },
      { chamber: "chest-left" },
    ],
    [{ kind: "chamber-read", at: AT, chamber: "chest-left", level: 180 }, { chamber: "chest-left" }],
    [{ kind: "chamber-emptied", at: AT, chamber: "chest-left" }, { chamber: "chest-left" }],
    [
      { kind: "away-started", at: AT, place: "Theatre", flows: "unknown" },
      { place: "Theatre", flows: "unknown" },
    ],
    [{ kind: "away-ended", at: AT }, {}],
    [
      { kind: "weight-measured", at: AT, weight: { value: 72.4, unit: "kg" } },
      { weight: { value: 72_400, unit: "kg" } },
    ],
    [
      { kind: "segment-read", ...pump, start: "2026-03-04T12:00:00Z", volume: 37.5 },
      { channel: "pump-1", start: SIX, volume: 37_500 },
    ],
  ])("%o", (entry, expected) => {
    const { kind } = entry as { kind: string };
    expect(read(entry)).toMatchObject({ kind, at: SEVEN, ...expected });
  });
});

describe("what a dose, drops or a duration came to is handed in", () => {
  it.each<[object, Resolved, object]>([
    [{ kind: "flow-started", ...pump, dose }, { rate: 12.5 }, { rate: 12_500, volumeToInfuse: "bag" }],
    [{ kind: "flow-started", ...pump, dripRate: 20 }, { rate: 60 }, { rate: 60_000 }],
    [{ kind: "flow-started", ...pump, over: "PT8H", volumeToInfuse: 1000 }, { rate: 125 }, { rate: 125_000 }],
    [{ kind: "rate-changed", ...pump, dose }, { rate: 13 }, { role: "primary", rate: 13_000 }],
    [{ kind: "secondary-started", ...pump, over: "PT30M" }, { rate: 200 }, { rate: 200_000 }],
    [
      { kind: "bolus-started", ...pump, dose: { value: 2, unit: "mg" }, over: "PT5M" },
      { rate: 48, volume: 4 },
      { rate: 48_000, volume: 4_000, whenDone: "return" },
    ],
    [
      { kind: "bolus-started", ...pump, volume: 250, over: "PT15M" },
      { rate: 1000 },
      { rate: 1_000_000, volume: 250_000 },
    ],
  ])("%o", (entry, resolved, expected) => {
    expect(read(entry, resolved)).toMatchObject(expected);
  });

  it("but a rate sent beside a dose is what flows", () => {
    expect(read({ kind: "flow-started", ...pump, rate: 12, dose }, { rate: 12.5 })).toMatchObject({
      rate: 12_000,
    });
  });

  it("and is missed where it is missing", () => {
    expect(() => read({ kind: "flow-started", ...pump, dose })).toThrow(RangeError);
    const bolus = { kind: "bolus-started", ...pump, dose: { value: 2, unit: "mg" }, rate: 48 };
    expect(() => read(bolus)).toThrow(RangeError);
  });

  it("and a correction is no fact by itself", () => {
    expect(() => read({ kind: "entry-voided", entry: "start-1", reason: "Wrong patient" })).toThrow(
      TypeError,
    );
  });
});

describe("what a declaration says for good", () => {
  const declared = (entry: object) => declaredProperties(posted(entry));

  it("is the same where only the place differs", () => {
    expect(declared({ ...bag, channel: "pump-2", role: "secondary", remaining: 400 })).toEqual(declared(bag));
    expect(declared({ ...channel, line: "neck", device: "A-7" })).toEqual(declared(channel));
  });

  it("is the same where a default is spelled out, or a list is in another order", () => {
    expect(declared({ ...channel, totals: "separate", clearsOn: ["therapy-change"] })).toEqual(
      declared(channel),
    );
    const both = { ...channel, clearsOn: ["disconnect", "therapy-change"] };
    expect(declared({ ...channel, clearsOn: ["therapy-change", "disconnect"] })).toEqual(declared(both));
    const additives = [
      { name: "Potassium chloride", amount: 20, unit: "mmol" },
      { name: "Magnesium sulfate", amount: 2, unit: "g" },
    ];
    const reversed = declared({ ...bag, additives: additives.toReversed() });
    expect(declared({ ...bag, additives })).toEqual(reversed);
    expect(reversed).not.toEqual(declared(bag));
  });

  it.each<[string, object, object]>([
    ["the label volume", bag, { volume: 500 }],
    ["the fluid", bag, { fluid: { name: "Glucose 5 %", category: "iv-fluid" } }],
    ["the key of a bag", bag, { bag: "saline-2" }],
    ["the type", channel, { type: "syringe" }],
    ["the totals", channel, { totals: "combined" }],
    ["the rate step", channel, { rateStep: 0.1 }],
    ["the highest rate", channel, { maxRate: 999 }],
    ["the drop factor", channel, { dropFactor: 20 }],
  ])("differs with %s", (_, entry, change) => {
    expect(declared({ ...entry, ...change })).not.toEqual(declared(entry));
  });

  it("is canonical JSON under a key with its sort", () => {
    const line = { kind: "line-placed", at: AT, line: "forearm", route: "intravenous", label: "Left" };
    expect(declared(line)).toEqual({ key: "line:forearm", text: '{"label":"Left","route":"intravenous"}' });
    expect(declared(bag)?.key).toBe("bag:saline-1");
    expect(declared(channel)?.key).toBe("channel:pump-1");
    expect(declared({ kind: "flow-started", ...pump, rate: 75 })).toBeUndefined();
  });
});
