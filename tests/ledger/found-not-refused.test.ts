/** What a tired nurse charts and the ledger cannot make sense of yet: recorded, and found, never lost in silence. */

import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Patient, type Volumes, type Ward, ward } from "../check-values/ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;
const fluid = { name: "Sodium chloride 0.9 %", category: "iv-fluid" };

interface Answer {
  readonly entries: readonly { readonly recorded: { readonly frozen?: { readonly rate?: unknown } } }[];
  readonly findings: readonly { readonly code: string; readonly state: string; readonly sentence: string }[];
}

let here: Ward;
let patients = 0;
beforeAll(async () => {
  here = await ward("2026-03-05T12:00:00Z");
});
afterAll(() => here.close());

async function withPump(
  extra: object = {},
): Promise<Patient & { told(...entries: object[]): Promise<Answer> }> {
  const patient = await here.admit(`tired-${++patients}`, at("06:00"));
  await patient.chart(
    { kind: "line-placed", at: at("07:00"), line: "forearm", route: "intravenous" },
    {
      kind: "channel-connected",
      at: at("07:00"),
      channel: "pump-1",
      line: "forearm",
      type: "pump",
      ...extra,
    },
  );
  const told = async (...entries: object[]) => (await patient.chart(...entries)) as unknown as Answer;
  return { ...patient, told };
}

const hang = (clock: string, bag: string) => ({
  kind: "bag-hung",
  at: at(clock),
  channel: "pump-1",
  bag,
  volume: 1000,
  fluid,
});
const start = (clock: string, how: object) => ({
  kind: "flow-started",
  at: at(clock),
  channel: "pump-1",
  ...how,
});

describe("how fast, of which nobody knows", () => {
  it.each([
    ["a duration for a bag that is not charted yet", { over: "PT4H" }],
    ["drops per minute of a set without a drop factor", { dripRate: 20 }],
  ])("%s flows at an unknown rate", async (_name, how) => {
    const patient = await withPump();
    const { entries } = await patient.told(start("08:00", how));
    expect(entries[0]!.recorded.frozen).toEqual({ rate: "unknown" });
    const answer = await patient.ask<{ rows: { unknown: number[]; basis: string[] }[] }>(
      `volumes?by=hour&per=channel&from=${at("08:00")}&to=${at("10:00")}`,
    );
    expect(answer.rows.map(({ unknown, basis }) => [unknown, basis])).toEqual([
      [
        [60, 60],
        ["unknown", "unknown"],
      ],
    ]);
  });
});

it("an amount in a measure that the unit does not know is found", async () => {
  const patient = await withPump();
  const mug = {
    kind: "intake-measured",
    at: at("09:00"),
    category: "oral",
    measure: { name: "mug", count: 1 },
  };
  const { findings } = await patient.told(mug);
  expect(findings.map(({ code, sentence }) => [code, sentence])).toEqual([
    [
      "entry-without-effect",
      "It changes nothing: the unit knows no measure called mug, so the amount counts nowhere.",
    ],
  ]);
});

it("a bag changed by taking one down and hanging the next in one minute is found, since nothing flows any more", async () => {
  const patient = await withPump();
  await patient.told(hang("07:00", "saline-1"), start("07:00", { rate: 60 }));
  const down = { kind: "bag-taken-down", at: at("10:00"), bag: "saline-1" };
  const { findings } = await patient.told(down, hang("10:00", "saline-2"));
  expect(findings.map(({ code, state }) => `${code} ${state}`)).toEqual([
    "bag-unaccounted open",
    "entry-without-effect open",
  ]);
  const again = await patient.told(start("10:00", { rate: 60 }));
  const { total } = await patient.ask<Volumes>(`volumes?by=whole&from=${at("07:00")}&to=${at("12:00")}`);
  expect(again.findings.map(({ code, state }) => `${code} ${state}`)).toEqual([
    "entry-without-effect settled",
  ]);
  expect(total).toBe(300);
});

it("a bag changed and started again within one minute is nothing to look at", async () => {
  const patient = await withPump();
  await patient.told(hang("07:00", "saline-1"), start("07:00", { rate: 60 }));
  const reading = { kind: "total-read", at: at("10:00"), channel: "pump-1", total: "primary", volume: 180 };
  const down = { kind: "bag-taken-down", at: at("10:00"), bag: "saline-1", remaining: 820, method: "scale" };
  const { findings } = await patient.told(
    reading,
    down,
    hang("10:00", "saline-2"),
    start("10:00", { rate: 60 }),
  );
  expect(findings).toEqual([]);
});

it("a channel is connected again in short form, and with what it said at first", async () => {
  const patient = await withPump({ rateStep: 0.1, maxRate: 999 });
  const again = { kind: "channel-connected", channel: "pump-1", type: "pump", line: "other" };
  await patient.told(
    { ...again, at: at("08:00") },
    { ...again, at: at("09:00"), line: "forearm", rateStep: 0.1 },
  );
  await expect(patient.told({ ...again, at: at("10:00"), maxRate: 500 })).rejects.toThrow("key-in-use");
});

it("a device's entry for another day is not judged before its time", async () => {
  const patient = await withPump();
  const { findings } = await patient.told({ ...start("08:00", { rate: 60 }), at: "2026-03-05T12:04:00Z" });
  expect(findings).toEqual([]);
});

it("what is shown of a day is its shifts, also where the unit changes what it rounds to between them", async () => {
  const ward1 = await ward("2026-03-06T00:00:00Z", {}, [
    { effectiveFrom: at("19:00"), settings: { precision: 1 } },
  ]);
  const patient = await ward1.admit("rounded", at("06:00"));
  await patient.chart(
    { kind: "line-placed", at: at("07:00"), line: "forearm", route: "intravenous" },
    { kind: "channel-connected", at: at("07:00"), channel: "pump-1", line: "forearm", type: "pump" },
    hang("07:00", "saline-1"),
    start("07:00", { rate: 33.347 }),
  );
  const total = async (asked: string) => (await patient.ask<Volumes>(`volumes?${asked}`)).total;
  const [day, night] = [await total("shift=2026-03-04/day"), await total("shift=2026-03-04/night")];
  expect([day, night]).toEqual([400.2, 400]);
  expect(await total("day=2026-03-04&by=day")).toBe(800.2);
  expect(await total("day=2026-03-04&by=shift")).toBe(800.2);
  await ward1.close();
});
