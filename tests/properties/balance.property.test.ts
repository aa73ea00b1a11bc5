/** The balance adds up at every level, and what a unit changes moves nothing from before. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { awayByEntry } from "../../src/balance/away.js";
import { type Balance, balanceOf } from "../../src/balance/balance.js";
import { counted } from "../../src/balance/counted.js";
import { groundOf } from "../../src/balance/ground.js";
import { intakePostings } from "../../src/balance/intake.js";
import { outputPostings } from "../../src/balance/output.js";
import type { Figures, Table } from "../../src/balance/table.js";
import { defaultSettings, type Settings, type Step } from "../../src/conventions/settings.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { DeliveryLost, Entry, Placed } from "../../src/infusion/entry.js";
import { inOrder } from "../../src/infusion/order.js";
import { NOTHING_KNOWN } from "../../src/infusion/state.js";
import { HOUR, type Instant, instant, later, MINUTE, type Period } from "../../src/time/instant.js";
import { BEGINS, encounterOf } from "./arbitrary.js";
import { PATIENCE, runs } from "./runs.js";
import { REALISTIC } from "./scales.js";

const HALF_A_DAY = 12 * HOUR;
const ENDS = instant(BEGINS + 24 * HOUR);
const ADMITTED = instant(BEGINS + 90 * MINUTE);
const SHIFTS = [instant(BEGINS), instant(BEGINS + HALF_A_DAY)];
const split = (length: number): Period[] =>
  Array.from({ length: (24 * HOUR) / length }, (_, i) => ({
    start: instant(BEGINS + i * length),
    end: instant(BEGINS + (i + 1) * length),
  }));
const [HOURS, BY_SHIFT, WHOLE] = [split(HOUR), split(HALF_A_DAY), split(24 * HOUR)];

/** Minutes of the day, so that ties and boundaries are common. */
const minute = fc.integer({ min: 0, max: 24 * 12 }).map((five) => five * 5);
const mL = fc.integer({ min: 0, max: 900_000 });
const site = fc.constantFrom("bladder", "tube");

