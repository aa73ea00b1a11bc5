/**
 * Three real stays replayed through REST (see README.md beside this for their source and licence, and for
 * what agreement does not show). Tolerance: 0.05 mL per window and running channel, since rates are
 * rounded to three decimals.
 */

import { describe, expect, it } from "vitest";
import { type Volumes, ward } from "../check-values/ward.js";
import { type DatasetStay, datasetStays, entriesOf, numberOf, runningIn, shiftedInto } from "./stay.js";

const NOW = "2026-06-01T00:00:00Z";
/** Some bags in the source give more than their label: none is stopped at its capacity here. */
const UNCLAMPED = { overfillAllowance: 10 };
const MOST_AT_ONCE = 500;

describe.each(datasetStays().map((stay) => [stay.stay, stay] as const))("stay %s", (id, stay) => {
  it("has the dataset's totals in every hour, 12 h shift and day", async () => {
    const time = shiftedInto(stay, "2026-05-31");
    const here = await ward(NOW, UNCLAMPED);
    const patient = await here.admit(id, time(stay.admitted));
    const entries = entriesOf(stay, time);
    for (let i = 0; i < entries.length; i += MOST_AT_ONCE)
      await patient.chart(...entries.slice(i, i + MOST_AT_ONCE));
    const { hourly, shift12h, day24h_from_0700: days } = stay.expected;
    const window = (from: string, to: string) => `from=${time(from)}&to=${time(to)}`;
    for (const [by, expected] of [
      ["hour", hourly],
      ["shift", shift12h],
      ["day", days],
    ] as const) {
      const [first, last] = [expected[0]!, expected.at(-1)!];
      const answer = await patient.ask<Volumes>(
        `volumes?by=${by}&precision=0.001&${window(first.start, last.end)}`,
      );
      const got = new Map(answer.intervals.map(({ start }, i) => [Date.parse(start), answer.sums[i]!]));
      const seen = expected.map(({ start, end, inMl }) => {
        const off = Math.abs((got.get(Date.parse(time(start))) ?? 0) - numberOf(inMl));
        return { start, off: off <= 0.05 * Math.max(1, runningIn(stay, start, end)) ? 0 : off };
      });
      expect(seen.filter(({ off }) => off > 0)).toEqual([]);
      // Windows that the dataset leaves out are zero.
      const told = new Set(expected.map(({ start }) => Date.parse(time(start))));
      expect([...got].filter(([start, volume]) => !told.has(start) && volume > 0.05)).toEqual([]);
      expect(total(answer)).toBeCloseTo(
        expected.reduce((sum, { inMl }) => sum + numberOf(inMl), 0),
        0,
      );
    }
    await here.close();
  });
});

function total({ sums }: Volumes): number {
  return sums.reduce<number>((sum, volume) => sum + (volume ?? 0), 0);
}

describe("the dataset", () => {
  it("holds three stays with something in every one", () => {
    const stays: readonly DatasetStay[] = datasetStays();
    expect(stays.map(({ expected }) => expected.hourly.length > 50)).toEqual([true, true, true]);
  });
});
