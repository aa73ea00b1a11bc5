/** The order of the round, and which shift it is about. */

import { describe, expect, it } from "vitest";
import type { AuditedEncounter, Encounter, Finding, ShiftFigures } from "../../src/page/api/shapes.js";
import { shiftAt, shiftBeside } from "../../src/page/round/shifts.js";
import { byBed, byStake, countedByCode, type RoundRow, rowOf } from "../../src/page/round/standing.js";

interface Invented {
  readonly bed: string;
  readonly atRisk?: number[];
  readonly unknown?: number;
  readonly unsigned?: number;
  readonly open?: Finding["severity"][];
}

/** Only what the order looks at. */
function patient({ bed, atRisk = [], unknown = 0, unsigned = 0, open = [] }: Invented): RoundRow {
  const values = { "unknown-minutes": unknown, "unsigned-minutes": unsigned };
  const audited = { encounter: `stay-${bed}`, values } as AuditedEncounter;
  const findings = open.map((severity) => ({ severity, state: "open", code: "totals-at-risk" }));
  const channels = [{ totals: atRisk.map((volume) => ({ atRisk: volume, atLeast: false })) }];
  const shift = { totals: { channels }, findings } as unknown as ShiftFigures;
  return rowOf(audited, { bed } as Encounter, shift);
}

const beds = (rows: readonly RoundRow[]) => rows.map(({ stay }) => stay?.bed);

describe("what is most at stake", () => {
  it("is a question, then volume nobody wrote down, then time nobody knows, then the rest", () => {
    const rows = [
      patient({ bed: "1", unsigned: 700 }),
      patient({ bed: "2", open: ["attention"] }),
      patient({ bed: "3", unknown: 30 }),
      patient({ bed: "4", atRisk: [10] }),
      patient({ bed: "5", open: ["question"] }),
      patient({ bed: "6", atRisk: [6, 6], open: ["note"] }),
    ];
    expect(beds(byStake(rows))).toEqual(["5", "6", "4", "3", "2", "1"]);
  });

  it("is by the bed where nothing tells patients apart, counted as people count", () => {
    const rows = ["12", "2", "1"].map((bed) => patient({ bed, unsigned: 60 }));
    expect(beds(byStake(rows))).toEqual(["1", "2", "12"]);
    expect(beds([...rows].sort(byBed))).toEqual(["1", "2", "12"]);
  });

  it("adds up running totals to the microlitre, and says when there may be more", () => {
    const row = patient({ bed: "1", atRisk: [0.1, 0.2] });
    expect(row.unwritten).toBe(0.3);
    expect(row.atLeast).toBe(false);
  });

  it("keeps the place of a patient whose figures are still asked for", () => {
    const audited = { encounter: "stay-9", values: { "unknown-minutes": 45 } } as AuditedEncounter;
    const waiting = rowOf(audited, undefined, null);
    expect(byStake([patient({ bed: "1", unsigned: 60 }), waiting])[0]).toBe(waiting);
  });

  it("says each code once, the gravest first", () => {
    const { open } = patient({ bed: "1", open: ["note", "question"] });
    expect(open.map(({ severity }) => severity)).toEqual(["question", "note"]);
    expect(countedByCode(open)).toEqual([["totals-at-risk", 2]]);
  });
});

describe("the shift of a unit", () => {
  const unit = {
    zone: "America/Chicago",
    shifts: [
      { name: "day", starts: "07:00", label: "Day" },
      { name: "night", starts: "19:00", label: "Night" },
    ],
  };

  it.each([
    ["2026-03-04T13:00:00Z", "2026-03-04/day"],
    ["2026-03-04T12:59:00Z", "2026-03-03/night"],
    ["2026-03-05T01:00:00Z", "2026-03-04/night"],
    // Midnight on the ward, and the night still goes on.
    ["2026-03-05T06:00:00Z", "2026-03-04/night"],
  ])("at %s is %s", (instant, shift) => {
    expect(shiftAt(unit, Date.parse(instant))).toBe(shift);
  });

  it("has one before and one after, over midnight and the turn of the year", () => {
    expect(shiftBeside(unit, "2026-03-04/day", 1)).toBe("2026-03-04/night");
    expect(shiftBeside(unit, "2026-03-04/night", 1)).toBe("2026-03-05/day");
    expect(shiftBeside(unit, "2026-01-01/day", -1)).toBe("2025-12-31/night");
    expect(shiftBeside(unit, "2026-03-04/evening", 1)).toBeNull();
  });

  it("that begins before midnight and ends after is named by the date on which it starts", () => {
    const late = { ...unit, shifts: [{ name: "whole", starts: "23:00", label: "Whole" }] };
    expect(shiftAt(late, Date.parse("2026-03-05T04:30:00Z"))).toBe("2026-03-03/whole");
    expect(shiftBeside(late, "2026-03-04/whole", -1)).toBe("2026-03-03/whole");
  });
});
