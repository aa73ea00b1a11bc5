/**
 * What readings do to what was delivered: the increment of each is met to the tick, what
 * finished by itself is held, nothing flows backwards, and when things ran is never moved.
 */

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Step } from "../../src/conventions/settings.js";
import type { Anchor } from "../../src/infusion/anchor.js";
import { type Apportioned, apportioned } from "../../src/infusion/apportion.js";
import { finestRows, standingRows } from "../../src/infusion/cumulative.js";
import { type Delivery, givenBy, type Unattributed } from "../../src/infusion/delivery.js";
import type { Flow } from "../../src/infusion/flow.js";
import { volumeRows } from "../../src/infusion/volumes.js";
import { HOUR, type Instant, instant, type Period } from "../../src/time/instant.js";
import { BEGINS } from "./arbitrary.js";
import {
  agreeing,
  anyhow,
  courseOf,
  deliveredIn,
  doubtful,
  exact,
  type Followed,
  followed,
  type Look,
  segments,
  withLooks,
} from "./readings.js";
import { PATIENCE, runs } from "./runs.js";
import { ODD_NUMBERS, REALISTIC } from "./scales.js";

const course = fc.oneof(courseOf(REALISTIC), courseOf(ODD_NUMBERS));
const stayWith = (look: fc.Arbitrary<Look>) =>
  fc.record({ stay: course, looks: fc.array(look, { minLength: 2, maxLength: 12 }) });
const readAnyhow = fc.record({
  stay: course,
  looks: fc.array(anyhow, { maxLength: 8 }),
  told: segments,
});

/** The amounts that belong to an anchor: its own, and those of segments within its span. */
function standingIn({ unattributed, anchors }: Apportioned, anchor: Anchor): bigint {
  const segments = new Set(anchors.filter(({ kind }) => kind === "segment").map(({ entry }) => entry));
  const counts = ({ total, bag }: Unattributed) => {
    if (anchor.kind === "segment") return true;
    return anchor.kind === "total"
      ? (total ?? "primary") === (anchor.total === "combined" ? (total ?? "primary") : anchor.total)
      : bag === anchor.bag;
  };
  const within = ({ channel, from, at }: Unattributed) =>
    channel === anchor.channel && from >= anchor.from && at <= anchor.to;
  return unattributed
    .filter((one) => one.entry === anchor.entry || (segments.has(one.entry) && within(one) && counts(one)))
    .reduce((sum, { volume }) => sum + volume, 0n);
}

/** What the deliveries that rest on an anchor came to. */
function ownIn({ deliveries }: Apportioned, { entry }: Anchor): bigint {
  return deliveries.filter(({ anchor }) => anchor === entry).reduce((sum, { volume }) => sum + volume, 0n);
}

/** What those of them came to that had not finished by themselves by then. */
function freeIn(
  { entry, to }: Anchor,
  finished: Followed["finished"],
  deliveries: readonly Delivery[],
): bigint {
  return deliveries
    .filter(({ anchor }) => anchor === entry)
    .filter(({ channel, programme, end }) =>
      finished.every(
        (one) => one.channel !== channel || one.programme !== programme || end > one.at || one.at > to,
      ),
    )
    .reduce((sum, { volume }) => sum + volume, 0n);
}

/** Of two reports of one segment the later one counts. */
const toldAgain = (anchors: readonly Anchor[], { kind, channel, from, to, sequence }: Anchor) =>
  kind === "segment" &&
  anchors.some(
    (other) =>
      other.kind === kind &&
      other.channel === channel &&
      other.from === from &&
      other.to === to &&
      other.sequence > sequence,
  );

