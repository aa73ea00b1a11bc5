/** What is wrong with posted entries: every fault at once, each at its place and with its code. */

import { describe, expect, it } from "vitest";
import { parseEntries } from "../../src/wire/entry.js";

const AT = "2026-03-04T07:00:00-06:00";
const HOUR_BEFORE = "2026-03-04T06:00:00-06:00";

/** The faults of one entry, as `place code`, the place being below the entry. */
function faultsOf(entry: unknown): string[] {
  const { faults = [] } = parseEntries({ entries: [entry] });
  return faults.map(({ pointer, code }) => `${pointer.replace("#/entries/0", "") || "/"} ${code}`).sort();
}

const start = (fields: object) => ({ kind: "flow-started", at: AT, channel: "pump-1", ...fields });
const bolus = (fields: object) => ({ kind: "bolus-started", at: AT, channel: "pump-1", ...fields });
const output = (fields: object) => ({ kind: "output-measured", at: AT, category: "urine", ...fields });
const intake = (fields: object) => ({ kind: "intake-measured", at: AT, category: "oral", ...fields });
const reset = (fields: object) => ({ kind: "totals-reset", at: AT, channel: "pump-1", ...fields });
const amend = (fields: object) => ({
  kind: "entry-amended",
  entry: "start-1",
  reason: "Wrong channel",
  ...fields,
});

describe("how fast a flow starts is told in exactly one way", () => {
  it.each<[string, object, string[]]>([
    ["a rate", { rate: 75 }, []],
    ["a dose", { dose: { value: 0.05, unit: "ug/kg/min" } }, []],
    ["a rate and the dose it stands for", { rate: 5.4, dose: { value: 5, unit: "ug/min" } }, []],
    ["drops per minute", { dripRate: 20 }, []],
    ["a time for the volume", { over: "PT8H", volumeToInfuse: 1000 }, []],
    ["a time for what the bag holds", { over: "PT8H" }, []],
    ["nobody knows", { rate: "unknown" }, []],
    ["none of them", {}, ["/ exactly-one-of"]],
    ["a rate and a time", { rate: 75, over: "PT8H" }, ["/ exactly-one-of"]],
    ["a rate and drops", { rate: 75, dripRate: 20 }, ["/ exactly-one-of"]],
    ["a dose and drops", { dose: { value: 5, unit: "mg/h" }, dripRate: 20 }, ["/ exactly-one-of"]],
    ["no number beside a dose", { rate: "unknown", dose: { value: 5, unit: "mg/h" } }, ["/rate wrong-type"]],
    ["a bad rate and a time", { rate: "75", over: "PT8H" }, ["/ exactly-one-of"]],
    ["a rate below 0", { rate: -5 }, ["/rate out-of-range"]],
    ["a rate of 0", { rate: 0 }, ["/rate out-of-range"]],
    ["a rate too fine", { rate: 75.1234 }, ["/rate too-many-decimals"]],
    ["a rate in a text", { rate: "75" }, ["/rate wrong-type"]],
    ["a rate of null", { rate: null }, ["/rate wrong-type"]],
    ["a dose without its unit", { dose: { value: 5 } }, ["/dose/unit required"]],
    ["a dose that is a number", { dose: 5 }, ["/dose wrong-type"]],
    ["a time that is none", { over: "8 hours" }, ["/over wrong-form"]],
    ["a time for no limit", { over: "PT8H", volumeToInfuse: "none" }, ["/volumeToInfuse wrong-type"]],
  ])("%s", (_, fields, faults) => {
    expect(faultsOf(start(fields))).toEqual(faults);
  });

  it("names the choices", () => {
    const { faults } = parseEntries({ entries: [start({})] });
    expect(faults?.[0]?.detail).toContain('rate and/or dose, dripRate, over, or rate "unknown"');
  });

  it("is asked beside whatever else is wrong", () => {
    const entry = start({ at: "2026-03-04T07:00:00", colour: "red" });
    expect(faultsOf(entry)).toEqual(["/ exactly-one-of", "/at no-offset", "/colour unknown-field"]);
  });

  it("is not asked where it was told and something else is wrong", () => {
    const entry = start({ at: "2026-03-04T07:00:00", colour: "red", rate: -5, channel: undefined });
    expect(faultsOf(entry)).toEqual([
      "/at no-offset",
      "/channel required",
      "/colour unknown-field",
      "/rate out-of-range",
    ]);
  });
});

