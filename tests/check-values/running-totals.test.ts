/**
 * What a channel's running totals do, scenario by scenario, as IHE's Devices Technical Framework volume 2,
 * revision 10, table M.1.2.1-4 lays it down for the cumulative volumes that infusion devices report: each is
 * charted through the API, and the totals read there. Rules are the table's ("published"); the numbers are
 * ours ("derived"), all from 100 mL in an hour.
 */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Patient, type Totals, type Ward, ward } from "./ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;

let here: Ward;
let patients = 0;
beforeAll(async () => {
  here = await ward("2026-03-05T06:00:00Z");
});
afterAll(() => here.close());

const on = (clock: string, kind: string, more: object = {}) => ({
  kind,
  at: at(clock),
  channel: "pump-1",
  ...more,
});
const hang = (clock: string, bag: string, volume: number, role = "primary") =>
  on(clock, "bag-hung", { bag, role, volume, fluid: { name: "Check fluid", category: "iv-fluid" } });
const start = (clock: string, rate: number, more: object = {}) =>
  on(clock, "flow-started", { rate, ...more });

/** A pump that keeps its two totals apart and forgets them on a change of therapy, with a litre on it. */
async function pump(...told: object[]): Promise<Patient> {
  const patient = await here.admit(`totals-${++patients}`, at("05:00"));
  await patient.chart(
    { kind: "line-placed", at: at("06:00"), line: "forearm", route: "intravenous" },
    on("06:00", "channel-connected", { line: "forearm", type: "pump" }),
    hang("06:00", "litre-1", 1_000),
    ...told,
  );
  return patient;
}

async function channel(patient: Patient, clock: string) {
  const { channels } = await patient.ask<Totals>(`totals?at=${at(clock)}`);
  return channels[0]!;
}

/** What the device shows at each time: "07:00 0", "08:00 100". */
async function primary(patient: Patient, ...clocks: string[]): Promise<string[]> {
  return shown(patient, "primary", clocks);
}

async function shown(patient: Patient, name: string, clocks: readonly string[]): Promise<string[]> {
  const read: string[] = [];
  for (const clock of clocks) {
    const { totals } = await channel(patient, clock);
    read.push(`${clock} ${totals.find(({ total }) => total === name)!.expected}`);
  }
  return read;
}

