/** What left a device and did not reach the patient, whatever gave it: it comes off once, and never makes less than nothing. */

import { afterEach, describe, expect, it } from "vitest";
import { type Patient, type Ward, ward } from "../check-values/ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;

let here: Ward | undefined;
afterEach(async () => {
  await here?.close();
  here = undefined;
});

async function patient(): Promise<Patient> {
  here = await ward("2026-03-06T07:00:00Z");
  return here.admit("stay", at("06:00"));
}

const on = (clock: string, kind: string, more: object = {}) => ({
  kind,
  at: at(clock),
  channel: "pump-1",
  ...more,
});
const placed = { kind: "line-placed", at: at("07:00"), line: "forearm", route: "intravenous" };
const connected = (type: string, totals: string) =>
  on("07:00", "channel-connected", { line: "forearm", type, totals });
const hung = (bag: string, volume: number, more: object = {}) =>
  on("07:00", "bag-hung", { bag, volume, fluid: { name: bag, category: "iv-fluid" }, ...more });
const pump = (rate: number, more: object = {}) => [
  placed,
  connected("pump", "separate"),
  hung("litre", 1_000),
  on("07:00", "flow-started", { rate, ...more }),
];
const lost = (from: string, to: string, volume: number | "unknown", more: object = {}) =>
  on(to, "delivery-lost", { from: at(from), to: at(to), volume, reason: "leaked", ...more });
const read = (clock: string, volume: number, more: object = {}) =>
  on(clock, "total-read", { total: "primary", volume, ...more });

// biome-ignore lint/suspicious/noExplicitAny: the answer is read by the field a test is about; its form has a test of its own
type Answer = any;
const ask = (stay: Patient, from: string, to: string): Promise<Answer> =>
  stay.ask<Answer>(`balance?from=${at(from)}&to=${at(to)}&by=hour`);
const takenOff = ({ lost: told }: Answer) => told.map((one: Answer) => one.takenOff);

describe("losses that overlap", () => {
  it("come off what the others left, and never make intake less than nothing", async () => {
    const stay = await patient();
    await stay.chart(...pump(100), lost("07:00", "08:00", 80), lost("07:00", "08:00", 80, { note: "again" }));
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.intake.sums).toEqual([0, 100]);
    expect(answer.intake.certainty).toEqual(["exact", "exact"]);
    expect(takenOff(answer)).toEqual([80, 20]);
  });

  it("come first off the shorter span, where it is surer what was lost", async () => {
    const stay = await patient();
    const later = { at: at("11:00") };
    await stay.chart(...pump(100), lost("07:00", "10:00", 150), lost("07:30", "08:00", 50, later));
    // The half hour lost all of its 50; of the 250 that are left in the three hours 150 are, in proportion.
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.intake.sums).toEqual([20, 40, 40]);
    expect(takenOff(answer).sort()).toEqual([150, 50]);
  });
});

describe("a loss", () => {
  it("comes off whatever the channel gave in its span: primary, secondary and bolus, by what each gave", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(60),
      hung("antibiotic", 100, { role: "secondary" }),
      on("08:00", "secondary-started", { rate: 120, volumeToInfuse: 60, primaryClamped: true }),
      on("08:40", "bolus-started", { volume: 20, rate: 1_200 }),
      // 08:00 to 08:30 the secondary gives 60; until 09:00 the primary 29, but for the minute of the bolus of 20.
      lost("08:00", "09:00", 54.5),
    );
    const answer = await ask(stay, "07:00", "10:00");
    const roles = answer.intake.rows.flatMap(({ parts }: Answer) =>
      parts.map(({ role, volumes }: Answer) => [role, volumes[1]]),
    );
    expect(Object.fromEntries(roles)).toEqual({ primary: 14.5, secondary: 30, bolus: 10 });
    expect(answer.intake.sums).toEqual([60, 54.5, 60]);
  });

  it("that reaches past the end of what is asked for takes off the part before it", async () => {
    const stay = await patient();
    await stay.chart(...pump(100), lost("07:30", "09:30", 100));
    expect((await ask(stay, "07:00", "08:00")).intake.sums).toEqual([75]);
    expect((await ask(stay, "07:00", "10:00")).intake.sums).toEqual([75, 50, 75]);
    expect((await ask(stay, "09:00", "10:00")).intake.sums).toEqual([75]);
  });

  it("that was charted before it had ended takes off no more of that than its part", async () => {
    const stay = await patient();
    await stay.chart(...pump(100), lost("07:30", "09:30", 100, { at: at("07:45") }));
    expect((await ask(stay, "07:00", "08:00")).intake.sums).toEqual([75]);
  });

  it("of what a metered channel counted comes off the reading, and leaves it at most where nobody knows how much", async () => {
    const stay = await patient();
    const feed = [placed, connected("metered", "separate"), read("09:00", 120)];
    await stay.chart(...feed, lost("08:00", "08:30", 50));
    const answer = await ask(stay, "07:00", "10:00");
    expect(answer.intake.sums).toEqual([0, 70, 0]);
    expect(takenOff(answer)).toEqual([50]);
    await stay.chart(lost("08:00", "08:30", "unknown"));
    const unsure = await ask(stay, "07:00", "09:00");
    expect(unsure.intake.sums).toEqual([0, 70]);
    expect(unsure.intake.certainty).toEqual(["exact", "at-most"]);
    // What was counted after the leak is what it was.
    await stay.chart(read("10:00", 200));
    expect((await ask(stay, "09:00", "10:00")).intake).toMatchObject({ sums: [80], certainty: ["exact"] });
  });

  it("comes off what a confirmed reading shows beyond what ran as well", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(100, { volumeToInfuse: 50 }),
      read("07:30", 54, { confirmed: true }),
      on("07:30", "flow-stopped"),
      lost("07:00", "07:30", 60),
    );
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.intake.sums).toEqual([0, 0]);
    expect(takenOff(answer)).toEqual([54]);
  });

  it("is no more than a confirmed reading leaves of what was computed", async () => {
    const stay = await patient();
    await stay.chart(
      ...pump(100, { volumeToInfuse: 50 }),
      read("07:30", 30, { confirmed: true }),
      on("07:30", "flow-stopped"),
      lost("07:00", "07:30", 60),
    );
    const answer = await ask(stay, "07:00", "09:00");
    expect(answer.intake.sums).toEqual([0, 0]);
    expect(takenOff(answer)).toEqual([30]);
  });
});