describe("the increment of a reading", () => {
  it("is exactly what was delivered since the one before, with what stands at it", {
    timeout: PATIENCE,
  }, () => {
    let met = 0;
    const property = fc.property(readAnyhow, ({ stay, looks, told }) => {
      const { entries } = withLooks(stay, looks, told);
      const result = apportioned(followed(entries, stay.until));
      for (const anchor of result.anchors) {
        if (anchor.delivered === null || toldAgain(result.anchors, anchor)) continue;
        const sum = deliveredIn(result, anchor, anchor.from, anchor.to) + standingIn(result, anchor);
        const { unplaced = 0n } = anchor;
        expect(sum - unplaced, `${anchor.kind} ${anchor.entry}`).toBe(anchor.delivered);
        if (unplaced === 0n) met++;
        // Only what other looks at the device say of the span is ever more than was read.
        else expect(ownIn(result, anchor)).toBe(0n);
      }
    });
    fc.assert(property, runs(150));
    expect(met).toBeGreaterThan(100);
  });

  it("scales what flowed where it is near, and leaves nothing over", { timeout: PATIENCE }, () => {
    let scaled = 0;
    const property = fc.property(stayWith(fc.oneof(agreeing, doubtful)), ({ stay, looks }) => {
      const { entries } = withLooks(stay, looks);
      const course = followed(entries, stay.until);
      const { deliveries, anchors, unattributed } = apportioned(course);
      const counters = new Set(anchors.filter(({ kind }) => kind === "total").map(({ entry }) => entry));
      for (const { scale, volume, computed, basis, anchor, programme } of deliveries) {
        // What is spread over minutes at an unknown rate is named after its reading, and nothing of it computed.
        const isSpread = programme === anchor;
        if (scale === null || isSpread || !counters.has(anchor!)) continue;
        scaled++;
        expect(basis).not.toBe("computed");
        expect(unattributed.map(({ entry }) => entry)).not.toContain(anchor);
        // A factor of 0.8 to 1.25, within the tick that each end of a piece may lose.
        expect(volume * 5n).toBeGreaterThanOrEqual(computed * 4n - 5n);
        expect(volume * 4n).toBeLessThanOrEqual(computed * 5n + 4n);
      }
    });
    fc.assert(property, runs(200));
    expect(scaled).toBeGreaterThan(50);
  });
});