describe("a volume to infuse", () => {
  it.each<[unknown, string[]]>([
    [500, []],
    ["none", []],
    [undefined, []],
    [null, ["/volumeToInfuse wrong-type"]],
    ["bag", ["/volumeToInfuse wrong-type"]],
    [-1, ["/volumeToInfuse out-of-range"]],
    [0.0005, ["/volumeToInfuse too-many-decimals"]],
  ])("%j", (volumeToInfuse, faults) => {
    expect(faultsOf(start({ rate: 75, volumeToInfuse }))).toEqual(faults);
  });
});

describe("each kind refuses what it does not mean", () => {
  it.each<[string, unknown, string[]]>([
    ["a kind nobody knows", { kind: "bag-spun", at: AT }, ["/kind unknown-kind"]],
    ["a kind only the ledger writes", { kind: "admitted", at: AT }, ["/kind unknown-kind"]],
    ["no kind", { at: AT }, ["/kind required"]],
    ["a kind that is a number", { kind: 5 }, ["/kind wrong-type"]],
    ["an entry that is a list", [], ["/ wrong-type"]],
    ["an entry that is null", null, ["/ wrong-type"]],
    ["a bolus without its speed", bolus({ volume: 250 }), ["/ exactly-one-of"]],
    [
      "a bolus told twice",
      bolus({ volume: 250, dose: { value: 1, unit: "mg" }, rate: 9 }),
      ["/ exactly-one-of"],
    ],
    ["a bolus of no volume", bolus({ volume: 0, rate: 300 }), ["/volume out-of-range"]],
    ["an output without how much", output({}), ["/ exactly-one-of"]],
    ["an output both measured and counted", output({ volume: 50, occurrences: 1 }), ["/ exactly-one-of"]],
    ["half an occurrence", output({ occurrences: 0.5 }), ["/occurrences too-many-decimals"]],
    ["a pad lighter wet than dry", output({ weighed: { wet: 38, dry: 212 } }), ["/weighed inconsistent"]],
    ["more given back than came", output({ volume: 50, returned: 80 }), ["/returned inconsistent"]],
    ["all given back that came", output({ volume: 80.001, returned: 80.001 }), []],
    [
      "more given back than a pad took up",
      output({ weighed: { wet: 212.3, dry: 38.2 }, returned: 174.101 }),
      ["/returned inconsistent"],
    ],
    [
      "all given back that a pad took up",
      output({ weighed: { wet: 212.3, dry: 38.2 }, returned: 174.1 }),
      [],
    ],
    ["a pad as heavy wet as dry", output({ weighed: { wet: 38, dry: 38 } }), []],
    ["urine taken in", intake({ category: "urine", volume: 50 }), ["/category not-one-of"]],
    ["an intake whose period ends as it starts", intake({ volume: 50, from: AT }), ["/from inconsistent"]],
    ["an intake of a period", intake({ volume: 50, from: HOUR_BEFORE }), []],
    [
      "a drink measured in two ways",
      intake({ volume: 50, measure: { name: "cup", count: 1 } }),
      ["/ exactly-one-of"],
    ],
    ["a reset of nothing", reset({ totals: [] }), ["/totals out-of-range"]],
    ["a reset of an unknown total", reset({ totals: ["all"] }), ["/totals/0 not-one-of"]],
    ["a reset between one instant", reset({ between: [AT] }), ["/between out-of-range"]],
    [
      "a reset between the later and the earlier",
      reset({ between: [AT, HOUR_BEFORE] }),
      ["/between inconsistent"],
    ],
    ["a reset between two instants", reset({ between: [HOUR_BEFORE, AT] }), []],
    [
      "totals left for a reason nobody gives",
      reset({ leaveUncaptured: { reason: "other" } }),
      ["/leaveUncaptured/text required"],
    ],
    [
      "totals left for an unknown reason",
      reset({ leaveUncaptured: { reason: "busy" } }),
      ["/leaveUncaptured/reason not-one-of"],
    ],
    [
      "a bag that priming filled",
      { kind: "bag-adjusted", at: AT, bag: "saline-1", volume: 20, reason: "primed" },
      ["/volume inconsistent"],
    ],
    [
      "a bag that an addition emptied",
      { kind: "bag-adjusted", at: AT, bag: "saline-1", volume: -20, reason: "added" },
      ["/volume inconsistent"],
    ],
    [
      "a loss that ends before it starts",
      { kind: "delivery-lost", at: AT, channel: "p", from: AT, to: HOUR_BEFORE, volume: 5, reason: "leaked" },
      ["/from inconsistent"],
    ],
    [
      "a level without how it was read",
      { kind: "bag-level-read", at: AT, bag: "b", remaining: 5 },
      ["/method required"],
    ],
    [
      "an amendment that has a time",
      amend({ at: AT, replacement: start({ rate: 5 }) }),
      ["/at unknown-field"],
    ],
    [
      "a replacement with an id",
      amend({ replacement: start({ rate: 5, id: "x" }) }),
      ["/replacement/id unknown-field"],
    ],
    [
      "a replacement that corrects",
      amend({ replacement: { kind: "entry-voided" } }),
      ["/replacement/kind unknown-kind"],
    ],
    ["a replacement without its rate", amend({ replacement: start({}) }), ["/replacement exactly-one-of"]],
    ["a void without its reason", { kind: "entry-voided", entry: "start-1" }, ["/reason required"]],
  ])("%s", (_, entry, faults) => {
    expect(faultsOf(entry)).toEqual(faults);
  });
});

