/**
 * What somebody signed stays as it was signed, whatever is read afterwards: of an earlier time, of the
 * signed span itself or later. Only what happened may correct it, never a reading.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Step } from "../../src/conventions/settings.js";
import { type Apportioned, apportioned } from "../../src/infusion/apportion.js";
import { givenBy } from "../../src/infusion/delivery.js";
import type { Placed } from "../../src/infusion/entry.js";
import type { Signed } from "../../src/infusion/held.js";
import { type VolumeRow, volumeRows } from "../../src/infusion/volumes.js";
import { HOUR, instant, type Period } from "../../src/time/instant.js";
import { BEGINS } from "./arbitrary.js";
import { anyhow, courseOf, type Followed, followed, segments, withLooks } from "./readings.js";
import { PATIENCE, runs } from "./runs.js";
import { ODD_NUMBERS, REALISTIC } from "./scales.js";

const drawn = fc.record({
  stay: fc.oneof(courseOf(REALISTIC, 8), courseOf(ODD_NUMBERS, 8)),
  looks: fc.array(anyhow, { minLength: 1, maxLength: 8 }),
  told: segments,
  /** Hours signed one after the other from the beginning, and after how much of what was read. */
  tiles: fc.array(fc.record({ hours: fc.integer({ min: 1, max: 8 }), after: fc.nat({ max: 12 }) }), {
    minLength: 1,
    maxLength: 3,
  }),
  /** The order in which the readings were recorded. */
  order: fc.array(fc.nat(), { minLength: 11, maxLength: 11 }),
});

interface Told {
  readonly entries: readonly Placed[];
  readonly signed: readonly Signed[];
  readonly until: number;
}

/** Readings recorded in any order, signatures between them; the last recording is a reading. */
function recorded({ stay, looks, told, tiles, order }: Drawn): Told {
  const { entries, readings } = withLooks(stay, looks, told);
  const course = entries.filter((placed) => !readings.includes(placed));
  const shuffled = readings
    .map((placed, i) => ({ placed, key: order[i % order.length]! }))
    .sort((a, b) => a.key - b.key)
    .map(({ placed }) => placed);
  const first = 1 + Math.max(...course.map(({ sequence }) => sequence));
  // Every other sequence is free for a signature.
  const placed = shuffled.map((one, i) => ({ ...one, sequence: first + 2 * i + 1 }));
  let from = BEGINS;
  let before = 0;
  const signed = tiles.map(({ hours, after }): Signed => {
    const span = { from: instant(from), to: instant(from + hours * HOUR) };
    before = Math.max(before, Math.min(after, Math.max(0, placed.length - 1)));
    from += hours * HOUR;
    return { ...span, sequence: first + 2 * before };
  });
  return { entries: [...course, ...placed], signed, until: stay.until };
}

type Drawn = typeof drawn extends fc.Arbitrary<infer T> ? T : never;

function comesTo({ entries, signed, until }: Told): Apportioned {
  return apportioned(followed(entries, until), signed);
}

/** Every hour that was signed, row by row: what is shown, what was computed and what it rests on. */
function figures(result: Apportioned, told: Told): Record<string, unknown> {
  const rows = signedRows(result, told).filter(({ volumes, computed, unknown }) =>
    [...volumes, ...computed, ...unknown].some(Boolean),
  );
  return Object.fromEntries(
    rows.map((row) => [nameOf(row), [row.volumes, row.computed, row.bases, row.unknown]]),
  );
}

const nameOf = ({ key, without, channel }: VolumeRow) => JSON.stringify([key, without, channel]);

function signedRows(result: Apportioned, { signed, until }: Told): VolumeRow[] {
  const hours: Period[] = [];
  for (let at = BEGINS; at < signed.at(-1)!.to; at += HOUR) {
    hours.push({ start: instant(at), end: instant(at + HOUR) });
  }
  return volumeRows(
    { ...result, amounts: [] },
    {
      intervals: hours,
      anchors: [BEGINS, BEGINS + 12 * HOUR, BEGINS + 24 * HOUR].map((at) => instant(at)),
      until: instant(until),
      admittedAt: instant(BEGINS),
      stepOf: () => 100 as Step,
      per: "bag",
    },
  );
}

/** What every delivery gave within what was signed, in ticks. */
function signedTicks({ deliveries }: Apportioned, { signed }: Told): Record<string, string> {
  const sums = new Map<string, bigint>();
  for (const delivery of deliveries) {
    for (const { from, to } of signed) {
      const row = `${delivery.channel} ${delivery.bag} ${delivery.role} ${from}`;
      sums.set(row, (sums.get(row) ?? 0n) + givenBy(delivery, to) - givenBy(delivery, from));
    }
  }
  const some = [...sums].filter(([, ticks]) => ticks !== 0n).map(([row, ticks]) => [row, String(ticks)]);
  return Object.fromEntries(some.sort(([a], [b]) => (a! < b! ? -1 : 1)));
}

/**
 * Whether what is read last leaves it at what became of the readings before, and at what is unknown: a
 * reading confirms a computed end, as any entry on the channel does.
 */
function judgedAlike(before: Told, after: Told): boolean {
  const [was, is] = [before, after].map(({ entries, until }) => followed(entries, until));
  const outcomes = new Map(is!.readings.map(({ entry, outcome }) => [entry, outcome]));
  const told = ({ unknown }: Followed) => JSON.stringify(unknown);
  return (
    was!.readings.every(({ entry, outcome }) => outcomes.get(entry) === outcome) && told(was!) === told(is!)
  );
}

describe("the figures of a span that was signed", () => {
  it("are the same before and after anything is read", { timeout: PATIENCE }, () => {
    let moved = 0;
    const property = fc.property(drawn, (one) => {
      const after = recorded(one);
      fc.pre(after.entries.length > one.stay.entries.length);
      const last = Math.max(...after.entries.map(({ sequence }) => sequence));
      const before = { ...after, entries: after.entries.filter(({ sequence }) => sequence !== last) };
      fc.pre(judgedAlike(before, after));
      const [was, is] = [comesTo(before), comesTo(after)];
      expect(signedTicks(is, after)).toEqual(signedTicks(was, before));
      expect(figures(is, after)).toEqual(figures(was, before));
      if (is.anchors.length > was.anchors.length) moved++;
    });
    fc.assert(property, runs(200));
    expect(moved).toBeGreaterThan(10);
  });
});
