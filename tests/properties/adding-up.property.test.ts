/** Charted volumes add up, however time is split and rows are grouped, and are rounded as the specification says. */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Step } from "../../src/conventions/settings.js";
import { apportioned } from "../../src/infusion/apportion.js";
import { deliveredBy, type Flow } from "../../src/infusion/flow.js";
import type { Grouping } from "../../src/infusion/headings.js";
import { volumeOf } from "../../src/infusion/quantity.js";
import { type Amount, type VolumeRow, volumeRows } from "../../src/infusion/volumes.js";
import { HOUR, type Instant, instant, type Period } from "../../src/time/instant.js";
import { BEGINS, type Encounter, encounterOf } from "./arbitrary.js";
import { type Folded, fold, groupedBy } from "./folding.js";
import { PATIENCE, runs } from "./runs.js";
import { ODD_NUMBERS, REALISTIC } from "./scales.js";

const DAY = 24 * HOUR;
const SHIFTS = [BEGINS, BEGINS + 12 * HOUR];
const GROUPINGS: readonly Grouping[] = ["line", "channel", "bag", "category"];
const step = fc.constantFrom(1, 100, 1_000).map((microlitres) => microlitres as Step);

/** The day from 07:00 cut at these instants (ms after its beginning). */
function cutAt(offsets: readonly number[]): Period[] {
  const cuts = [...new Set([0, ...offsets, DAY])].sort((a, b) => a - b);
  return cuts.slice(1).map((end, i) => ({ start: instant(BEGINS + cuts[i]!), end: instant(BEGINS + end) }));
}
const HOURS = cutAt(Array.from({ length: 24 }, (_, i) => i * HOUR));
const [BY_SHIFT, WHOLE] = [cutAt([12 * HOUR]), cutAt([])];

interface Charted {
  readonly stay: Encounter;
  readonly folded: Folded;
  readonly amounts: readonly Amount[];
}

/** Amounts at any instant of the stay, every other one exactly on an hour. */
const amount = fc.record({
  part: fc.oneof(fc.nat({ max: 1_000_000 }), fc.constant(1_000_000)),
  onTheHour: fc.boolean(),
  volume: fc.integer({ min: 0, max: 500_000 }),
  line: fc.constantFrom(null, "forearm", "subclavian"),
  category: fc.constantFrom("oral" as const, "iv-push" as const, "iv-fluid" as const),
  boundary: fc.constantFrom("ends" as const, "starts" as const),
});

const charted = fc
  .record({
    stay: fc.oneof(encounterOf(REALISTIC), encounterOf(ODD_NUMBERS)),
    untilPart: fc.oneof(fc.integer({ min: 1, max: 1_000_000 }), fc.constant(1_000_000)),
    amounts: fc.array(amount, { maxLength: 6 }),
  })
  .map(({ stay, untilPart, amounts }): Charted => {
    const until = BEGINS + Math.ceil((untilPart * (stay.until - BEGINS)) / 1_000_000);
    return {
      stay: { ...stay, until },
      folded: fold(stay.entries, until),
      amounts: amounts.map(({ part, onTheHour, volume, ...rest }, i) => {
        const after = Math.floor((part * (until - BEGINS)) / 1_000_000);
        const at = instant(BEGINS + (onTheHour ? Math.floor(after / HOUR) * HOUR : after));
        const whole = volumeOf(volume);
        const all = { at, from: null, item: null, share: 1_000, volume: whole, whole };
        return { ...rest, entry: `amount-${i + 1}`, ...all };
      }),
    };
  });

function rowsOf(
  { stay, folded, amounts }: Charted,
  intervals: readonly Period[],
  per: Grouping,
  step: Step,
): VolumeRow[] {
  return volumeRows(
    { ...apportioned(folded), amounts },
    {
      intervals,
      anchors: SHIFTS.map((at) => instant(at)),
      until: instant(stay.until),
      admittedAt: instant(BEGINS),
      stepOf: () => step,
      per,
    },
  );
}

const nameOf = ({ key, without, channel }: VolumeRow) => JSON.stringify([key, without, channel]);

