/** What sheets of paper say, before anything is laid out: from answers put together by hand. */

import { describe, expect, it } from "vitest";
import { chartOf } from "../../src/page/print/chart.js";
import { handoverOf } from "../../src/page/print/handover.js";
import { parts } from "../../src/page/print/hours.js";
import { pageRule } from "../../src/page/print/page-rule.js";
import { pageOf, usualPaper } from "../../src/page/print/paper.js";
import type { Block, Line, Sheet } from "../../src/page/print/sheet.js";
import { aChannel, aShift, at, CONVENTIONS, DIGEST, sourceOf } from "./a-shift.js";

const said = (line: Line) =>
  line
    .map(({ text }) => text)
    .join("")
    .replaceAll("\u00a0", " ");

/** Every line of a block, cells of a row parted by bars. */
function linesOf(block: Block): string[] {
  switch (block.kind) {
    case "heading":
      return [block.text];
    case "sentences":
      return block.lines.map(said);
    case "facts":
      return block.facts.map(({ name, value }) => `${name} ${said(value)}`);
    case "table":
      return block.rows.map(({ cells }) => cells.map((cell) => cell.map(said).join(" ")).join(" | "));
    case "drawing":
      return block.shapes.flatMap((shape) => (shape.kind === "text" ? [shape.text] : []));
    case "room":
      return [block.label];
    case "signing":
      return [...block.fields];
  }
}

/** The lines under a heading. */
function under({ blocks }: Sheet, heading: string): string[] {
  const from = blocks.findIndex((block) => block.kind === "heading" && block.text.startsWith(heading));
  const rest = from === -1 ? [] : blocks.slice(from + 1);
  const to = rest.findIndex(({ kind }) => kind === "heading");
  return rest.slice(0, to === -1 ? rest.length : to).flatMap(linesOf);
}

const handover = (...source: Parameters<typeof sourceOf>) => handoverOf(sourceOf(...source));
const chart = (...source: Parameters<typeof sourceOf>) => chartOf(sourceOf(...source));

describe("every page", () => {
  it("says who, where, and which shift with its date and offset", () => {
    const { identity } = handover(aShift());
    expect(identity).toMatchObject({ name: "Imaginary Person", identifier: "P-20417", place: "Bed 12" });
    expect(identity.shift).toBe("Wednesday, March 4 (2026-03-04), Day 07:00 to 19:00, UTC\u221206:00");
  });

  it("says of an earlier shift where the patient lies at present", () => {
    const source = sourceOf(aShift());
    const shifts = ["night", "day"].map((name) => ({
      ...{ date: "2026-03-04", name, label: name },
      ...{ start: at("07:00"), end: at("19:00") },
    }));
    const placeOf = (all: typeof shifts) =>
      handoverOf({ ...source, stay: { ...source.stay, shifts: all } }).identity.place;
    expect(placeOf(shifts)).toBe("At present: Bed 12");
    expect(placeOf(shifts.toReversed())).toBe("Bed 12");
  });

  it("says both offsets of a shift over a clock change, and up to when one that runs is computed", () => {
    const night = {
      start: at("19:00"),
      end: "2026-03-05T07:00:00-05:00",
      until: "2026-03-05T01:30:00-06:00",
    };
    expect(chart(aShift(night)).identity.shift).toContain(
      "19:00 (UTC\u221206:00) to 07:00 (UTC\u221205:00), computed up to 01:30",
    );
  });

  it("holds the caution and the digest of the last entry that is known", () => {
    const { foot } = chart(aShift());
    expect(foot.caution).toContain("look at the device, the bag and the patient first");
    expect(foot.record).toContain(`2026-03-04 18:50 (UTC\u221206:00). Digest of the last: ${DIGEST}.`);
    expect(foot.record).toContain("Printed by Nell Daytime");
  });
});

