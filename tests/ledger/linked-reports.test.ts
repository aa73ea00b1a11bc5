/** One event told by a nurse and by the pump: both reports stand in the record, and each names the other. */

import { describe, expect, it } from "vitest";
import { type Json, PUMPS, Stay } from "./stay.js";
import { change, drank, type Told, void_ } from "./telling.js";

const byNurse = (clock: string, more: Told = {}) => [change(clock, 80, { id: "nurse", ...more })];
const byPump = (clock: string) => [change(clock, 80, { id: "pump" })];

/** What every entry of the stay is linked to, by the ids of those that are. */
async function links(stay: Stay, sequence?: number): Promise<Record<string, string>> {
  const asOf = sequence === undefined ? {} : { asOf: { sequence } };
  const linked = (await stay.entries(asOf)).filter(({ recorded }) => recorded.linkedTo !== undefined);
  return Object.fromEntries(linked.map(({ id, recorded }: Json) => [id, recorded.linkedTo]));
}

const BOTH = { nurse: "pump", pump: "nurse" };

describe("two reports of one event", () => {
  it("name each other, and count once from the earlier time", async () => {
    const stay = await Stay.running();
    await stay.post(byNurse("09:00"));
    expect(await links(stay)).toEqual({});
    const { body } = await stay.post(byPump("09:02"), { as: PUMPS });
    expect(body.entries[0].recorded.linkedTo).toBe("nurse");
    expect(await links(stay)).toEqual(BOTH);
    expect((await stay.entry("nurse")).recorded.linkedTo).toBe("pump");
    expect((await stay.entry("pump")).recorded.linkedTo).toBe("nurse");
    expect((await stay.hours("2026-03-04/day")).slice(2, 4)).toEqual([80, 80]);
  });

  it("name each other in whatever order they come, hours late, and after a restart", async () => {
    const stay = await Stay.running();
    await stay.post(byPump("09:02"), { as: PUMPS });
    await stay.itIs("5 14:00").post([drank("5 09:00", 5)]);
    await stay.reopened();
    const { body } = await stay.post(byNurse("09:00"));
    expect(body.entries[0].recorded.linkedTo).toBe("pump");
    expect(await links(stay)).toEqual(BOTH);
    await stay.withoutCheckpoints();
    expect(await links(stay)).toEqual(BOTH);
  });

  it("are told to a retry as they were at first", async () => {
    const stay = await Stay.running();
    await stay.post(byNurse("09:00"));
    const first = await stay.post(byPump("09:02"), { as: PUMPS });
    const again = await stay.post(byPump("09:02"), { as: PUMPS });
    expect(again.body.entries).toEqual(first.body.entries);
    const more = await stay.post([...byPump("09:02"), change("10:00", 90, { id: "more" })], { as: PUMPS });
    expect(more.body.entries.map(({ recorded }: Json) => recorded.linkedTo)).toEqual(["nurse", undefined]);
  });

  it("are no longer linked once one of them is void, and were not before both were known", async () => {
    const stay = await Stay.running();
    await stay.post(byNurse("09:00"));
    const first = await stay.sequence();
    await stay.post(byPump("09:02"), { as: PUMPS });
    const both = await stay.sequence();
    await stay.post([void_("nurse")]);
    expect(await links(stay)).toEqual({});
    expect(await links(stay, both)).toEqual(BOTH);
    expect(await links(stay, first)).toEqual({});
  });

  it.each<[string, string, object]>([
    ["more than three minutes apart", "09:03:01", { as: PUMPS }],
    ["by two nurses", "09:02", {}],
  ])("are two events: %s", async (_what, clock, options) => {
    const stay = await Stay.running();
    await stay.post(byNurse("09:00"));
    await stay.post(byPump(clock), options);
    expect(await links(stay)).toEqual({});
  });
});
