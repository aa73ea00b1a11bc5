/**
 * What stands at readings is rounded as everything else: once, on what a row came to since the shift began. So
 * however often somebody reads, a shift shows what the device does.
 */

import { describe, expect, test } from "vitest";
import { done, type Json, PUMPS, Stay } from "./stay.js";
import { at, line, on, running, type Told } from "./telling.js";

const DAY = "2026-03-04/day";
const clock = (minutes: number) =>
  `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`;

async function shown(stay: Stay) {
  const [row] = (await stay.volumes(DAY)).rows;
  const { intake, output } = done(
    await stay.ledger.balance("stay-1", { period: { shift: DAY }, by: "shift" } as never),
  ) as Json;
  return { total: row?.total, hours: row?.volumes, intake: intake.total, output: output.total };
}

/** A metered channel read so many times, every so many minutes, each time 0.25 mL more than before. */
async function metered(times: number, every: number): Promise<Stay> {
  const stay = await Stay.begun({ now: "19:00" });
  await stay.post([
    line("07:00"),
    on("07:00", "channel-connected", { line: "forearm", type: "metered", totals: "combined" }),
    ...Array.from({ length: times }, (_, i): Told => {
      const volume = (i + 1) / 4;
      return on(clock(420 + (i + 1) * every), "total-read", { total: "combined", volume });
    }),
  ]);
  return stay;
}

describe("a metered channel", () => {
  test("read every hour, 0.25 mL more each time, shows in a shift the 3 mL that the device shows", async () => {
    const { total, hours, intake } = await shown(await metered(12, 60));
    expect([total, intake]).toEqual([3, 3]);
    // 0.25, 0.5, 0.75, 1 … round to 0.3, 0.5, 0.8, 1.
    expect(hours.slice(0, 4)).toEqual([0.3, 0.2, 0.3, 0.2]);
  });

  test("read every quarter of an hour shows the 10 mL that the device shows", async () => {
    const { total, intake } = await shown(await metered(40, 15));
    expect([total, intake]).toEqual([10, 10]);
  });
});

test("60 segments of 3.2 mL that a person looked at again are 192 mL in their hour", async () => {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(running());
  const segments = Array.from({ length: 60 }, (_, i) =>
    on(clock(481 + i), "segment-read", { start: at(clock(480 + i)), volume: 3.2, confirmed: true }),
  );
  await stay.post(segments);
  const { total, hours, intake } = await shown(stay);
  expect(hours.slice(0, 4)).toEqual([75, 192, 75, 75]);
  expect([total, intake]).toEqual([417, 417]);
});

test("a chest drain that is looked at every hour shows in a shift the 3 mL it gained", async () => {
  const stay = await Stay.begun({ now: "19:00" });
  await stay.post([
    { kind: "chamber-placed", at: at("07:00"), chamber: "cd", category: "chest-drain", level: 0 },
    ...Array.from({ length: 12 }, (_, i): Told => {
      return { kind: "chamber-read", at: at(clock(480 + i * 60)), chamber: "cd", level: (i + 1) / 4 };
    }),
  ]);
  expect((await shown(stay)).output).toBe(3);
});

test("60 segments of 0.15 mL told of a time in which nothing is known to have flowed are 9 mL", async () => {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post([...running(), on("08:00", "flow-stopped")]);
  const segments = Array.from({ length: 60 }, (_, i) =>
    on(clock(481 + i), "segment-read", { start: at(clock(480 + i)), volume: 0.15 }),
  );
  await stay.post(segments, { as: PUMPS, queued: false });
  const { total } = await shown(stay);
  expect(total).toBe(84);
});