describe("a handover", () => {
  it("says what runs, from which bag, and until when it lasts, with its date where that is another", () => {
    expect(under(handover(aShift()), "What runs")).toEqual([
      "Left forearm | pump-1 | 50 mL/h, Sodium chloride 0.9 % | saline-1 | 1,000 mL |  | 350 mL | 02:00 (Mar 5)",
    ]);
  });

  it("says what each device should show, the most that nobody has written down first, with room to write", () => {
    const [total] = aChannel().totals;
    const other = aChannel({ channel: "pump-2", totals: [{ ...total!, atRisk: 400, atLeast: true }] });
    const read = aChannel({ channel: "pump-3", totals: [{ ...total!, atRisk: 0 }] });
    const channels = [aChannel(), read, other];
    const totals = { at: at("19:00"), channels, chambers: [] };
    expect(under(handover(aShift({ totals })), "What the devices should show at 19:00")).toEqual([
      "pump-2 | Primary total | 650 mL | 350 mL | at least 400 mL since 13:00 | ",
      "pump-1 | Primary total | 650 mL | 350 mL | 300 mL since 13:00 | ",
      "pump-3 | Primary total | 650 mL | 350 mL | written down | ",
    ]);
  });

  it("says each finding with the one act that settles it, questions first", () => {
    const note = {
      id: "a",
      code: "late-entry",
      severity: "note",
      state: "open",
      concerns: { entries: [] },
      sentence: "Something was late.",
      settledBy: [],
    } as const;
    const question = { ...note, id: "b", code: "totals-lost", severity: "question" } as const;
    const settledBy = [{ text: "A late reading." }, { text: "Another." }];
    const findings = [
      { ...note, settledBy: [], concerns: { entries: [] } },
      { ...question, settledBy, concerns: { entries: [], channel: "pump-1", start: at("13:00") } },
    ];
    expect(under(handover(aShift({ findings })), "Open")).toEqual([
      "A total lost Question, pump-1, 13:00 | Something was late. What settles it: A late reading. | ",
      "Charted late Note | Something was late. | ",
    ]);
  });

  it("says the sums, and nothing of doubt where there is none", () => {
    const sheet = handover(aShift());
    expect(under(sheet, "Intake, output and urine")).toEqual([
      "Intake 600 mL",
      "Output 300 mL",
      "Net 300 mL",
      "Brought forward 1,000 mL",
      "Net since admission 1,300 mL",
    ]);
    expect(under(sheet, "Not known and not measured")).toEqual([
      "Every minute of the shift is known, and nothing was left unmeasured.",
    ]);
  });

  it("says at least where it holds, and why", () => {
    const shift = aShift();
    const [row] = shift.volumes.rows;
    const rows = [{ ...row!, unknown: [20, ...Array<number>(11).fill(0)] }];
    const intake = { ...shift.balance.intake, totalCertainty: "at-least" as const };
    const unmeasured = [
      { side: "output" as const, key: "emesis" as const, label: "Emesis", occurrences: [], total: 2 },
    ];
    const sheet = handover(
      aShift({
        volumes: { ...shift.volumes, rows },
        balance: { ...shift.balance, intake, unmeasured, unmeasuredBefore: 1 },
      }),
    );
    const sums = under(sheet, "Intake, output and urine");
    expect(sums[0]).toBe("Intake at least 600 mL");
    expect(sums.at(-1)).toContain("stand where minutes are not known or something was not measured");
    expect(under(sheet, "Not known and not measured")).toEqual([
      "Left forearm: 20 min not known.",
      "Emesis: 2 times, not measured",
      "Before this shift once something was not measured.",
    ]);
  });

  it("says who signed for what, and that it changed since", () => {
    const by = { id: "n", name: "Nico Nighttime", role: "nurse" } as const;
    const figure = {
      row: { of: "net" as const, key: null, label: "Net" },
      start: at("07:00"),
      end: at("08:00"),
      signed: 1,
      now: 2,
    };
    const signature: ReturnType<typeof aShift>["signatures"][number] = {
      id: "s",
      unit: "east",
      signedAt: at("19:05"),
      by,
      from: at("07:00"),
      to: at("19:00"),
      digest: "ab".repeat(32),
      calculation: "1",
      remark: "One bag was not weighed.",
      open: [],
      unknown: [],
      unmeasured: [],
      sequence: 40,
      state: "corrected",
      stands: [],
      conventions: [],
      differences: [{ ...figure, causes: [] }],
    };
    expect(under(handover(aShift({ state: "corrected", signatures: [signature] })), "Signature")).toEqual([
      "Signed, and changed since.",
      "1 signed figure is another now.",
      "Signed by Nico Nighttime 2026-03-04 19:05 (UTC\u221206:00), for 07:00 to 19:00: figures changed since.",
      "Remark: One bag was not weighed.",
      `Digest of the figures: ${"ab".repeat(32)}`,
      "Notes",
      "Handed over by",
      "Taken over by",
      "Date and time",
    ]);
  });
});

