/** An entry's history: what each correction put in place of what stood before, and whether the entry counts. */

import { describe, expect, it } from "vitest";
import type { Entry, EntryHistory } from "../../src/page/api/shapes.js";
import { changed, correctedBy, stepsOf } from "../../src/page/history/versions.js";

const AT = "2026-03-04T12:00:00-06:00";
const measured = { kind: "output-measured", at: AT, category: "urine", volume: 8500 };

const entry = (id: string, body: object) => ({ id, recorded: {}, ...body }) as unknown as Entry;
const amend = (id: string, replacement: object) =>
  entry(id, { kind: "entry-amended", entry: "urine", reason: "typed", replacement });
const voidOf = (id: string, of: string) =>
  entry(id, { kind: "entry-voided", entry: of, reason: "wrong patient" });
const history = (...amendments: Entry[]) =>
  ({ ...entry("urine", measured), asOf: {}, amendments }) as unknown as EntryHistory;

const told = (of: EntryHistory) =>
  stepsOf(of).map(({ changes, voids, stands }) => ({
    changes: changes.map(({ field, before, after }) => [field, before, after]),
    voids,
    stands,
  }));

describe("the history of an entry", () => {
  it("has each amendment's old values beside the new ones", () => {
    const steps = history(
      amend("a", { ...measured, volume: 850 }),
      amend("b", { ...measured, volume: 850, at: "2026-03-04T11:50:00-06:00", site: "catheter" }),
    );
    expect(told(steps)).toEqual([
      { changes: [], voids: null, stands: true },
      { changes: [["volume", 8500, 850]], voids: null, stands: true },
      {
        changes: [
          ["at", AT, "2026-03-04T11:50:00-06:00"],
          ["site", undefined, "catheter"],
        ],
        voids: null,
        stands: true,
      },
    ]);
  });

  it("says what a void is of: the entry, an amendment whose values go back, or a void", () => {
    const steps = told(
      history(
        amend("a", { ...measured, volume: 850 }),
        voidOf("v", "a"),
        voidOf("w", "urine"),
        voidOf("x", "w"),
      ),
    );
    expect(steps.slice(2)).toEqual([
      { changes: [["volume", 850, 8500]], voids: "amendment", stands: true },
      { changes: [], voids: "entry", stands: false },
      { changes: [], voids: "void", stands: true },
    ]);
  });

  it("tells values inside others apart", () => {
    const bag = { fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" }, volume: 1000 };
    const other = { ...bag, fluid: { ...bag.fluid, name: "Sodium chloride 0.45 %" } };
    expect(changed(bag, other)).toEqual([
      { field: "fluid.name", before: "Sodium chloride 0.9 %", after: "Sodium chloride 0.45 %" },
    ]);
  });

  it("is the corrected entry's, from a correction of a correction too", () => {
    const [amendment, taken] = [amend("a", measured), voidOf("v", "a")];
    expect(correctedBy(taken, [amendment, taken])).toBe("urine");
    expect(correctedBy(entry("urine", measured), [])).toBe("urine");
  });
});