describe("keys, texts and order", () => {
  it.each<[string, object, string[]]>([
    ["a key of 64 characters", { line: "x".repeat(64) }, []],
    ["a key of 65", { line: "x".repeat(65) }, ["/line wrong-form"]],
    ["a key with a space", { line: "left arm" }, ["/line wrong-form"]],
    ["an empty key", { line: "" }, ["/line wrong-form"]],
    ["an id with a slash", { id: "a/b" }, ["/id wrong-form"]],
    ["a note of two lines", { note: "first\nsecond" }, []],
    ["a note with a tab", { note: "first\tsecond" }, ["/note wrong-form"]],
    ["a blank note", { note: " \n" }, ["/note wrong-form"]],
    ["half a surrogate pair", { note: "\ud83d" }, ["/note wrong-form"]],
    ["a note of 500 characters beyond the basic plane", { note: "💧".repeat(500) }, []],
    ["a note of 501", { note: "💧".repeat(501) }, ["/note too-long"]],
    ["an order of -1000", { order: -1_000 }, []],
    ["an order of 1001", { order: 1_001 }, ["/order out-of-range"]],
    ["an order between two", { order: 0.5 }, ["/order too-many-decimals"]],
  ])("%s", (_, fields, faults) => {
    expect(faultsOf({ kind: "line-removed", at: AT, line: "forearm", ...fields })).toEqual(faults);
  });

  it("points at unknown fields by RFC 6901, in its URI fragment form", () => {
    const entry = { kind: "line-removed", at: AT, line: "forearm", "a/b~c d": 1, "\ud83d": 2 };
    // ~ is ~0, / is ~1, the space %20; half a surrogate pair becomes U+FFFD, EF BF BD in UTF-8.
    expect(faultsOf(entry)).toEqual(["/%EF%BF%BD unknown-field", "/a~1b~0c%20d unknown-field"]);
  });

  it("does not overlook a field named __proto__", () => {
    const entry = JSON.parse(`{"kind":"line-removed","at":"${AT}","line":"forearm","__proto__":{}}`);
    expect(faultsOf(entry)).toEqual(["/__proto__ unknown-field"]);
  });
});

describe("the body", () => {
  const one = { kind: "line-removed", at: AT, line: "forearm" };

  it.each<[string, unknown, string[]]>([
    ["that is no object", 5, ["# wrong-type"]],
    ["that is a list of entries", [one], ["# wrong-type"]],
    ["without entries", {}, ["#/entries required"]],
    ["with no entry", { entries: [] }, ["#/entries out-of-range"]],
    ["with 501 entries", { entries: Array(501).fill(one) }, ["#/entries out-of-range"]],
    ["with something else besides", { entries: [one], dryRun: true }, ["#/dryRun unknown-field"]],
  ])("%s", (_, body, faults) => {
    expect(parseEntries(body).faults?.map(({ pointer, code }) => `${pointer} ${code}`)).toEqual(faults);
  });

  it("has the faults of all its entries named at once", () => {
    const { faults } = parseEntries({ entries: [one, start({ rate: -5 }), { kind: "bag-spun" }] });
    expect(faults?.map(({ pointer }) => pointer)).toEqual(["#/entries/1/rate", "#/entries/2/kind"]);
  });

  it("has no more than 1,000 faults named", () => {
    const fields = Object.fromEntries(Array.from({ length: 2_000 }, (_, n) => [`field-${n}`, n]));
    expect(parseEntries({ entries: [{ ...one, ...fields }] }).faults).toHaveLength(1_000);
  });

  it("of 500 entries passes, and nothing is filled in", () => {
    const entries = Array.from({ length: 500 }, (_, n) => ({ ...one, id: `entry-${n}` }));
    expect(parseEntries({ entries }).entries).toEqual(entries);
    const hung = {
      kind: "bag-hung",
      at: AT,
      channel: "pump-1",
      bag: "saline-1",
      volume: 1000,
      fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
    };
    expect(parseEntries({ entries: [hung] }).entries).toStrictEqual([hung]);
  });
});
