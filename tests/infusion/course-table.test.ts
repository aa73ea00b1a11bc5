/**
 * Every cell of `src/infusion/course-table.md`: the state is built from entries, the entry is charted at
 * 10:00, and what flows, what the totals should show, what the bags hold and what is noted are compared
 * with what the cell says. The page was filled in from the specification of the calculation.
 */

import { describe, expect, it } from "vitest";
import type { EntryKind, TotalName } from "../../src/infusion/entry.js";
import { plus } from "../../src/infusion/quantity.js";
import { type Bedside, follows, hang, inMl, mLPerHour, on, pump, start, type Told } from "./bedside.js";
import { asFarAsTold, phasesOf, phasesSeen } from "./course-table-course.js";
import { ENTRIES, entryOf } from "./course-table-entries.js";
import { type EntryOnPage, readPage, type StateOnPage } from "./course-table-page.js";
import { STATES } from "./course-table-states.js";

const page = readPage();

const KINDS: Readonly<Record<EntryKind, true>> = {
  "line-placed": true,
  "line-removed": true,
  "channel-connected": true,
  "channel-disconnected": true,
  "bag-hung": true,
  "bag-taken-down": true,
  "bag-level-read": true,
  "bag-adjusted": true,
  "flow-started": true,
  "rate-changed": true,
  "volume-to-infuse-set": true,
  "flow-paused": true,
  "flow-resumed": true,
  "flow-stopped": true,
  "secondary-started": true,
  "secondary-ended": true,
  "bolus-started": true,
  "bolus-stopped": true,
  "delivery-lost": true,
  "total-read": true,
  "totals-reset": true,
  "therapy-changed": true,
  "variance-settled": true,
  "intake-measured": true,
  "output-measured": true,
  "irrigant-instilled": true,
  "chamber-placed": true,
  "chamber-read": true,
  "chamber-emptied": true,
  "away-started": true,
  "away-ended": true,
  "weight-measured": true,
  "segment-read": true,
  admitted: true,
  moved: true,
  discharged: true,
};

describe("the course table is complete", () => {
  it("has a row for every kind of entry", () => {
    const kinds = new Set(page.entries.map(({ entry }) => entry.split(" ")[0]));
    expect([...kinds].sort()).toEqual(Object.keys(KINDS).sort());
  });

  it("describes, builds and fills in the same entries", () => {
    const described = page.entries.map(({ entry }) => entry);
    expect(described).toEqual(Object.keys(ENTRIES));
    expect([...page.cells.keys()]).toEqual(described);
    for (const row of described) expect(entryOf(row, "primary").kind).toBe(row.split(" ")[0]);
  });

  it("has a cell for every state in every row, and no other", () => {
    const states = page.states.map(({ state }) => state);
    expect(states).toEqual(Object.keys(STATES));
    for (const [entry, row] of page.cells) {
      expect([...row.keys()], entry).toEqual(states);
      for (const [state, cell] of row) expect(cell, `${entry}, ${state}`).toMatch(/^\S.*$/);
    }
  });
});

const totalsOf = (seen: Bedside): [number, number] => {
  const counters = seen.state.channels.get("pump-1")?.counters ?? {};
  const shown = (name: TotalName): number => {
    const counter = counters[name];
    return counter === undefined ? 0 : inMl(plus(counter.base, counter.since));
  };
  return [shown("primary"), shown("secondary")];
};

const bagsOf = (seen: Bedside): Record<string, number> =>
  Object.fromEntries([...seen.state.bags, ...seen.state.shelf].map(([key, { holds }]) => [key, inMl(holds)]));

describe.each(page.states.map((state) => [state.state, state] as const))("%s, left alone", (name, state) => {
  it(`is ${state.course}`, () => {
    const told = STATES[name]!;
    const expected = phasesOf(state.course, { before: state.course, brings: "", hangs: null });
    expect(asFarAsTold(phasesSeen(told), expected)).toEqual(expected);
    const seen = follows(told, "10:00");
    expect(totalsOf(seen)).toEqual(state.totals);
    expect(bagsOf(seen)).toEqual(Object.fromEntries(state.bags));
  });
});

interface Besides {
  totals: [number, number];
  bags: Record<string, number>;
  line: string | null;
  hangs: { bag: string; role: "primary" | "secondary" } | null;
}

