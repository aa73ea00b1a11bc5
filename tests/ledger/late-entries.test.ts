/** What was recorded long after the fact is one finding per person and shift, in whatever order it came. */

import { describe, expect, it } from "vitest";
import { type Json, NURSE, Stay } from "./stay.js";
import { change, drank, running, type Told } from "./telling.js";

const OTHER = { ...NURSE, id: "n-2", name: "B. Nurse" };
const FASTER = change("08:00", 80, { id: "faster" });
const CUP = drank("09:00", 240, { id: "cup" });

async function recorded(...told: readonly (readonly [Told, typeof NURSE])[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "07:01" });
  await stay.post(running());
  stay.itIs("14:00");
  for (const [one, as] of told) await stay.post([one], { as });
  return stay;
}

async function late(stay: Stay): Promise<Json[]> {
  return (await stay.findings()).filter(({ code }) => code === "late-entry");
}

describe("late entries", () => {
  it("are the same finding in both orders of recording, its entries in the order in which they happened", async () => {
    const once = await late(await recorded([FASTER, NURSE], [CUP, NURSE]));
    expect(once).toMatchObject([
      {
        id: "late-entry~-~2026-03-04:day:n-1",
        concerns: { shift: "2026-03-04/day", entries: ["faster", "cup"] },
        sentence: "2 entries of one person were recorded more than 2 h after the fact, up to 6 h.",
      },
    ]);
    expect(await late(await recorded([CUP, NURSE], [FASTER, NURSE]))).toEqual(once);
  });

  it("of two people are two findings", async () => {
    const ids = (await late(await recorded([FASTER, OTHER], [CUP, NURSE]))).map(({ id }) => id);
    expect(ids).toEqual(["late-entry~-~2026-03-04:day:n-2", "late-entry~-~2026-03-04:day:n-1"]);
  });

  it("stay acknowledged when an earlier one is recorded later still, and when the shift has ended", async () => {
    const stay = await recorded([CUP, NURSE]);
    const [{ id }] = (await late(stay)) as [Json];
    await stay.ledger.acknowledge(OTHER, "stay-1", id, "There was an emergency next door.", null);
    stay.itIs("15:00");
    await stay.post([FASTER]);
    stay.itIs("20:00");
    expect(await late(stay)).toMatchObject([{ id, state: "acknowledged" }]);
  });
});
