/**
 * What was delivered does not depend on what was asked for: a window cut in two comes to the same, to the
 * tick, however far apart the readings are whose spans it cuts; from checkpoints and without them; and an
 * answer as of an earlier moment stays what it was.
 */

import fc from "fast-check";
import { describe, expect, it, onTestFinished } from "vitest";
import { computedOf, givenBy } from "../../src/infusion/delivery.js";
import { coordinates } from "../../src/ledger/coordinates.js";
import { type Window, windowOf } from "../../src/ledger/window.js";
import { openSqlite } from "../../src/store/sqlite.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { PATIENCE, runs } from "../properties/runs.js";
import { BEGINS, bedside, HOUR, MINUTE, pay, visits } from "./readings.js";
import { type Json, Stay } from "./stay.js";
import { at, hang, line, on, pump, start, type Told, when } from "./telling.js";

const cuts = fc.array(fc.nat({ max: 1_000 }), { minLength: 3, maxLength: 3 });

/** The part of a window that lies after one instant and up to another, in ticks and ms, row by row. */
function between(window: Window, from: Instant, to: Instant): Map<string, bigint> {
  const sums = new Map<string, bigint>();
  const add = (row: readonly unknown[], amount: bigint) => {
    const name = row.join(" ");
    if (amount !== 0n) sums.set(name, (sums.get(name) ?? 0n) + amount);
  };
  for (const delivery of window.deliveries) {
    const { channel, bag, role, basis, start, end } = delivery;
    add([channel, bag, role, "given"], givenBy(delivery, to) - givenBy(delivery, from));
    add([channel, bag, role, "computed"], computedOf(delivery, to) - computedOf(delivery, from));
    const lasts = Math.max(0, Math.min(end, to) - Math.max(start, from));
    add([channel, bag, role, basis], BigInt(lasts));
  }
  for (const { channel, total, bag, entry, at, volume } of window.unattributed) {
    if (from < at && at <= to) add([channel, total, bag, entry], volume);
  }
  for (const { channel, bag, reason, start, end } of window.unknown) {
    add([channel, bag, reason], BigInt(Math.max(0, Math.min(end, to) - Math.max(start, from))));
  }
  return sums;
}

