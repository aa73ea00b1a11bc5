/**
 * A person and a device that tell of one clear by clocks of their own: the reading that the person took before
 * it stands before it, whichever of them was recorded first. 75 mL/h from 07:00: 150 mL by 09:00.
 */

import { describe, expect, it } from "vitest";
import { chart, found, read, reset } from "./asking.js";
import { type Json, PUMPS, Stay } from "./stay.js";
import { on, running, start, type Told } from "./telling.js";

const DAY = "2026-03-04/day";

async function begun(): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(running());
  return stay;
}

async function hours(stay: Stay): Promise<Json[]> {
  const { rows } = await stay.volumes(DAY);
  return rows[0].volumes.slice(0, 4);
}

/** By the device's clock it was cleared a minute and a half before nine, or after. */
const early = (kind: string): Told => ({ ...on("08:58", kind), at: "2026-03-04T08:58:30-06:00" });
const late = (kind: string): Told => ({ ...on("09:01", kind), at: "2026-03-04T09:01:30-06:00" });
const byHand = (kind: string): Told[] => [read("09:00", 150), on("09:00", kind), start("09:00", 75)];

describe.each([
  ["a minute and a half before", early],
  ["a minute and a half after", late],
])("a device's report of the same clear, %s", (_, report) => {
  it.each([
    ["therapy-changed", "therapy-changed"],
    ["totals-reset", "totals-reset"],
    ["therapy-changed", "totals-reset"],
  ])("a %s by hand and a %s: nothing is lost, and nothing counts twice", async (person, device) => {
    for (const deviceFirst of [false, true]) {
      const stay = await begun();
      const told = report(device);
      if (deviceFirst) await stay.post([told], { as: PUMPS });
      await chart(stay, byHand(person));
      if (!deviceFirst) await stay.post([told], { as: PUMPS });
      expect(await found(stay), `device first: ${deviceFirst}`).not.toContain("totals-lost attention open");
      const [first, second, third, fourth] = await hours(stay);
      // 150 was read of the first two hours; the clocks' minute and a half may stand on either side of it.
      expect(Math.abs(first + second - 150), `device first: ${deviceFirst}`).toBeLessThanOrEqual(2);
      expect(Math.abs(first + second + third - 225)).toBeLessThanOrEqual(2);
      expect(fourth).toBe(75);
    }
  });
});

describe("a reading after a clear", () => {
  it("stands before it within three minutes, where only that explains it", async () => {
    const stay = await begun();
    await stay.post([early("totals-reset")], { as: PUMPS });
    await chart(stay, [read("09:00", 150)]);
    expect(await found(stay)).not.toContain("totals-lost attention open");
    const [first, second] = await hours(stay);
    // What ran on by the minute and a half between the clocks counts once more, on the cleared total.
    expect(first + second).toBeCloseTo(150 + 1.9, 5);
  });

  it("later than that does not: it is asked about", async () => {
    const stay = await begun();
    await stay.post([early("totals-reset")], { as: PUMPS });
    const refused = (await stay.refused([read("09:02", 152)], { queued: false })) as Json;
    expect(refused.problem).toBe("reading-disagrees");
  });

  it("that shows what was counted since is one after it", async () => {
    const stay = await begun();
    await chart(stay, [read("09:00", 150), reset("09:00"), read("09:02", 2.5)]);
    expect(await found(stay)).toEqual([]);
    expect((await hours(stay)).slice(0, 2)).toEqual([75, 75]);
  });
});
