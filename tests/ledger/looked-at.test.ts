/** What is found of doses, losses and measures, and how long times are said. */

import { describe, expect, it } from "vitest";
import { conventionsOf } from "../../src/conventions/dated.js";
import { defaultSettings } from "../../src/conventions/settings.js";
import { conventionsText } from "../../src/ledger/balance-beside-text.js";
import { wordsAt } from "../../src/ledger/words.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { done, type Json, Stay } from "./stay.js";
import { drank, heparin, on, type Told } from "./telling.js";

const MINUTE = 60_000;

async function found(stay: Stay, code: string): Promise<Json[]> {
  const { findings } = done(await stay.ledger.findings("stay-1", { state: "all" })) as Json;
  return findings.filter((one: Json) => one.code === code);
}

describe("a dose charted beside a rate", () => {
  // 7 units/kg/h of 70 kg at 100 units per mL are 4.9 mL/h; the channel's step is 0.1 mL/h.
  const told = (rate: number) =>
    on("08:00", "secondary-started", { rate, dose: { value: 7, unit: "units/kg/h" }, id: "told" });

  it.each([4.9, 5, 4.8])("of 4.9 mL/h agrees with %s mL/h, a step away at most", async (rate) => {
    const stay = await Stay.running(heparin("07:30"), told(rate));
    expect(await found(stay, "dose-rate-disagrees")).toEqual([]);
  });

  it.each([5.1, 4.7])("of 4.9 mL/h disagrees with %s mL/h, and the rate counts", async (rate) => {
    const stay = await Stay.running(heparin("07:30"));
    const { body } = await stay.post([told(rate)]);
    expect(body.findings.map(({ code }: Json) => code)).toContain("dose-rate-disagrees");
    expect(await found(stay, "dose-rate-disagrees")).toMatchObject([
      {
        severity: "attention",
        concerns: { channel: "pump-1", entries: ["told"] },
        sentence: `pump-1 was charted at ${rate} mL/h at 08:00, and the dose charted with it comes to 4.9 mL/h: the rate is what counts.`,
      },
    ]);
  });
});

describe("a loss", () => {
  const lost = (volume: number | "unknown", more: Told = {}) =>
    on("09:00", "delivery-lost", {
      id: "lost",
      from: "2026-03-04T08:00:00-06:00",
      to: "2026-03-04T08:48:00-06:00",
      volume,
      reason: "leaked",
      ...more,
    });

  it("of more than was delivered is found, with what is taken off", async () => {
    // 48 minutes at 75 mL/h: 60 mL.
    const stay = await Stay.running(lost(500));
    expect(await found(stay, "entry-without-effect")).toMatchObject([
      {
        concerns: { channel: "pump-1", entries: ["lost"] },
        sentence:
          "500 mL were charted as lost on pump-1 from 08:00 to 08:48, when it delivered 60 mL: no more than that is taken off.",
      },
    ]);
  });

  it("of what was delivered, or of nobody knows how much, is not; nor where a reading found more", async () => {
    expect(await found(await Stay.running(lost(60)), "entry-without-effect")).toEqual([]);
    expect(await found(await Stay.running(lost("unknown")), "entry-without-effect")).toEqual([]);
    const read = on("08:48", "total-read", { total: "primary", volume: 162, confirmed: true });
    // 162 mL where 135 were computed: what ran in these 48 minutes is 72 mL.
    expect(await found(await Stay.running(read, lost(72)), "entry-without-effect")).toEqual([]);
    expect(await found(await Stay.running(read, lost(72.1)), "entry-without-effect")).toHaveLength(1);
  });

  it("on a channel that delivered nothing takes nothing off", async () => {
    const stay = await Stay.running(lost(5, { channel: "pump-2" }));
    expect(await found(stay, "entry-without-effect")).toMatchObject([{ concerns: { entries: ["lost"] } }]);
  });
});

describe("a duration", () => {
  const words = wordsAt(instant(0), () => "UTC");
  it.each([
    [0, "0 min"],
    [59, "59 min"],
    [60, "1 h"],
    [130, "2 h 10 min"],
    [24 * 60, "1 d"],
    [6_463 * 60 + 44, "269 d 7 h 44 min"],
    [2 * 24 * 60 + 5, "2 d 5 min"],
  ])("of %i min is %s", (minutes, said) => {
    expect(words.duration(minutes * MINUTE)).toBe(said);
  });
});

describe("an amount in a measure that the unit does not know", () => {
  it("is left out, and counted as left out", async () => {
    const { volume: _, ...jug } = drank("08:00", 0, { measure: { name: "jug", count: 1 } });
    const stay = await Stay.running(jug);
    const period = { from: Date.parse(String(jug.at)) - 60 * MINUTE, to: Date.parse(String(jug.at)) };
    const query = { period: period as { from: Instant; to: Instant }, by: "whole" as const };
    const balance = done(await stay.ledger.balance("stay-1", query)) as Json;
    expect(balance.unmeasured).toMatchObject([{ side: "intake", key: "oral", occurrences: [1], total: 1 }]);
    expect(balance.intake).toMatchObject({ total: 75, totalCertainty: "at-least" });
  });
});

describe("conventions in force one after the other", () => {
  const twelve = [
    { name: "day", starts: "00:00" },
    { name: "night", starts: "12:00" },
  ];
  /** One after the other, an hour each, in a day that begins with the epoch. */
  const told = (first: object, ...then: object[]) => {
    const hour = (number: number) => instant(number * 60 * MINUTE);
    const changes = then.map((settings, i) => ({
      effectiveFrom: hour(i + 1),
      settings: { ...defaultSettings, ...settings },
    }));
    const settings = { ...defaultSettings, ...first };
    const station = { from: hour(0), unit: "east", zone: "UTC", shifts: twelve, settings, changes };
    const period = { start: hour(0), end: hour(1 + then.length) };
    const text = conventionsText(conventionsOf([station]), period, (at) => String(at / MINUTE));
    return text.map(({ start, end }) => [start, end]);
  };

  it("are one where nothing that counts here changes", () => {
    expect(told({}, { lateAfter: 60 * MINUTE }, {})).toEqual([["0", "180"]]);
  });

  it("are several where something does, also where it changes back", () => {
    expect(told({}, { iceFraction: 400 }, {})).toEqual([
      ["0", "60"],
      ["60", "120"],
      ["120", "180"],
    ]);
  });
});