describe("what is delivered, with readings", () => {
  it("never flows backwards", { timeout: PATIENCE }, () => {
    const property = fc.property(
      readAnyhow,
      fc.array(fc.nat({ max: 1_000 }), { minLength: 2, maxLength: 6 }),
      ({ stay, looks, told }, shares) => {
        const { entries } = withLooks(stay, looks, told);
        const { deliveries, unattributed } = apportioned(followed(entries, stay.until));
        for (const delivery of deliveries) {
          const { start, end, volume } = delivery;
          const instants = shares.map((share) => start + Math.floor((share * (end - start)) / 1_000));
          let before = 0n;
          for (const at of [start, ...instants.sort((a, b) => a - b), end]) {
            const now = givenBy(delivery, at as Instant);
            expect(now).toBeGreaterThanOrEqual(before);
            before = now;
          }
          expect(givenBy(delivery, start)).toBe(0n);
          expect(before).toBe(volume);
        }
        for (const { volume } of unattributed) expect(volume).toBeGreaterThan(0n);
      },
    );
    fc.assert(property, runs(100));
  });

  it("is never less than nothing in any hour of any row", { timeout: PATIENCE }, () => {
    const hours = Array.from({ length: 24 }, (_, i): Period => {
      return { start: instant(BEGINS + i * HOUR), end: instant(BEGINS + (i + 1) * HOUR) };
    });
    let less = 0;
    const property = fc.property(readAnyhow, ({ stay, looks, told }) => {
      const { entries } = withLooks(stay, looks, told);
      const result = apportioned(followed(entries, stay.until));
      const rows = volumeRows(
        { ...result, amounts: [] },
        {
          intervals: hours,
          anchors: [BEGINS, BEGINS + 12 * HOUR].map((at) => instant(at)),
          until: instant(stay.until),
          admittedAt: instant(BEGINS),
          stepOf: () => 100 as Step,
          per: "bag",
        },
      );
      for (const { volumes } of rows) {
        for (const volume of volumes) expect(volume ?? 0).toBeGreaterThanOrEqual(0);
      }
      less += result.deliveries.filter(
        ({ scale, volume, computed }) => scale === null && volume < computed,
      ).length;
    });
    fc.assert(property, runs(100));
    expect(less).toBeGreaterThan(20);
  });

  it("sums to the same however the day is split", { timeout: PATIENCE }, () => {
    const day = 24 * HOUR;
    const cuts = fc.array(fc.integer({ min: 1, max: day - 1 }), { maxLength: 8 });
    const property = fc.property(readAnyhow, cuts, ({ stay, looks, told }, offsets) => {
      const { entries } = withLooks(stay, looks, told);
      const result = apportioned(followed(entries, stay.until));
      const totals = (bounds: readonly number[]) => {
        const sorted = [...new Set([0, ...bounds, day])].sort((a, b) => a - b);
        const intervals = sorted
          .slice(1)
          .map((end, i): Period => ({ start: instant(BEGINS + sorted[i]!), end: instant(BEGINS + end) }));
        const rows = volumeRows(
          { ...result, amounts: [] },
          {
            intervals,
            anchors: [BEGINS, BEGINS + 12 * HOUR].map((at) => instant(at)),
            until: instant(stay.until),
            admittedAt: instant(BEGINS),
            stepOf: () => 100 as Step,
            per: "bag",
          },
        );
        return Object.fromEntries(
          rows
            .filter(({ total }) => total !== 0)
            .map(({ key, channel, total }) => [`${channel} ${key}`, total]),
        );
      };
      expect(totals(offsets)).toEqual(totals([12 * HOUR]));
    });
    fc.assert(property, runs(100));
  });

  it("shows over the hours of a shift what each row came to, rounded once", { timeout: PATIENCE }, () => {
    let standing = 0;
    const step = 100;
    const half = (BigInt(step) * 3_600_000n) / 2n;
    const property = fc.property(readAnyhow, ({ stay, looks, told }) => {
      const { entries } = withLooks(stay, looks, told);
      const result = apportioned(followed(entries, stay.until));
      for (const shift of [0, 12]) {
        const hours = Array.from({ length: 12 }, (_, i): Period => {
          const start = BEGINS + (shift + i) * HOUR;
          return { start: instant(start), end: instant(start + HOUR) };
        });
        const [from, to] = [hours[0]!.start, hours.at(-1)!.end];
        const rows = volumeRows(
          { ...result, amounts: [] },
          {
            intervals: hours,
            anchors: [from],
            until: to,
            admittedAt: instant(BEGINS),
            stepOf: () => step as Step,
            per: "channel",
          },
        );
        for (const { key, total } of rows) {
          const own = <One extends { channel: string }>(all: readonly One[]) =>
            all.filter(({ channel }) => channel === key);
          const amounts = own(result.unattributed).filter(
            ({ at }) => (from < at || (from === BEGINS && at === from)) && at <= to,
          );
          const flowed = own(result.deliveries).map((one) => givenBy(one, to) - givenBy(one, from));
          const whole = [...flowed, ...amounts.map(({ volume }) => volume)].reduce((a, b) => a + b, 0n);
          const finest = finestRows(own(result.deliveries)).length + standingRows(amounts).length;
          const off = BigInt(total) * 3_600_000n - whole;
          expect(off < 0n ? -off : off).toBeLessThanOrEqual(BigInt(finest) * half);
          if (amounts.length > 1) standing++;
        }
      }
    });
    fc.assert(property, runs(150));
    expect(standing).toBeGreaterThan(5);
  });

  it("holds what finished by itself before it was read, as long as anything else flowed", {
    timeout: PATIENCE,
  }, () => {
    let held = 0;
    const property = fc.property(stayWith(anyhow), ({ stay, looks }) => {
      const { entries } = withLooks(stay, looks);
      const course = followed(entries, stay.until);
      const { deliveries, anchors } = apportioned(course);
      for (const { channel, programme, at } of course.finished) {
        for (const delivery of deliveries) {
          if (delivery.channel !== channel || delivery.programme !== programme || delivery.end > at) continue;
          const anchor = anchors.find(({ entry }) => entry === delivery.anchor);
          if (anchor?.kind !== "total" || at > anchor.to) continue;
          held++;
          if (delivery.volume !== delivery.computed)
            expect(freeIn(anchor, course.finished, deliveries)).toBe(0n);
        }
      }
    });
    fc.assert(property, runs(150));
    expect(held).toBeGreaterThan(20);
  });

  it("ran when it ran without any reading", { timeout: PATIENCE }, () => {
    const property = fc.property(stayWith(anyhow), ({ stay, looks }) => {
      const { entries } = withLooks(stay, looks);
      const withThem = followed(entries, stay.until);
      const inTime = (flows: readonly Flow[]) =>
        [...flows].sort((a, b) => a.start - b.start || (a.channel < b.channel ? -1 : 1));
      expect(inTime(withThem.flows)).toEqual(inTime(followed(stay.entries, stay.until).flows));
      const { deliveries } = apportioned(withThem);
      for (const flow of withThem.flows) {
        const own = deliveries.filter(
          ({ channel, programme, role, bag, start, end }) =>
            channel === flow.channel &&
            programme === flow.programme &&
            role === flow.role &&
            bag === flow.bag &&
            start >= flow.start &&
            end <= flow.end,
        );
        expect(own.reduce((ticks, { computed }) => ticks + computed, 0n)).toBe(flow.volume);
        expect(own.reduce((time, { start, end }) => time + end - start, 0)).toBe(flow.end - flow.start);
      }
    });
    fc.assert(property, runs(100));
  });
});