describe("a chart", () => {
  it("has every hour of every row with its sum, and nothing in hours still to come", () => {
    const shift = aShift();
    const [first, ...later] = shift.volumes.rows[0]!.volumes;
    const rows = [{ ...shift.volumes.rows[0]!, volumes: [first!, ...later.map(() => null)], total: 50 }];
    const volumes = { ...shift.volumes, rows, sums: [first!, ...later.map(() => null)], total: 50 };
    const empty = " | ".repeat(11);
    expect(under(chart(aShift({ volumes, until: at("08:00") })), "Delivered by line").slice(0, 2)).toEqual([
      `Left forearm | 50${empty} | 50`,
      `All lines | 50${empty} | 50`,
    ]);
    const balance = under(chart(shift), "Intake and output");
    expect(balance[2]).toBe(`Urine${" | 0".repeat(11)} | 300 | 300`);
    expect(balance[4]).toBe(`Net${" | 50".repeat(11)} | \u2212250 | 300`);
    expect(balance).toContain("Brought forward: 1,000 mL.");
  });

  it("tells by a stroke what a figure of a line rests on", () => {
    const shift = aShift();
    const basis = (["measured", "apportioned", "disputed", "unknown", "computed"] as const).flatMap((one) => [
      one,
      one,
    ]);
    const rows = [{ ...shift.volumes.rows[0]!, basis: [...basis, null, null] }];
    const { blocks } = chart(aShift({ volumes: { ...shift.volumes, rows } }));
    const table = blocks.find((block) => block.kind === "table");
    const strokes = table?.rows[0]?.cells.slice(1, 11).map((cell) => cell.at(-1)?.[0]?.basis);
    expect(strokes).toEqual(basis);
  });

  it("goes on in parts where there are more hours than a page is wide, the sums in the last", () => {
    expect(parts(12)).toEqual([[0, 12]]);
    expect(parts(13)).toEqual([[0, 13]]);
    expect(parts(24)).toEqual([
      [0, 12],
      [12, 24],
    ]);
    expect(parts(25)).toEqual([
      [0, 13],
      [13, 25],
    ]);
    expect(parts(0)).toEqual([[0, 0]]);
  });

  it("lists what was charted late, when it was recorded and by whom", () => {
    const source = sourceOf(aShift());
    const by = { id: "n", name: "Nico Nighttime", role: "nurse" } as const;
    const recording = { sequence: 9, source: "person", digest: "", state: "current", by } as const;
    const entry = (id: string, clock: string) => ({
      id,
      kind: "output-measured" as const,
      at: at("09:00"),
      category: "urine",
      volume: 90,
      recorded: { ...recording, at: at(clock) },
    });
    const sheet = {
      ...source.sheet,
      entries: [entry("a", "10:59"), entry("b", "11:01"), entry("c", "11:01")],
    };
    expect(under(chartOf({ ...source, sheet }), "Charted late")).toEqual([
      "Recorded at 11:01 by Nico Nighttime. 09:00: Output measured, Urine, 90 mL; 09:00: Output measured, Urine, 90 mL.",
    ]);
  });

  it("says by which conventions, each with its time where they changed", () => {
    const one = under(chart(aShift()), "Conventions in force");
    expect(one).toHaveLength(1);
    for (const text of [
      "rounded to 0.1 mL",
      "belongs to the hour that ends there",
      "Blood products count as intake.",
      "Flushes are in no total.",
      "What was given back is taken off the output.",
      "Ice counts for 0.5 of its volume.",
      "share of theirs: porridge 0.6.",
      "cup 240 mL",
    ]) {
      expect(one[0]).toContain(text);
    }
    const conventions = [
      { ...CONVENTIONS, end: at("12:00") },
      { ...CONVENTIONS, start: at("12:00"), iceFraction: 1 },
    ];
    const two = under(chart(aShift({ balance: { ...aShift().balance, conventions } })), "Conventions");
    expect(two.map((text) => text.slice(0, 20))).toEqual(["From 07:00 to 12:00:", "From 12:00 to 19:00:"]);
    expect(two[1]).toContain("Ice counts for 1 of its volume.");
  });
});

describe("paper", () => {
  it("is as large as the standards say", () => {
    // ISO 216 in millimetres; 8.5 by 11 in of 72 points.
    expect(pageOf("a4", false).height).toBeCloseTo((297 * 72) / 25.4);
    expect(pageOf("letter", true).width).toBeCloseTo(792);
    expect(pageOf("letter", true).height).toBeCloseTo(612);
  });

  it("is US Letter where that is in the printers", () => {
    expect(usualPaper(["en-US", "en"])).toBe("letter");
    expect(usualPaper(["es", "es-MX"])).toBe("letter");
    expect(usualPaper(["en-GB", "en-US"])).toBe("a4");
    expect(usualPaper([])).toBe("a4");
  });

  it("is told to the browser with the number of each page, whatever the words hold", () => {
    const rule = pageRule("letter", true, (page, of) => `"${page}" \\ ${of}`);
    expect(rule).toContain("size: letter landscape");
    expect(rule).toContain('content: "\\22 " counter(page) "\\22  \\5c  " counter(pages) ""');
  });
});
