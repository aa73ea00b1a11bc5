/** The balance adds up at every level, and what a unit changes moves nothing from before. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Balance } from "../../src/balance/balance.js";
import type { Figures, Table } from "../../src/balance/table.js";
import { defaultSettings, type Settings } from "../../src/conventions/settings.js";
import { HOUR, type Instant, instant, MINUTE } from "../../src/time/instant.js";
import { BEGINS } from "./arbitrary.js";
import { BY_SHIFT, balance, day, HOURS, WHOLE } from "./days.js";
import { PATIENCE, runs } from "./runs.js";

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
      const { intake, output, net, cumulative, broughtForward, beside } = balance(entries, HOURS, { step });
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
      const [was, is] = [
        balance(entries, HOURS),
        balance(entries, HOURS, { settingsAt: dated, changes: [from] }),
      ];
      const upTo = ({ net, cumulative }: Balance) => [net.volumes.slice(0, hour), cumulative.slice(0, hour)];
      expect(upTo(is)).toEqual(upTo(was));
    });
    fc.assert(property, runs(60));
  });
});
