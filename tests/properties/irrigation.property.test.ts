/**
 * True output of irrigated sites, whatever goes in how and whatever comes out in which order: nothing counts
 * before it is emptied, nothing counts twice, and all of it is what came less what went in.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Output } from "../../src/balance/true-output.js";
import type { Entry, Placed } from "../../src/infusion/entry.js";
import { instant } from "../../src/time/instant.js";
import { countedOf } from "../balance/counting.js";
import { BEGINS } from "./arbitrary.js";
import { PATIENCE, runs } from "./runs.js";

const TICKS = 3_600_000n;
const MINUTE = 60_000;

/** The sites, and by what names they are charted: of the first two also the keys of their lines. */
const SITES = [
  { chamber: "Bladder", line: "cbi", names: ["Bladder", "bladder", " BLADDER ", "cbi"] },
  { chamber: "wound", line: "vac", names: ["wound", "Wound", "VAC"] },
  { chamber: "tube", line: null, names: ["tube", "Tube"] },
] as const;

const mL = fc.integer({ min: 0, max: 600_000 });
const place = { site: fc.nat({ max: 2 }), name: fc.nat({ max: 3 }), later: fc.constantFrom(0, 0, 1, 7, 45) };
const event = fc.oneof(
  fc.record({ ...place, does: fc.constant("instilled" as const), volume: mL }),
  fc.record({ ...place, does: fc.constant("instilled by line" as const), volume: mL }),
  fc.record({ ...place, does: fc.constant("rate" as const), volume: fc.integer({ min: 1, max: 900_000 }) }),
  fc.record({ ...place, does: fc.constant("read" as const), volume: mL }),
  fc.record({ ...place, does: fc.constant("emptied" as const), volume: mL }),
  fc.record({ ...place, does: fc.constant("measured" as const), volume: mL }),
  fc.record({ ...place, does: fc.constant("seen" as const), volume: fc.constant(0) }),
  fc.record({ ...place, does: fc.constant("by no site" as const), volume: mL }),
);
type Event = typeof event extends fc.Arbitrary<infer E> ? E : never;

/** What stands at a site by the plainest reckoning, in ticks. */
interface Reckoned {
  came: bigint;
  went: bigint;
  counted: bigint;
  rate: bigint;
  /** What must count so far. */
  told: bigint;
  level: number;
}

const begun: Entry[] = SITES.flatMap(({ chamber, line }): Entry[] => {
  const at = instant(BEGINS);
  const placed: Entry = { kind: "chamber-placed", at, chamber, category: "urine" };
  if (line === null) return [placed];
  const connected = { type: "pump", totals: "none", clearsOn: [] } as const;
  return [
    { kind: "line-placed", at, line, route: "irrigation", site: chamber },
    { kind: "channel-connected", at, channel: line, line, ...connected },
    placed,
  ];
});

class Ward {
  readonly entries: Placed[] = [];
  readonly reckoned = SITES.map(
    (): Reckoned => ({ came: 0n, went: 0n, counted: 0n, rate: 0n, told: 0n, level: 0 }),
  );
  bySites = 0n;
  private now = BEGINS;

  constructor() {
    for (const entry of begun) this.tell(entry);
  }

  get until() {
    return instant(this.now);
  }

  happens({ does, site, name, later, volume }: Event): void {
    this.goOn(later);
    const { chamber, line, names } = SITES[site]!;
    const own = this.reckoned[site]!;
    const at = instant(this.now);
    const told = { at, site: names[name % names.length]! };
    const ticks = BigInt(volume) * TICKS;
    switch (does) {
      case "instilled":
        own.went += ticks;
        return this.tell({ kind: "irrigant-instilled", ...told, volume });
      case "instilled by line":
        if (line === null) return;
        own.went += ticks;
        return this.tell({ kind: "intake-measured", at, category: "other-intake", line, volume });
      case "rate":
        if (line === null) return;
        own.rate = BigInt(volume);
        return this.tell({
          kind: "flow-started",
          at,
          channel: line,
          rate: volume as never,
          volumeToInfuse: "none",
        });
      case "read":
        own.level += volume;
        own.came += ticks;
        if (own.went === 0n) {
          own.counted += ticks;
          own.told += ticks;
        }
        return this.tell({ kind: "chamber-read", at, chamber, level: own.level });
      case "emptied":
        own.level += volume;
        this.empty(own, ticks);
        this.tell({ kind: "chamber-emptied", at, chamber, level: own.level });
        own.level = 0;
        return;
      case "measured":
        this.empty(own, ticks);
        return this.tell({ kind: "output-measured", category: "urine", ...told, volume });
      case "seen":
        return this.tell({ kind: "output-measured", category: "urine", ...told, occurrences: 1 });
      case "by no site":
        this.bySites += ticks;
        return this.tell({ kind: "output-measured", category: "urine", at, volume });
      default:
        return does satisfies never;
    }
  }