function summed(...parts: readonly Map<string, bigint>[]): Record<string, bigint> {
  const sums = new Map<string, bigint>();
  for (const part of parts) for (const [row, amount] of part) sums.set(row, (sums.get(row) ?? 0n) + amount);
  const some = [...sums].filter(([, amount]) => amount !== 0n);
  return Object.fromEntries(some.sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Windows of a stay, asked of the file beside the ledger that has it open. */
async function asking(stay: Stay) {
  const store = await openSqlite(stay.path, { migrate: false });
  onTestFinished(() => store.close());
  const { now } = stay;
  return (from: Instant, to: Instant): Promise<Window> =>
    store.read(function* () {
      const resolved = yield* coordinates("encounter/stay-1", {}, now);
      if (resolved.refused) throw new Error(resolved.refused.problem);
      const { known, until, facts } = resolved.done;
      return yield* windowOf(known, { from, to, until }, facts.conventions.settingsAt);
    });
}

describe("a window of a stay", () => {
  it("cut in two comes to what it comes to as a whole", { timeout: PATIENCE }, async () => {
    const property = fc.asyncProperty(visits(14), cuts, async (all, shares) => {
      const stay = await bedside();
      for (const [i, visit] of all.entries()) await pay(stay, visit, i);
      const window = await asking(stay);
      const minutes = (stay.now - BEGINS) / MINUTE;
      const instantOf = (share: number) => instant(BEGINS + Math.round((share * minutes) / 1_000) * MINUTE);
      const [a, b, c] = shares.map(instantOf).sort((x, y) => x - y) as [Instant, Instant, Instant];
      fc.pre(a < b && b < c);
      const [whole, stays] = [await window(a, c), await window(instant(BEGINS), instant(stay.now))];
      const [first, second] = [await window(a, b), await window(b, c)];
      expect(summed(between(first, a, b), between(second, b, c))).toEqual(summed(between(whole, a, c)));
      expect(summed(between(whole, a, c))).toEqual(summed(between(stays, a, c)));
    });
    await fc.assert(property, runs(25));
  });
});

describe("an hour asked for alone", () => {
  const period = (clock: string, until: string) => ({ from: when(clock), to: when(until) });
  const shown = async (stay: Stay, from: string, to: string) => {
    const { rows } = await stay.volumes(period(from, to), { per: "channel" });
    return rows.map((row: Json) => row.volumes);
  };
  const read = (clock: string, volume: number) => on(clock, "total-read", { total: "primary", volume });
  const post = async (...told: Told[]) => {
    const stay = await Stay.begun({ now: "23:00" });
    await stay.post([line("07:00"), pump("07:00"), hang("07:00", "saline-1", 5_000), ...told]);
    return stay;
  };

  it("holds what came to its limit in the very minute of its end in which it was read", async () => {
    // 100 mL at 100 mL/h are done at 08:00; 103 agrees, and 3 more than was programmed were counted.
    const stay = await post(start("07:00", 100, { volumeToInfuse: 100 }), read("08:00", 103));
    expect(await shown(stay, "07:00", "08:00")).toEqual([[103]]);
    const { flows, unattributed } = await stay.flows(period("07:00", "08:00"));
    expect([flows.length, unattributed.length]).toEqual([1, 1]);
    expect((await stay.flows(period("07:00", "12:00"))).unattributed).toEqual(unattributed);
  });

  it("holds what a device counted over a segment before it, within one span of readings", async () => {
    // 1,300 mL computed by 20:00 and 1,250 read: 110 of them from 08:00 to 09:00, so 1,140 in the other 12 h.
    const segment = on("09:00", "segment-read", { start: at("08:00"), volume: 110 });
    const stay = await post(start("07:00", 100, { volumeToInfuse: "none" }), segment, read("20:00", 1_250));
    expect(await shown(stay, "08:00", "09:00")).toEqual([[110]]);
    expect(await shown(stay, "12:00", "13:00")).toEqual([[95]]);
    expect(await shown(stay, "19:00", "20:00")).toEqual([[95]]);
  });

  it("holds of a segment what lies in the span, though it began before", async () => {
    // 165 of the segment are 110 an hour: of the 401.5 since 18:00 it leaves 346.5 to three hours and a half.
    const segment = on("18:30", "segment-read", { start: at("17:00"), volume: 165 });
    const running = start("07:00", 100, { volumeToInfuse: "none" });
    const stay = await post(running, read("18:00", 1_100), segment, read("22:00", 1_501.5));
    expect(await shown(stay, "18:00", "19:00")).toEqual([[104.5]]);
    expect(await shown(stay, "20:00", "21:00")).toEqual([[99]]);
  });

  it("holds what a device counted over a segment that goes on after it, though its totals were read", async () => {
    // 450 from 10:00 to 14:00 are 112.5 an hour; of the 500 read at 12:00 that leaves 275 to the first three.
    const segment = on("14:00", "segment-read", { start: at("10:00"), volume: 450 });
    const running = start("07:00", 100, { volumeToInfuse: "none" });
    const stay = await post(running, read("12:00", 500), segment);
    expect(await shown(stay, "10:00", "11:00")).toEqual([[112.5]]);
    expect(await shown(stay, "11:00", "12:00")).toEqual([[112.5]]);
    expect(await shown(stay, "07:00", "08:00")).toEqual([[91.7]]);
  });

  it("is what a reading says that shows, half a day later, that the one before it was wrong", async () => {
    // 600 at 10:00 were no 300; by 21:00 there were 1,380 of 1,400, which is 98.6 each hour.
    const running = start("07:00", 100, { volumeToInfuse: "none" });
    const stay = await post(running, read("10:00", 600), read("21:00", 1_380));
    expect(await shown(stay, "07:00", "08:00")).toEqual([[98.6]]);
  });

  it("tells once what is unknown after an end that an entry at its own end confirms too late", async () => {
    const stay = await post(start("07:00", 100, { volumeToInfuse: 100 }), on("10:00", "therapy-changed"));
    const { unknown } = await stay.flows(period("07:00", "10:00"));
    expect(unknown.map(({ start, end }: Json) => [start, end])).toEqual([[at("08:00"), at("10:00")]]);
  });
});

/** The figures of a day by the hour, and of every hour of it asked for alone. */
async function hourly(stay: Stay): Promise<{ day: Json[]; alone: Json[] }> {
  const rowsOf = ({ rows }: Json, i: number) =>
    rows
      .map((row: Json) => [
        row.key ?? row.label,
        row.channel,
        row.volumes[i],
        row.computed?.[i],
        row.basis[i],
      ])
      .filter(([, , volume, computed]: Json) => volume || computed)
      .sort();
  const day: Json[] = [];
  const alone: Json[] = [];
  const asked = { from: instant(BEGINS), to: instant(BEGINS + 24 * HOUR) };
  const whole = await stay.volumes(asked, { per: "bag" });
  for (let i = 0; i < 24 && BEGINS + i * HOUR < stay.now; i++) {
    const hour = { from: instant(BEGINS + i * HOUR), to: instant(BEGINS + (i + 1) * HOUR) };
    day.push(rowsOf(whole, i));
    alone.push(rowsOf(await stay.volumes(hour, { per: "bag" }), 0));
  }
  return { day, alone };
}

describe("the figures of an hour", () => {
  it("are those it has among the hours of the day", { timeout: PATIENCE }, async () => {
    const property = fc.asyncProperty(visits(12), async (all) => {
      const stay = await bedside();
      for (const [i, visit] of all.entries()) await pay(stay, visit, i);
      const { day, alone } = await hourly(stay);
      expect(alone).toEqual(day);
    });
    await fc.assert(property, runs(15));
  });
});

describe("what was read", () => {
  it("comes to the same from checkpoints and without, and as of any earlier moment", {
    timeout: PATIENCE,
  }, async () => {
    const property = fc.asyncProperty(visits(12), async (all) => {
      const stay = await bedside();
      const seen = async (now: number, sequence: number): Promise<Json> => {
        const coordinates = { asOf: { sequence }, until: instant(now) };
        const period = { from: instant(BEGINS), to: instant(BEGINS + 48 * HOUR) };
        return [
          await stay.volumes(period, { per: "bag", ...coordinates }),
          await stay.flows(
            { from: instant(BEGINS + 5 * HOUR), to: instant(BEGINS + 30 * HOUR) },
            coordinates,
          ),
          await stay.totals(coordinates),
        ];
      };
      const kept: { now: number; sequence: number; saw: Json }[] = [];
      for (const [i, visit] of all.entries()) {
        await pay(stay, visit, i);
        const sequence = await stay.sequence();
        kept.push({ now: stay.now, sequence, saw: await seen(stay.now, sequence) });
      }
      const asThen = async () => {
        for (const { now, sequence, saw } of kept) expect(await seen(now, sequence)).toEqual(saw);
      };
      await asThen();
      await stay.reopened();
      await asThen();
      await stay.withoutCheckpoints();
      await asThen();
    });
    await fc.assert(property, runs(10));
  });
});