const charted = fc.oneof(
  fc.record({
    kind: fc.constant("output-measured"),
    category: fc.constantFrom("urine", "drain"),
    volume: mL,
    site: fc.option(site, { nil: undefined }),
  }),
  fc.record({
    kind: fc.constant("output-measured"),
    category: fc.constant("urine"),
    occurrences: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({ kind: fc.constant("irrigant-instilled"), site, volume: mL }),
  fc.record({
    kind: fc.constant("intake-measured"),
    category: fc.constantFrom("oral", "iv-flush", "blood-product"),
    item: fc.constantFrom(undefined, "Ice", "Pudding"),
    measure: fc.record({
      name: fc.constantFrom("cup", "ounce", "bucket"),
      count: fc.integer({ min: 1, max: 3_000 }),
    }),
  }),
  fc.record({
    kind: fc.constant("chamber-emptied"),
    chamber: fc.constant("canister"),
    category: fc.constant("gastric"),
    level: fc.option(mL, { nil: undefined }),
  }),
  fc.record({
    kind: fc.constant("delivery-lost"),
    channel: fc.constant("pump-1"),
    lasts: fc.integer({ min: 1, max: 240 }),
    volume: fc.oneof(fc.constant("unknown" as const), mL),
    reason: fc.constant("leaked"),
  }),
);

const day = fc
  .record({
    stay: encounterOf(REALISTIC, 12),
    facts: fc.array(fc.tuple(minute, charted), { maxLength: 14 }),
  })
  .map(({ stay, facts }): Placed[] => [
    ...stay.entries,
    ...facts.map(([after, fact], i): Placed => {
      const at = instant(BEGINS + after * MINUTE);
      const spans = "lasts" in fact ? { from: later(at, -fact.lasts * MINUTE), to: at } : {};
      const entry = { ...fact, ...spans, at } as unknown as Entry;
      return { id: `fact-${i}`, sequence: 1_000 + i, source: "person", entry };
    }),
  ]);

const fixed = () => defaultSettings;

/** The balance of a day, by one precision. */
function balance(
  entries: readonly Placed[],
  intervals: readonly Period[],
  step = 100,
  settingsAt: (at: Instant) => Settings = fixed,
  changes: readonly Instant[] = [],
): Balance {
  const { sink, ...collected } = collector();
  const ordered = inOrder(entries).filter(({ entry }) => entry.at <= ENDS);
  let state = NOTHING_KNOWN;
  for (const placed of ordered) state = follow(state, placed, settingsAt, sink);
  comeUpTo(state, ENDS, sink);
  const ground = groundOf({
    intervals,
    anchors: SHIFTS,
    until: ENDS,
    admittedAt: ADMITTED,
    since: SHIFTS[0]!,
    stepOf: () => step as Step,
    settingsAt,
    changes,
    awayOf: awayByEntry(ordered),
  });
  const lost = ordered.filter((one): one is Placed<DeliveryLost> => one.entry.kind === "delivery-lost");
  const given = apportioned(collected, []);
  const { taken, irrigated } = counted({
    ...given,
    entries: ordered,
    lost,
    came: collected.outputs,
    settingsAt,
  });
  const postings = [...intakePostings(taken, ground), ...outputPostings(irrigated.outputs, ground)];
  return balanceOf(postings, intervals.length);
}

const added = (figures: readonly Figures[], i: number) =>
  figures.reduce((sum, { volumes }) => sum + volumes[i]!, 0);

function expectAddsUp({ rows, sums }: Table): void {
  sums.volumes.forEach((sum, i) => {
    expect(added(rows, i)).toBe(sum);
    for (const row of rows) expect(added(row.parts, i)).toBe(row.volumes[i]);
  });
  for (const { volumes, total } of [sums, ...rows]) expect(volumes.reduce((a, b) => a + b, 0)).toBe(total);
}

/** Figures by the hour, or by the shift, summed into longer intervals. */
const into = (parts: number, { volumes }: Figures) =>
  Array.from({ length: parts }, (_, i) => {
    const each = volumes.length / parts;
    return volumes.slice(i * each, (i + 1) * each).reduce((sum, volume) => sum + volume, 0);
  });

describe("the balance", () => {
  it("is intake less output at every level, as shown, and rows are what they consist of", {
    timeout: PATIENCE,
  }, () => {
    const property = fc.property(day, fc.constantFrom(1, 100, 5_000), (entries, step) => {
      const { intake, output, net, cumulative, broughtForward, beside } = balance(entries, HOURS, step);
      expectAddsUp(intake);
      expectAddsUp(output);
      net.volumes.forEach((volume, i) => {
        expect(volume).toBe(intake.sums.volumes[i]! - output.sums.volumes[i]!);
      });
      expect(net.total).toBe(intake.sums.total - output.sums.total);
      const outside = beside.reduce((sum, one) => sum + one.net.total, 0);
      expect(cumulative.at(-1)!.shown).toBe(broughtForward.shown + net.total + outside);
    });
    fc.assert(property, runs(60));
  });

  it("by the hour sums to that by the shift, and that to the day, on either side", {
    timeout: PATIENCE,
  }, () => {
    const property = fc.property(day, (entries) => {
      const [hours, shifts, whole] = [HOURS, BY_SHIFT, WHOLE].map((intervals) => balance(entries, intervals));
      for (const of of [
        ({ intake }: Balance) => intake.sums,
        ({ output }: Balance) => output.sums,
        ({ net }: Balance) => net,
      ]) {
        expect(into(2, of(hours!))).toEqual(of(shifts!).volumes);
        expect(into(1, of(shifts!))).toEqual(of(whole!).volumes);
      }
      const last = (one: Balance) => one.cumulative.at(-1);
      expect([last(hours!), last(shifts!)]).toEqual([last(whole!), last(whole!)]);
    });
    fc.assert(property, runs(60));
  });

  it("before a change of conventions is what it was without the change", { timeout: PATIENCE }, () => {
    const changed: Settings = {
      ...defaultSettings,
      household: { cup: 200_000, bucket: 5_000_000 },
      iceFraction: 1_000,
      softFoods: { pudding: 0 },
      counts: { bloodProducts: false, flushes: false, returned: true },
    };
    const property = fc.property(day, fc.integer({ min: 1, max: 22 }), (entries, hour) => {
      const from = instant(BEGINS + hour * HOUR + 30 * MINUTE);
      const dated = (at: Instant) => (at < from ? defaultSettings : changed);
      const [was, is] = [balance(entries, HOURS), balance(entries, HOURS, 100, dated, [from])];
      const upTo = ({ net, cumulative }: Balance) => [net.volumes.slice(0, hour), cumulative.slice(0, hour)];
      expect(upTo(is)).toEqual(upTo(was));
    });
    fc.assert(property, runs(60));
  });
});