  private empty(own: Reckoned, ticks: bigint): void {
    own.told += own.came + ticks - own.counted - own.went;
    [own.came, own.went, own.counted] = [0n, 0n, 0n];
  }

  private goOn(minutes: number): void {
    this.now += minutes * MINUTE;
    for (const own of this.reckoned) own.went += own.rate * BigInt(minutes * MINUTE);
  }

  /** In the order told, whatever the kind. */
  private tell(entry: Entry): void {
    const sequence = this.entries.length + 1;
    this.entries.push({
      id: `e${sequence}`,
      sequence,
      source: "person",
      entry: { ...entry, order: sequence },
    });
  }
}

const toldAt = (outputs: readonly Output[], chamber: string | null): bigint =>
  outputs.filter(({ site }) => site === chamber).reduce((sum, { volume }) => sum + volume, 0n);

describe("true output of several sites", () => {
  it("is what came less what went in at each emptying, and never counted before it or twice", {
    timeout: PATIENCE,
  }, () => {
    const property = fc.property(fc.array(event, { maxLength: 24 }), (events) => {
      const ward = new Ward();
      for (const one of events) {
        ward.happens(one);
        const { irrigated, taken } = countedOf(ward.entries, ward.until);
        SITES.forEach(({ chamber }, i) => {
          expect(toldAt(irrigated.outputs, chamber), chamber).toBe(ward.reckoned[i]!.told);
        });
        expect(toldAt(irrigated.outputs, null)).toBe(ward.bySites);
        expect([taken.rows, taken.amounts]).toEqual([[], []]);
      }
    });
    fc.assert(property, runs(150));
  });

  it("of one emptying charted in parts is below nothing in its last part alone", {
    timeout: PATIENCE,
  }, () => {
    const parts = fc.array(mL, { minLength: 2, maxLength: 4 });
    const property = fc.property(parts, mL, (volumes, irrigant) => {
      const ward = new Ward();
      ward.happens({ does: "instilled", site: 2, name: 0, later: 0, volume: irrigant });
      for (const volume of volumes) ward.happens({ does: "measured", site: 2, name: 1, later: 0, volume });
      const { outputs } = countedOf(ward.entries, ward.until).irrigated;
      expect(outputs.slice(0, -1).every(({ volume }) => volume >= 0n)).toBe(true);
      const whole = volumes.reduce((sum, volume) => sum + volume, 0) - irrigant;
      expect(toldAt(outputs, "tube")).toBe(BigInt(whole) * TICKS);
      expect(outputs.at(-1)!.exceeds).toBe(whole < 0 ? BigInt(-whole) * TICKS : 0n);
    });
    fc.assert(property, runs(200));
  });

  it("that was lost on its way in is output by that much more", { timeout: PATIENCE }, () => {
    const losses = fc.array(
      fc.record({ from: fc.nat({ max: 300 }), lasts: fc.integer({ min: 1, max: 300 }), volume: mL }),
      { maxLength: 5 },
    );
    const property = fc.property(fc.array(event, { maxLength: 16 }), losses, (events, lost) => {
      const ward = new Ward();
      for (const one of events) ward.happens(one);
      // Everything is emptied in the end, so that all that was lost shows.
      for (const site of [0, 1, 2]) ward.happens({ does: "emptied", site, name: 0, later: 0, volume: 0 });
      const at = ward.until;
      const told = lost.map(({ from, lasts, volume }, i): Placed => {
        const [start, end] = [BEGINS + from * MINUTE, BEGINS + (from + lasts) * MINUTE].map(instant);
        const span = { from: start!, to: end!, volume, reason: "leaked" } as const;
        const entry: Entry = { kind: "delivery-lost", at, channel: "cbi", ...span };
        return { id: `loss-${i}`, sequence: 1_000 + i, source: "person", entry };
      });
      const [without, within] = [ward.entries, [...ward.entries, ...told]].map((all) => countedOf(all, at));
      const takenOff = within!.losses.reduce((sum, loss) => sum + loss.takenOff, 0n);
      for (const [chamber, more] of [
        ["Bladder", takenOff],
        ["wound", 0n],
        ["tube", 0n],
      ] as const) {
        expect(toldAt(within!.irrigated.outputs, chamber)).toBe(
          toldAt(without!.irrigated.outputs, chamber) + more,
        );
      }
    });
    fc.assert(property, runs(100));
  });
});