/** The volumes of every row, those of `intervals` summed into `parts`; rows of nothing are left out. */
function summedInto(parts: readonly Period[], intervals: readonly Period[], rows: readonly VolumeRow[]) {
  const summed = rows.map((row) => {
    const sums = parts.map((part) =>
      intervals.reduce((sum, { start, end }, i) => {
        return start >= part.start && end <= part.end ? sum + (row.volumes[i] ?? 0) : sum;
      }, 0),
    );
    return [nameOf(row), sums] as const;
  });
  return Object.fromEntries(summed.filter(([, sums]) => sums.some((sum) => sum !== 0)));
}

const column = (rows: readonly VolumeRow[], i: number) =>
  rows.reduce((sum, row) => sum + (row.volumes[i] ?? 0), 0);

describe("parts sum to wholes", () => {
  it("hours to shifts, shifts to the day, in every grouping and precision", { timeout: PATIENCE }, () => {
    const property = fc.property(charted, step, fc.constantFrom(...GROUPINGS), (charted, step, per) => {
      const [hours, shifts, day] = [HOURS, BY_SHIFT, WHOLE].map((parts) => rowsOf(charted, parts, per, step));
      expect(summedInto(BY_SHIFT, HOURS, hours!)).toEqual(summedInto(BY_SHIFT, BY_SHIFT, shifts!));
      expect(summedInto(WHOLE, BY_SHIFT, shifts!)).toEqual(summedInto(WHOLE, WHOLE, day!));
      for (const row of [...hours!, ...shifts!, ...day!]) {
        expect(row.total).toBe(row.volumes.reduce<number>((sum, volume) => sum + (volume ?? 0), 0));
      }
    });
    fc.assert(property, runs(100));
  });

  it("for any split of the day", { timeout: PATIENCE }, () => {
    const offsets = fc.array(fc.integer({ min: 1, max: DAY - 1 }), { maxLength: 8 });
    const property = fc.property(charted, step, offsets, (charted, step, offsets) => {
      const split = cutAt(offsets);
      const [parts, whole] = [split, WHOLE].map((intervals) => rowsOf(charted, intervals, "channel", step));
      expect(summedInto(WHOLE, split, parts!)).toEqual(summedInto(WHOLE, WHOLE, whole!));
    });
    fc.assert(property, runs(100));
  });

  it("and every grouping to the same sum in every interval", { timeout: PATIENCE }, () => {
    const property = fc.property(charted, step, (charted, step) => {
      const groupings = GROUPINGS.map((per) => rowsOf(charted, HOURS, per, step));
      HOURS.forEach((_, i) => {
        const sums = groupings.map((rows) => column(rows, i));
        expect(sums).toEqual(sums.map(() => sums[0]));
      });
    });
    fc.assert(property, runs(100));
  });
});

describe("rounding", () => {
  /** Halves away from zero; nothing that flows is negative. */
  const rounded = (ticks: bigint, step: Step) => {
    const size = BigInt(step) * 3_600_000n;
    return Number(((2n * ticks + size) / (2n * size)) * BigInt(step));
  };
  const by = (flows: readonly Flow[], from: number, to: number) =>
    flows.reduce(
      (ticks, flow) => ticks + deliveredBy(flow, to as Instant) - deliveredBy(flow, from as Instant),
      0n,
    );

  it("is on the curve of channel, bag and role since the start of the shift", { timeout: PATIENCE }, () => {
    const property = fc.property(charted, step, (charted, step) => {
      const { flows } = charted.folded;
      const finest = groupedBy(flows, ({ channel, line, bag, role }) =>
        JSON.stringify([channel, line, bag, role]),
      );
      // Of rate and time alone: with nothing read, what is delivered is what is computed.
      const folded = { ...charted.folded, readings: [] };
      const rows = rowsOf({ ...charted, folded, amounts: [] }, HOURS, "channel", step);
      for (const row of rows) {
        expect(row.volumes).toEqual(row.computed);
        for (const [i, { start, end }] of HOURS.entries()) {
          const shift = start < SHIFTS[1]! ? SHIFTS[0]! : SHIFTS[1]!;
          const expected = [...finest.values()]
            .filter(([flow]) => flow!.channel === row.key)
            .map((flows) => rounded(by(flows, shift, end), step) - rounded(by(flows, shift, start), step))
            .reduce((sum, volume) => sum + volume, 0);
          expect(row.volumes[i]).toBe(start < charted.stay.until ? expected : null);
        }
      }
    });
    fc.assert(property, runs(50));
  });
});