/** What an entry with an effect leaves besides the course: totals, bags, the line, what hangs. */
function besidesOf(entry: EntryOnPage, state: StateOnPage): Besides {
  const left: Besides = {
    totals: [...state.totals],
    bags: Object.fromEntries(state.bags),
    line: null,
    hangs: null,
  };
  for (const besides of entry.besides) {
    const [what, sign = "", value = "", , role] = besides.split(" ");
    if (besides === "totals 0") left.totals = [0, 0];
    else if (what === "line") left.line = sign;
    else if (what === "hangs") {
      left.hangs = { bag: sign, role: besides.endsWith("primary") ? "primary" : "secondary" };
      left.bags[sign] ??= Number(entry.brings.slice(1));
    } else if (what === "primary") left.totals[0] = Number(value);
    else if (what === "secondary") left.totals[1] = Number(value);
    else if (what !== undefined && (what in left.bags || sign === "=")) {
      const change = sign === "-" ? -Number(value) : Number(value);
      left.bags[what] = sign === "=" ? change : left.bags[what]! + change;
    } else throw new Error(`not understood besides: ${besides} ${role ?? ""}`);
  }
  return left;
}

/** What flows a minute into a start charted just after the entry, to see where it goes and from which bag. */
function ifStarted(told: readonly Told[], role: "primary" | "secondary") {
  const begun =
    role === "primary"
      ? start("10:00", 60, { volumeToInfuse: "none", order: 1 })
      : on("10:00", "secondary-started", {
          rate: mLPerHour(60),
          volumeToInfuse: "none",
          whenDone: "wait",
          order: 1,
        });
  const connected = follows(told, "10:00").state.channels.get("pump-1")?.connected ?? false;
  const seen = follows([...told, ...(connected ? [] : [pump("10:00")]), begun], "10:01");
  return [...seen.flows, ...seen.unknown].find(
    (flow) => flow.end > flow.start && flow.role === role && isAfter(flow),
  );
}
const isAfter = ({ end }: { end: number }): boolean => end === Date.UTC(2026, 2, 4, 10, 1);

describe.each(page.entries.map((entry) => [entry.entry, entry] as const))("%s", (row, entry) => {
  it.each(page.states.map((state) => [state.state, page.cells.get(row)!.get(state.state)!, state] as const))(
    "%s: %s",
    (name, cell, state) => {
      const [, code = "", mark] = /^(.*?)(?: (note|ran))?$/.exec(cell)!;
      const told = [...STATES[name]!, entryOf(row, name)];
      const left = mark === "note" ? besidesOf({ ...entry, besides: [] }, state) : besidesOf(entry, state);

      const expected = phasesOf(code === "=" ? state.course : code, {
        before: state.course,
        brings: entry.brings,
        hangs: left.hangs?.bag ?? null,
      });
      expect(asFarAsTold(phasesSeen(told), expected)).toEqual(expected);

      const first = expected[0]?.[0];
      if (first !== "away") {
        const now = follows(told, "10:00:01").channel("pump-1");
        expect(now?.flow?.role ?? "nothing").toBe(first?.role ?? "nothing");
        const rate = now?.flow?.rate ?? "unknown";
        if (first !== undefined) expect(rate === "unknown" ? rate : rate / 1_000).toBe(first.rate);
      }

      const seen = follows(told, "10:00");
      const noted = seen.notes.filter(({ entry: id }) => id === `e${told.length}`).map(({ code }) => code);
      const expectedNotes = { note: ["entry-without-effect"], ran: ["line-removed-running"] };
      expect(noted).toEqual(mark === undefined ? [] : expectedNotes[mark as keyof typeof expectedNotes]);
      expect(totalsOf(seen)).toEqual(left.totals);
      if (mark !== "note") expect(bagsOf(seen)).toEqual(left.bags);
      else expect(bagsOf(seen)).toMatchObject(left.bags);
      if (name === "discharged" || mark === "note") return;
      if (left.line !== null) {
        const withFluid = [...told, hang("10:00", "full", 100)];
        expect(ifStarted(withFluid, "primary")?.line).toBe(left.line);
      }
      if (left.hangs !== null && left.bags[left.hangs.bag]! > 0) {
        expect(ifStarted(told, left.hangs.role)?.bag).toBe(left.hangs.bag);
      }
    },
  );
});
