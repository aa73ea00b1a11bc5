/** What must hold of every course: nothing is delivered backwards, twice at once, or from an empty bag. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Flow } from "../../src/infusion/flow.js";
import { runningTotals } from "../../src/infusion/running.js";
import { inTurn } from "../naive/order.js";
import type { Happening } from "../naive/ward.js";
import { BEGINS, type Encounter, encounterOf } from "./arbitrary.js";
import { deliveredBetween, fold, groupedBy, OVERFILL } from "./folding.js";
import { REMEMBERED } from "./remembered.js";
import { PATIENCE, runs } from "./runs.js";
import { CLOSE_UP, ODD_NUMBERS, REALISTIC } from "./scales.js";

const TICKS = 3_600_000n;
const encounter = fc.oneof(encounterOf(REALISTIC), encounterOf(ODD_NUMBERS), encounterOf(CLOSE_UP));
const remembered = REMEMBERED.map(({ encounter }): [Encounter] => [encounter]);

const sum = (flows: readonly Flow[]): bigint => flows.reduce((ticks, flow) => ticks + flow.volume, 0n);

describe("a flow", () => {
  it("delivers rate × time, the last millisecond of a limited one only the rest", {
    timeout: PATIENCE,
  }, () => {
    const property = fc.property(encounter, ({ entries, until }) => {
      for (const { rate, start, end, volume } of fold(entries, until).flows) {
        expect(volume).toBeLessThanOrEqual(BigInt(rate) * BigInt(end - start));
        expect(volume).toBeGreaterThan(BigInt(rate) * BigInt(end - start - 1));
      }
    });
    fc.assert(property, { ...runs(100), examples: remembered });
  });

  it("is the only one of its channel and of its bag while it lasts", { timeout: PATIENCE }, () => {
    const property = fc.property(encounter, ({ entries, until }) => {
      const { flows } = fold(entries, until);
      for (const keyOf of [(flow: Flow) => flow.channel, (flow: Flow) => flow.bag]) {
        for (const together of groupedBy(flows, keyOf).values()) {
          const inTime = [...together].sort((a, b) => a.start - b.start || a.end - b.end);
          for (let i = 1; i < inTime.length; i++) {
            expect(inTime[i]!.start).toBeGreaterThanOrEqual(inTime[i - 1]!.end);
          }
        }
      }
    });
    fc.assert(property, { ...runs(100), examples: remembered });
  });
});

describe("the cumulative curve", () => {
  it("of no row ever falls", { timeout: PATIENCE }, () => {
    const property = fc.property(encounter, fc.array(fc.nat({ max: 1_000_000 })), (stay, millionths) => {
      const { flows } = fold(stay.entries, stay.until);
      const length = stay.until - BEGINS;
      const instants = millionths.map((part) => BEGINS + Math.floor((part * length) / 1_000_000));
      let before = new Map<string, bigint>();
      for (const instant of instants.sort((a, b) => a - b)) {
        const now = deliveredBetween(flows, BEGINS, instant);
        for (const [row, ticks] of before) expect(now.get(row) ?? 0n, row).toBeGreaterThanOrEqual(ticks);
        before = now;
      }
    });
    fc.assert(property, runs(100));
  });
});

/** Something said of what a bag holds (in µL), and what was added to it until the next such word. */
interface Said {
  readonly at: number;
  readonly holds: number;
  added: number;
}

/** Everything said of a bag's contents, from its first hanging on; a hanging alone says nothing new later. */
function saidOf(bag: string, happenings: readonly Happening[]): Said[] {
  const said: Said[] = [];
  for (const { kind, at, bag: key, volume, remaining } of happenings) {
    if (key !== bag || kind === "bag-level-read") continue;
    if (kind === "bag-hung" && (said.length === 0 || remaining !== undefined)) {
      said.push({ at, holds: remaining ?? (volume as number), added: 0 });
    } else if (kind === "bag-taken-down" && remaining !== undefined && said.length > 0) {
      said.push({ at, holds: remaining, added: 0 });
    } else if (kind === "bag-adjusted" && said.length > 0) {
      said.at(-1)!.added += Math.max(0, volume as number);
    }
  }
  return said;
}

describe("a bag", () => {
  it("never gives more than it holds and its overfill, over all its hangings", { timeout: PATIENCE }, () => {
    const fewBags = fc.oneof(encounterOf(REALISTIC, 24, 2), encounterOf(CLOSE_UP, 24, 2));
    const property = fc.property(fewBags, ({ entries, until }) => {
      // Reports by one source only: which of two linked reports counts is not this property's question.
      const byPersons = entries.map((placed) => ({ ...placed, source: "person" as const }));
      const { flows } = fold(byPersons, until);
      const happenings = inTurn(byPersons).map(({ entry }) => entry);
      for (const [bag, given] of groupedBy(flows, (flow) => flow.bag)) {
        const label = happenings.find(({ kind, bag: key }) => kind === "bag-hung" && key === bag)!
          .volume as number;
        const overfill = (BigInt(label) * TICKS * BigInt(OVERFILL)) / 1_000n;
        const said = saidOf(bag, happenings);
        said.forEach(({ at, holds, added }, i) => {
          const next = said[i + 1]?.at ?? until;
          const meanwhile = given.filter(({ start, end }) => start >= at && end <= next);
          expect(sum(meanwhile), bag).toBeLessThanOrEqual(BigInt(holds + added) * TICKS + overfill);
        });
      }
    });
    fc.assert(property, { ...runs(150), examples: remembered });
  });
});

describe("a running total", () => {
  it("shows its last reading and what its flows delivered since", { timeout: PATIENCE }, () => {
    const property = fc.property(encounter, ({ entries, until }) => {
      const { state, flows } = fold(entries, until);
      for (const { channel, totals } of runningTotals(state)) {
        for (const { total, expected, lastReading, atRisk, since } of totals) {
          const counted = flows.filter(
            (flow) => flow.channel === channel.channel && flow.total === total && flow.start >= since,
          );
          expect(atRisk).toBe(sum(counted));
          expect(expected).toBe((lastReading ?? 0n) + sum(counted));
        }
      }
    });
    fc.assert(property, { ...runs(100), examples: remembered });
  });

  it("of separate totals, the primary's counts boluses and keep-open flow, the secondary's the rest", () => {
    const property = fc.property(encounter, ({ entries, until }) => {
      for (const { total, role } of fold(entries, until).flows) {
        if (total === null || total === "combined") continue;
        expect(total).toBe(role === "secondary" ? "secondary" : "primary");
      }
    });
    fc.assert(property, { ...runs(50), examples: remembered });
  });
});
