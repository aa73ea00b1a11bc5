/**
 * A dose, drops or a duration become a rate with what is in force at the entry's own place, whatever was
 * recorded before it: weight, concentration, what the bag holds.
 */

import { describe, expect, it } from "vitest";
import { Stay } from "./stay.js";
import {
  at,
  change,
  drank,
  given,
  hang,
  heparin,
  on,
  pump,
  running,
  start,
  units,
  weighed,
} from "./telling.js";

const begun = () => Stay.running(heparin("07:00"));

describe("a dose", () => {
  it("is kept with the rate, weight and concentration it came to", async () => {
    const stay = await begun();
    const { body } = await stay.post([given("08:00", 7)]);
    expect(body.entries[0]).toMatchObject({ dose: { value: 7, unit: "units/kg/h" } });
    expect(body.entries[0].recorded.frozen).toEqual({
      rate: 4.9,
      weight: { value: 70, unit: "kg" },
      concentration: { additive: "Heparin", amount: 25_000, unit: "units", in: 250 },
    });
  });

  it("is reckoned with the weight at its own place, whatever was recorded before it", async () => {
    const stay = await begun();
    await stay.post([weighed("10:00", 80)]);
    await stay.post([given("09:00", 10, { id: "before" }), given("11:00", 10, { id: "after" })]);
    expect([await stay.rateOf("before"), await stay.rateOf("after")]).toEqual([7, 8]);
  });

  it("is reckoned with a weight of the same instant, and with one further down in the same request", async () => {
    const stay = await begun();
    await stay.post([
      given("09:00", 10, { id: "same-instant" }),
      given("11:00", 10, { id: "earlier-in-time" }),
      weighed("10:00", 90),
      weighed("09:00", 80),
    ]);
    expect([await stay.rateOf("same-instant"), await stay.rateOf("earlier-in-time")]).toEqual([8, 9]);
  });

  it("is reckoned with the bag that hangs at its own place", async () => {
    const stay = await begun();
    await stay.post([
      heparin("10:00", { bag: "double", additives: [{ name: "Heparin", amount: 50_000, unit: "units" }] }),
    ]);
    await stay.post([given("09:00", 10, { id: "single" }), given("10:00", 10, { id: "double-strength" })]);
    expect([await stay.rateOf("single"), await stay.rateOf("double-strength")]).toEqual([7, 3.5]);
  });

  it("is reckoned with the step of the channel it runs on, half up", async () => {
    const stay = await begun();
    await stay.post([
      pump("07:00", { channel: "pump-2", rateStep: 1 }),
      heparin("07:00", { bag: "h2", channel: "pump-2" }),
    ]);
    // 5 units/kg/h of 70 kg are 3.5 mL/h: half up to 4.
    await stay.post([given("08:00", 5, { id: "coarse", channel: "pump-2" })]);
    expect(await stay.rateOf("coarse")).toBe(4);
  });

  it("is reckoned with the weight the device was told, before the measured one", async () => {
    const stay = await begun();
    await stay.post([heparin("08:00", { role: "primary", bag: "h2" })]);
    await stay.post([
      on("08:00", "flow-started", { ...units(10), programmedWeight: { value: 50, unit: "kg" }, id: "told" }),
    ]);
    expect(await stay.rateOf("told")).toBe(5);
  });

  it("beside a rate is kept, and the rate is what flows", async () => {
    const stay = await begun();
    const { body } = await stay.post([given("13:00", 7, { rate: 12 })]);
    expect(body.entries[0].recorded.frozen).toMatchObject({ weight: { value: 70, unit: "kg" } });
    expect(body.entries[0].recorded.frozen).not.toHaveProperty("rate");
    expect((await stay.totals()).channels[0].flow).toMatchObject({ rate: 12, left: 238 });
  });

  it("of a bolus comes to a volume", async () => {
    const stay = await begun();
    await stay.post([heparin("08:00", { role: "primary", bag: "h2" })]);
    const bolus = on("09:00", "bolus-started", {
      dose: { value: 50, unit: "units/kg" },
      over: "PT30M",
      id: "bolus",
    });
    await stay.post([bolus]);
    // 50 × 70 = 3,500 units are 35 mL, in half an hour 70 mL/h.
    expect((await stay.entry("bolus")).recorded.frozen).toMatchObject({ volume: 35, rate: 70 });
  });
});

describe("a duration", () => {
  it("without a volume is for what the bag holds at that instant, not when it was hung", async () => {
    const stay = await Stay.begun();
    await stay.post([pump("07:00"), hang("07:00", "saline-1", 1_000), start("07:00", 100)]);
    // 500 mL have gone by 12:00; the other 500 in 5 h.
    await stay.post([on("12:00", "flow-started", { over: "PT5H", id: "rest" })]);
    expect(await stay.rateOf("rest")).toBe(100);
  });
});

describe("the weight of admission", () => {
  it("is known to what is charted at the instant of admission", async () => {
    const stay = await Stay.begun({ encounter: { admittedAt: at("07:00") } });
    await stay.post([...running(), heparin("07:00"), given("07:00", 10, { id: "dose" })]);
    expect(await stay.rateOf("dose")).toBe(7);
  });

  it("does not take away one measured at the instant of admission", async () => {
    const stay = await Stay.begun();
    await stay.post([
      weighed("06:00", 80),
      ...running(),
      heparin("07:00"),
      given("08:00", 10, { id: "dose" }),
    ]);
    expect(await stay.rateOf("dose")).toBe(8);
  });

  it("that nobody told does not take away one measured before", async () => {
    const stay = await Stay.begun({ encounter: { admissionWeight: undefined } });
    await stay.post([
      weighed("05:00", 80),
      ...running(),
      heparin("07:00"),
      given("08:00", 10, { id: "dose" }),
    ]);
    expect(await stay.rateOf("dose")).toBe(8);
  });
});

describe("drops and rates", () => {
  it("of a gravity set come to a rate with the set's factor", async () => {
    const stay = await Stay.begun();
    await stay.post([
      pump("07:00", { type: "gravity", dropFactor: 20, channel: "drip-1", totals: "none" }),
      hang("07:00", "saline-1", 1_000, { channel: "drip-1" }),
      on("07:00", "flow-started", { dripRate: 25, channel: "drip-1", id: "drip" }),
      drank("08:00", 10),
      change("09:00", 80, { channel: "drip-1" }),
    ]);
    // 25 × 60 ÷ 20 = 75 mL/h.
    expect(await stay.rateOf("drip")).toBe(75);
    expect((await stay.hours("2026-03-04/day")).slice(0, 3)).toEqual([75, 75, 80]);
  });
});
