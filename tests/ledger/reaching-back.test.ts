/** What is charted by day about the night: told as it is, with its own cause, and at once where somebody signed. */

import { beforeEach, describe, expect, test } from "vitest";
import { done, type Json, Stay } from "./stay.js";
import { at, hang, line, pump, start, type Told, void_ } from "./telling.js";

const NIGHT = "2026-03-04/night";

const read = (clock: string, volume: number, id: string): Told => {
  return { id, kind: "total-read", at: at(clock), channel: "pump-1", total: "primary", volume };
};
const LOST: Told = {
  ...{ id: "loss", kind: "delivery-lost", at: at("5 08:40"), channel: "pump-1" },
  ...{ from: at("5 03:00"), to: at("5 04:00"), volume: 30, reason: "infiltrated" },
};
const WEIGHED: Told = {
  ...{ id: "weight", kind: "weight-measured", at: at("5 06:00") },
  weight: { value: 70, unit: "kg" },
};

let stay: Stay;

/** A pump at 40 mL/h since 07:00; the total is read at 22:00 and shows the 15 h × 40 mL/h it should. */
beforeEach(async () => {
  stay = (await Stay.begun()).itIs("5 07:05");
  await stay.post([line("07:00"), pump("07:00"), hang("07:00", "a", 5_000), start("07:00", 40)]);
  await stay.post([read("22:00", 600, "evening")]);
});

async function changes(since: number): Promise<Json[]> {
  return (done(await stay.ledger.changes("stay-1", { since: { sequence: since } })) as Json).figures;
}

const short = ({ row, start, before, signed, after, now, causes }: Json) =>
  `${row.of} ${start.slice(8, 16)} ${before ?? signed} ${after ?? now} ${causes}`;

const codes = ({ body }: { body: Json }) => body.findings.map(({ code }: Json) => code);

describe("a loss of the night that is charted by day", () => {
  const moved = ["intake 05T03:00 40 10 loss", "net 05T03:00 40 10 loss"];

  test("moves the night, by itself, with a weight of the night recorded after it", async () => {
    await stay.signs(NIGHT);
    const since = await stay.itIs("5 09:00").sequence();
    await stay.post([LOST]);
    await stay.post([WEIGHED]);
    expect((await changes(since)).map(short)).toEqual(moved);
    expect((await stay.shift(NIGHT)).signatures[0].differences.map(short)).toEqual(moved);
  });

  test("is told to who charts it, of figures and of what was signed", async () => {
    await stay.signs(NIGHT);
    stay.itIs("5 09:00");
    const dry = await stay.post([LOST], { dryRun: true });
    expect(dry.body.effects).toMatchObject([
      { row: { balance: "net" }, start: at("5 03:00"), before: 40, after: 10 },
    ]);
    expect(codes(dry)).toContain("signed-shift-changed");
    const recorded = await stay.post([LOST]);
    const told = recorded.body.findings.find(({ code }: Json) => code === "signed-shift-changed");
    expect(told).toEqual((await stay.findings()).find(({ id }) => id === told.id));
    // Taken back, it settles that again.
    const back = await stay.post([void_("loss")]);
    expect(back.body.findings).toMatchObject([{ code: "signed-shift-changed", state: "settled" }]);
  });

  test("says nothing of a signature where it is of time that nobody signed", async () => {
    stay.itIs("5 09:00");
    expect(codes(await stay.post([LOST]))).not.toContain("signed-shift-changed");
  });
});

describe("a reading of the morning", () => {
  // Over 9 h 10 min 385 mL instead of 366.7: 42 mL/h since 22:00.
  const hours = ["04T22", "04T23", "05T00", "05T01", "05T02", "05T03", "05T04", "05T05", "05T06"];
  const night = (before: number, after: number, cause: string) =>
    hours.map((hour) => `volume ${hour}:00 ${before} ${after} ${cause}`);
  const ofNight = (all: Json[]) =>
    all.filter(({ row, start }) => row.of === "volume" && start < at("5 07:00")).map(short);

  test("moves the hours since the one before it, and its void moves them back", async () => {
    stay.itIs("5 09:00");
    for (const [entry, before, after] of [
      [read("5 07:10", 985, "morning"), 40, 42],
      [void_("morning", { id: "void" }), 42, 40],
      [void_("void", { id: "void-void" }), 40, 42],
    ] as const) {
      const since = await stay.sequence();
      const dry = await stay.post([entry], { dryRun: true });
      await stay.post([entry]);
      expect(ofNight(await changes(since))).toEqual(night(before, after, entry.id as string));
      const effects = dry.body.effects.filter(({ row }: Json) => row.line === "forearm");
      expect(
        ofNight(effects.map((one: Json) => ({ ...one, row: { of: "volume" }, causes: entry.id }))),
      ).toEqual(night(before, after, entry.id as string));
    }
  });
});
