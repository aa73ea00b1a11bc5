/** What the ledger says of what it was told, where it is easily said too well or not at all. */

import { describe, expect, it } from "vitest";
import { chart, findings, read, reset } from "./asking.js";
import { done, type Json, PUMPS, Stay } from "./stay.js";
import { at, hang, line, on, pump, running, start, when } from "./telling.js";

const DAY = "2026-03-04/day";
const sentences = async (stay: Stay) => (await findings(stay)).map(({ sentence }) => sentence);

describe("a loss out of what a reading shows not to have flowed", () => {
  const loss = on("10:30", "delivery-lost", {
    from: at("09:30"),
    to: at("10:30"),
    volume: 15,
    reason: "leaked",
  });

  // 20 mL/h since seven are 80 at eleven, and 20 in the hour of the loss.
  it.each([
    [66, 51, null],
    [63, 50, 13],
    [50, 50, 0],
  ])(
    "comes off as far as anything is left, and is found beyond that: read %d",
    async (shown, intake, left) => {
      const stay = await Stay.begun({ now: "12:00" });
      await stay.post([line("07:00"), pump("07:00"), hang("07:00", "b", 250), start("07:00", 20), loss]);
      await chart(stay, [read("11:00", shown, { confirmed: true })]);
      const { intake: sums } = done(
        await stay.ledger.balance("stay-1", {
          period: { from: when("07:00"), to: when("11:00") },
          by: "hour",
        } as never),
      ) as Json;
      expect(sums.total).toBe(intake);
      const found = (await sentences(stay)).filter((one) => one.includes("charted as lost"));
      expect(found).toEqual(
        left === null
          ? []
          : [
              "15 mL were charted as lost on pump-1 from 09:30 to 10:30, " +
                `when it delivered ${left} mL: no more than that is taken off.`,
            ],
      );
    },
  );
});

describe("why a reading moves no figure", () => {
  const whyOf = async (stay: Stay, id: string) => {
    const [{ readings }] = (
      done(await stay.ledger.threeWays("stay-1", { period: { shift: DAY } } as never)) as Json
    ).channels;
    return readings.find(({ reading }: Json) => reading === id).why;
  };

  it("is said of one after a clear that was found", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    const leaveUncaptured = { reason: "already-cleared" };
    await stay.post([...running(), reset("09:00", { between: [at("08:00"), at("09:00")], leaveUncaptured })]);
    await chart(stay, [read("10:00", 100, { id: "next" })]);
    expect(await whyOf(stay, "next")).toContain("Nobody knows when the total was cleared");
  });

  it.each([
    [830, "It agrees, and was recorded after this time was signed"],
    [600, "It disagrees, and was recorded after this time was signed"],
  ])("is said of one that was recorded after its time was signed: %i", async (shown, sentence) => {
    const stay = await Stay.begun({ now: "19:00" });
    await stay.post(running());
    await stay.signs(DAY);
    stay.itIs("20:00");
    await chart(stay, [read("18:00", shown, { id: "late", confirmed: true })]);
    expect(await whyOf(stay, "late")).toContain(sentence);
  });
});

it("a metered channel shows what its device's segments captured", async () => {
  const stay = await Stay.begun({ now: "12:00" });
  await stay.post([
    line("07:00"),
    on("07:00", "channel-connected", { line: "forearm", type: "metered", totals: "combined" }),
  ]);
  await stay.post([on("09:00", "segment-read", { start: at("08:00"), volume: 50 })], { as: PUMPS });
  const [{ segments }] = (await stay.totals()).channels;
  expect(segments).toMatchObject({ count: 1, captured: 50 });
});

it("a chamber that was emptied and not read since has no last reading", async () => {
  const stay = await Stay.begun({ now: "12:00" });
  const chamber = (clock: string, kind: string, more = {}) => ({
    kind,
    at: at(clock),
    chamber: "cd",
    ...more,
  });
  await stay.post([chamber("07:00", "chamber-placed", { category: "chest-drain", level: 0 })]);
  expect((await stay.totals()).chambers[0].lastReading).toBe(0);
  await stay.post([chamber("09:00", "chamber-emptied", { level: 80 })]);
  expect((await stay.totals()).chambers[0].lastReading).toBe(null);
});

it("a segment that began long before the stay is refused, and a clear that was found as well", async () => {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(running());
  const old = "2020-01-01T00:00:00Z";
  const refused = async (entry: Json) => {
    const { problem, errors } = (await stay.refused([entry], { as: PUMPS })) as Json;
    return [problem, errors.map(({ pointer, code }: Json) => `${pointer} ${code}`)];
  };
  expect(await refused(on("09:00", "segment-read", { start: old, volume: 150 }))).toEqual([
    "invalid-entries",
    ["#/entries/0/start too-early"],
  ]);
  expect(await refused(reset("09:00", { between: [old, at("09:00")] }))).toEqual([
    "invalid-entries",
    ["#/entries/0/at too-early"],
  ]);
});

it("that a device was switched off is said where a person tells it after the device's clear", async () => {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post(running());
  const totals = ["primary", "secondary"];
  await stay.post([on("10:00:20", "totals-reset", { id: "dev", totals })], { as: PUMPS });
  const leaveUncaptured = { reason: "already-cleared" };
  await chart(stay, [reset("10:01", { totals, cause: "power-off", leaveUncaptured })]);
  expect(await sentences(stay)).toEqual([
    "The primary total of pump-1 was cleared at 10:00 when the device was switched off, with 225.4 mL not " +
      "written down since 07:00, as was charted: that volume is computed only.",
  ]);
});