describe("running totals, by IHE DTF volume 2 rev. 10, table M.1.2.1-4", () => {
  it("new infusion: the total starts at 0, with all of the volume to infuse to come", async () => {
    const patient = await pump(start("07:00", 100, { volumeToInfuse: 500 }));
    expect(await primary(patient, "07:00", "08:00")).toEqual(["07:00 0", "08:00 100"]);
    expect((await channel(patient, "07:00")).flow?.endsAt).toBe("2026-03-04T12:00:00+00:00");
  });

  it("pause and resume: the total stands, and goes on from where it stood; its segments add up to it", async () => {
    const patient = await pump(start("07:00", 100), on("08:00", "flow-paused"), on("08:30", "flow-resumed"));
    expect(await primary(patient, "08:00", "08:30", "09:30")).toEqual([
      "08:00 100",
      "08:30 100",
      "09:30 200",
    ]);
    const segments = (await channel(patient, "09:30")).totals[0]!.flows;
    expect(segments.map(({ start, volume }) => [start.slice(11, 16), volume])).toEqual([
      ["07:00", 100],
      ["08:30", 100],
    ]);
  });

  it("rate change: the total and what is left of the volume to infuse carry over", async () => {
    const faster = on("08:00", "rate-changed", { rate: 200 });
    const patient = await pump(start("07:00", 100, { volumeToInfuse: 500 }), faster);
    expect(await primary(patient, "08:00", "09:00")).toEqual(["08:00 100", "09:00 300"]);
    // 400 left at 08:00 take two hours.
    expect((await channel(patient, "08:00")).flow?.endsAt).toBe("2026-03-04T10:00:00+00:00");
  });

  it("bag change, new volume to infuse, hourly check: the total goes on through all of them", async () => {
    const patient = await pump(
      start("07:00", 100),
      hang("08:00", "litre-2", 1_000),
      on("09:00", "volume-to-infuse-set", { volumeToInfuse: 250 }),
      on("10:00", "total-read", { total: "primary", volume: 300 }),
    );
    expect(await primary(patient, "08:00", "09:00", "10:00", "11:00")).toEqual([
      "08:00 100",
      "09:00 200",
      "10:00 300",
      "11:00 400",
    ]);
    expect((await channel(patient, "09:00")).flow?.endsAt).toBe("2026-03-04T11:30:00+00:00");
  });

  it("completion, then keep-open: the total grows beyond the volume to infuse until it is stopped", async () => {
    const limits = { volumeToInfuse: 100, keepOpenRate: 10 };
    const patient = await pump(start("07:00", 100, limits), on("10:00", "flow-stopped"));
    expect(await primary(patient, "08:00", "09:00", "10:00", "11:00")).toEqual([
      "08:00 100",
      "09:00 110",
      "10:00 120",
      "11:00 120",
    ]);
  });

  it("piggyback: the secondary counts from 0 in a total of its own, the primary goes on from its earlier sum", async () => {
    const patient = await pump(
      start("07:00", 100),
      hang("08:00", "antibiotic", 50, "secondary"),
      on("08:00", "secondary-started", { rate: 100, whenDone: "resume-primary" }),
    );
    const clocks = ["08:00", "08:15", "08:30", "09:30"];
    expect(await shown(patient, "secondary", clocks)).toEqual([
      "08:00 0",
      "08:15 25",
      "08:30 50",
      "09:30 50",
    ]);
    expect(await primary(patient, ...clocks)).toEqual(["08:00 100", "08:15 100", "08:30 100", "09:30 200"]);
  });

  it("bolus from the running line: the source's total includes it, and it is a flow of its own that starts at 0", async () => {
    const bolus = on("08:00", "bolus-started", { volume: 50, over: "PT15M" });
    const patient = await pump(start("07:00", 100), bolus);
    expect(await primary(patient, "08:00", "08:15", "09:15")).toEqual([
      "08:00 100",
      "08:15 150",
      "09:15 250",
    ]);
    const { flows } = (await channel(patient, "09:15")).totals[0]!;
    expect(flows.map(({ start, volume }) => [start.slice(11, 16), volume])).toEqual([
      ["07:00", 100],
      ["08:00", 50],
      ["08:15", 100],
    ]);
  });

  it("loading dose, then continuous: the continuous flow starts at the loading volume", async () => {
    const loading = on("07:00", "bolus-started", { volume: 100, over: "PT30M" });
    const patient = await pump(loading, start("07:30", 100));
    expect(await primary(patient, "07:00", "07:30", "08:30")).toEqual(["07:00 0", "07:30 100", "08:30 200"]);
  });

  it("multi-step: the volume to infuse is each step's own, the total is over all steps", async () => {
    const patient = await pump(
      start("07:00", 40, { volumeToInfuse: 20 }),
      start("07:30", 80, { volumeToInfuse: 40 }),
      start("08:00", 100, { volumeToInfuse: 200 }),
    );
    expect(await primary(patient, "07:30", "08:00", "09:00")).toEqual(["07:30 20", "08:00 60", "09:00 160"]);
    const ends = [];
    for (const clock of ["07:00", "07:30", "08:00"]) ends.push((await channel(patient, clock)).flow?.endsAt);
    expect(ends.map((end) => end?.slice(11, 16))).toEqual(["07:30", "08:00", "10:00"]);
  });

  it("intermittent: the total is over all doses", async () => {
    const given = (clock: string, done: string) => [
      start(clock, 100, { volumeToInfuse: 50 }),
      on(done, "flow-stopped"),
    ];
    const patient = await pump(...given("07:00", "07:30"), ...given("13:00", "13:30"));
    expect(await primary(patient, "07:30", "13:00", "13:30")).toEqual(["07:30 50", "13:00 50", "13:30 100"]);
  });

  it("switch of therapy: a new delivery, which counts from 0, and is asked about before the old total is gone", async () => {
    const patient = await pump(start("07:00", 100));
    const switched = [on("09:00", "therapy-changed"), start("09:00", 50)];
    await expect(patient.chart(...switched)).rejects.toThrow("/problems/totals-at-risk");
    await patient.chart(on("09:00", "total-read", { total: "primary", volume: 200 }), ...switched);
    expect(await primary(patient, "08:57", "09:00", "10:00")).toEqual(["08:57 195", "09:00 0", "10:00 50"]);
  });

  it("alarm stop and restart: as a pause, with the reason alarming", async () => {
    const stopped = on("08:00", "flow-paused", { reason: "alarming" });
    const patient = await pump(start("07:00", 100), stopped, on("08:10", "flow-resumed"));
    expect(await primary(patient, "08:00", "08:10", "09:10")).toEqual([
      "08:00 100",
      "08:10 100",
      "09:10 200",
    ]);
  });
});