describe("what is at risk and what was captured", () => {
  it("are together what was delivered since the last clear, as far off as readings may be", {
    timeout: PATIENCE,
  }, () => {
    let [captured, scaled] = [0, 0];
    const property = fc.property(stayWith(fc.oneof(exact, agreeing)), ({ stay, looks }) => {
      const { entries } = withLooks(stay, looks);
      const course = followed(entries, stay.until);
      const { deliveries, unattributed, anchors } = apportioned(course);
      for (const { channel, counters } of course.state.channels.values()) {
        for (const [total, counter] of Object.entries(counters)) {
          const chain = countedBy(counter.entry, course.readings);
          const since = entries.find(({ id }) => id === chain.at(-1))!.entry.at;
          const own = deliveries.filter((one) => one.channel === channel && one.total === total);
          const flowed = own.reduce((sum, one) => sum + one.volume - givenBy(one, since), 0n);
          const beside = unattributed
            .filter((one) => one.channel === channel && chain.includes(one.entry))
            .reduce((sum, { volume }) => sum + volume, 0n);
          const kept = anchors
            .filter((one) => one.channel === channel && chain.includes(one.entry))
            .reduce((sum, { unplaced = 0n }) => sum + unplaced, 0n);
          expect(flowed + beside - kept).toBe(counter.base + counter.since);
          if (counter.read) captured++;
          scaled += own.filter(({ scale, volume, computed }) => scale !== null && volume !== computed).length;
        }
      }
    });
    fc.assert(property, runs(150));
    expect(captured).toBeGreaterThan(50);
    expect(scaled).toBeGreaterThan(50);
  });
});

/** The readings a mark goes back on, the last first, and what cleared the total or connected its channel. */
function countedBy(
  mark: string,
  readings: readonly { entry: string; over: { entry: string } }[],
): readonly string[] {
  const reading = readings.find(({ entry }) => entry === mark);
  return reading === undefined ? [mark] : [mark, ...countedBy(reading.over.entry, readings)];
}
