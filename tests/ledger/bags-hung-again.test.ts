/**
 * A bag of 500 mL gives 200 mL, comes down on the 4th, and is hung again on the 7th, when no checkpoint
 * knows of it any more: what it gives then is what it had left.
 */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import { amend, change, drank, hang, on, running, start, type Told, void_ } from "./telling.js";

const adjusted = (clock: string, volume: number): Told => {
  const { channel: _, ...told } = on(clock, "bag-adjusted", { bag: "a", volume, reason: "withdrawn" });
  return told;
};

/** The bag a ran from 07:00 to 09:00 on the 4th at 100 mL/h; somebody drinks in every shift since. */
async function downOnThe4th(): Promise<Stay> {
  const stay = await Stay.begun({ now: "4 06:30" });
  await stay
    .itIs("4 09:00")
    .post([
      ...running().slice(0, 2),
      hang("07:00", "a", 500, { id: "hung" }),
      start("07:00", 100),
      hang("09:00", "b", 1_000, { id: "replaced" }),
      on("09:00", "flow-stopped", { id: "stopped" }),
    ]);
  for (const clock of ["4 20:00", "5 08:00", "5 20:00", "6 08:00", "6 20:00", "7 08:00"]) {
    await stay.itIs(clock).post([drank(clock, 10)]);
  }
  return stay.itIs("7 18:00");
}

const again = [hang("7 18:00", "a", 500), start("7 18:00", 100, { id: "again" })];

/** Two drinks more, so that the shifts after it have their checkpoints. */
async function onThe8th(stay: Stay): Promise<Stay> {
  for (const clock of ["7 20:00", "8 08:00"]) await stay.itIs(clock).post([drank(clock, 10)]);
  return stay;
}

/** What the bag a gave on the 7th, in the day shift's last hour and in the night. */
async function given(stay: Stay): Promise<number[]> {
  const volumes: number[] = [];
  for (const shift of ["2026-03-07/day", "2026-03-07/night"]) {
    const { rows } = await stay.volumes(shift, { per: "bag", by: "whole" });
    volumes.push(rows.find(({ key }: { key: string }) => key === "a")?.total ?? 0);
  }
  return volumes;
}

describe("a bag hung again after days", () => {
  it("has what it had left, to a ledger that remembers the stay", async () => {
    const stay = await downOnThe4th();
    await stay.post(again);
    expect(await given(await onThe8th(stay))).toEqual([100, 200]);
  });

  it("has what it had left, to a ledger opened anew", async () => {
    const stay = await downOnThe4th();
    await (await stay.reopened()).post(again);
    expect(await given(await onThe8th(stay))).toEqual([100, 200]);
  });

  it("has what it had left, to a ledger opened anew that charted something else since", async () => {
    const stay = await downOnThe4th();
    await (await stay.reopened()).post([drank("7 17:30", 10)]);
    await stay.post(again);
    expect(await given(await onThe8th(stay))).toEqual([100, 200]);
  });

  it("has what it had left where its hanging is itself charted late", async () => {
    const stay = await downOnThe4th();
    await onThe8th(stay);
    await stay.post(again);
    expect(await given(stay)).toEqual([100, 200]);
  });

  it("has less after something was drawn out of it while it was down, whenever that is charted", async () => {
    const stay = await downOnThe4th();
    await stay.post([adjusted("7 17:00", -50), ...again]);
    expect(await given(await onThe8th(stay))).toEqual([100, 150]);
    await stay.post([adjusted("5 12:00", -25)]);
    expect(await given(stay)).toEqual([100, 125]);
  });

  it.each<[string, Told[], number[]]>([
    ["a lower rate while it hung first", [change("4 08:00", 50)], [100, 250]],
    [
      "a level when it is said to have been hung",
      [amend("hung", hang("07:00", "a", 500, { remaining: 400 }))],
      [100, 100],
    ],
    [
      "that it ran on for an hour",
      [amend("replaced", hang("10:00", "b", 1_000)), amend("stopped", on("10:00", "flow-stopped"))],
      [100, 100],
    ],
    ["that it was never hung before", [void_("hung")], [100, 400]],
    [
      "that it was hung in between",
      [hang("5 12:00", "a", 500, { remaining: 120 }), hang("5 12:30", "b", 1_000)],
      [100, 20],
    ],
  ])("has what it had left by what is charted of it days late: %s", async (_what, late, expected) => {
    const stay = await downOnThe4th();
    await stay.post(again);
    await onThe8th(stay);
    await stay.post(late);
    expect(await given(stay)).toEqual(expected);
    expect(await given(await stay.withoutCheckpoints())).toEqual(expected);
  });
});
