/**
 * Whose time something is about, where it is not only about the instant it names: corrections of corrections, losses,
 * device segments, moves and discharges. East had the patient from 06:00, West from 13:00; it is 14:00.
 */

import { describe, expect, it } from "vitest";
import { at, ENTRIES, SALINE, STAY, Ward } from "../rest/ward.js";

const STAY_1 = `/v1/encounters/${STAY.id}`;
const REFUSED = { status: 403, type: "/problems/not-your-time", title: "Not your unit's time" };

const urine = (clock: string, id: string) => ({
  id,
  kind: "output-measured",
  at: at(clock),
  category: "urine",
  volume: 120,
});
const voided = (entry: string, id = `void-${entry}`) => ({
  id,
  kind: "entry-voided",
  entry,
  reason: "Told otherwise.",
});
const amended = (entry: string, replacement: object, id = `amend-${entry}`) => ({
  id,
  kind: "entry-amended",
  entry,
  reason: "Told otherwise.",
  replacement,
});
const replacing = (clock: string) => {
  const { id: _, ...fact } = urine(clock, "");
  return fact;
};

/** Charts what has to be there for a test to be about anything. */
async function charted(ward: Ward, entries: readonly unknown[], as = "nurse"): Promise<void> {
  await ward.done("POST", ENTRIES, { as, body: { entries } });
}

async function inEast(): Promise<Ward> {
  const ward = await Ward.open();
  await charted(ward, [...SALINE, urine("09:00", "in-east")], "nurse@east");
  return ward;
}

async function moved(): Promise<Ward> {
  const ward = await inEast();
  await ward.done("PATCH", STAY_1, { as: "nurse@east", body: { move: { unit: "west", at: at("13:00") } } });
  return ward;
}

/** What East's hours of the morning come to: all that anybody of West must leave as it is. */
async function morning(ward: Ward): Promise<unknown> {
  const span = `from=${at("06:00")}&to=${at("13:00")}`.replaceAll("+", "%2B");
  const { rows, sums } = (await ward.done("GET", `${STAY_1}/volumes?${span}`, {})).body;
  const { output } = (await ward.done("GET", `${STAY_1}/balance?${span}`, {})).body;
  return { rows, sums, output };
}

const patch = (ward: Ward, as: string, body: object) => ward.ask("PATCH", STAY_1, { as, body });

describe("staff of West leave East's hours as they are", () => {
  it.each([
    [
      "by a void of the void that East made",
      (ward: Ward) => charted(ward, [voided("in-east")], "nurse@east"),
      [voided("void-in-east")],
    ],
    [
      "by a void of an amendment that had moved East's entry into theirs",
      (ward: Ward) => charted(ward, [amended("in-east", replacing("13:10"))]),
      [voided("amend-in-east")],
    ],
    [
      "by an amendment of it back into East's time",
      (ward: Ward) => charted(ward, [amended("in-east", replacing("13:10"))]),
      [amended("amend-in-east", replacing("12:10"), "again")],
    ],
    [
      "by a void that follows an amendment of their own in one request",
      (ward: Ward) => charted(ward, [amended("in-east", replacing("13:10"))]),
      [amended("in-east", replacing("13:20"), "mine"), voided("mine"), voided("amend-in-east")],
    ],
    [
      "by a loss found now of what East gave",
      async () => {},
      [
        {
          kind: "delivery-lost",
          at: at("13:30"),
          channel: "pump-1",
          from: at("08:00"),
          to: at("12:00"),
          volume: "unknown",
          reason: "leaked",
        },
      ],
    ],
    [
      "by a loss that reaches over the move",
      async () => {},
      [
        {
          kind: "delivery-lost",
          at: at("13:30"),
          channel: "pump-1",
          from: at("12:30"),
          to: at("13:20"),
          volume: 10,
          reason: "leaked",
        },
      ],
    ],
    [
      "by a segment that began there",
      async () => {},
      [{ kind: "segment-read", at: at("13:30"), channel: "pump-1", start: at("08:00"), volume: 10 }],
    ],
    [
      "by a clear that can have been there",
      async () => {},
      [
        {
          kind: "totals-reset",
          at: at("13:10"),
          channel: "pump-1",
          totals: ["primary"],
          between: [at("12:00"), at("13:10")],
          leaveUncaptured: { reason: "already-cleared" },
        },
      ],
    ],
  ])("%s", async (_, before, entries) => {
    const ward = await moved();
    await before(ward);
    const was = await morning(ward);
    const answer = await ward.record(entries, { as: "nurse@west", query: "?queued=true" });
    expect(answer.body, answer.text).toMatchObject(REFUSED);
    expect(await morning(ward)).toEqual(was);
    // Whoever works on both may.
    const both = await ward.tokenFor("nurse", ["east", "west"]);
    expect((await ward.record(entries, { as: both, query: "?queued=true" })).status).toBe(201);
  });

  it("and what East made void, which East alone may bring back", async () => {
    const ward = await moved();
    await charted(ward, [voided("in-east")], "nurse@east");
    const moving = [amended("in-east", replacing("13:10"))];
    expect((await ward.record(moving, { as: "nurse@west" })).body).toMatchObject(REFUSED);
  });

  it("and correct what is theirs, though it was charted in East's time by mistake", async () => {
    const ward = await moved();
    await charted(ward, [amended("in-east", replacing("13:10"))]);
    const as = "nurse@west";
    expect((await ward.record([amended("in-east", replacing("13:20"), "later")], { as })).status).toBe(201);
  });

  it("and chart what was collected in both, which counts where it was emptied", async () => {
    const ward = await moved();
    const was = await morning(ward);
    const emptied = { ...urine("13:45", "emptied"), from: at("11:00") };
    expect((await ward.record([emptied], { as: "nurse@west" })).status).toBe(201);
    expect(await morning(ward)).toEqual(was);
  });

  it("while a device, which goes with the patient, tells what it counted over the move", async () => {
    const ward = await moved();
    const segment = {
      kind: "segment-read",
      at: at("13:30"),
      channel: "pump-1",
      start: at("12:30"),
      volume: 74,
    };
    expect((await ward.record([segment], { as: "device@west" })).status).toBe(201);
  });

  it("while East charts what was lost of its own, whenever it noticed", async () => {
    const ward = await moved();
    const lost = {
      kind: "delivery-lost",
      at: at("13:30"),
      channel: "pump-1",
      from: at("08:00"),
      to: at("12:00"),
      volume: 10,
      reason: "leaked",
    };
    expect((await ward.record([lost], { as: "nurse@east" })).status).toBe(201);
  });
});

describe("a move", () => {
  it("is recorded by the unit it goes out from, at its time, however late", async () => {
    const ward = await moved();
    expect((await ward.get(STAY_1, { as: "nurse@west" })).body.unit).toBe("west");
  });

  it("is not put back by the unit it goes to into what the other has charted", async () => {
    const ward = await moved();
    const was = await morning(ward);
    const answer = await patch(ward, "nurse@west", { move: { unit: "west", at: at("08:00") } });
    expect(answer.body).toMatchObject({
      ...REFUSED,
      detail:
        "The patient was in east at 2026-03-04T08:00:00-06:00, which charts that time. It is charted or signed up to 2026-03-04T09:00:00-06:00: who comes after arrives no earlier.",
    });
    expect(await morning(ward)).toEqual(was);
    expect((await patch(ward, "nurse@west", { move: { unit: "west", at: at("09:00") } })).status).toBe(200);
  });

  it("is not put back into what the other has signed", async () => {
    const ward = await inEast();
    const shift = `${STAY_1}/shifts/2026-03-04/day`;
    const { toSign } = (await ward.get(`${shift}?until=${at("12:00")}`)).body;
    const body = { digest: toSign.digest, to: toSign.to, remark: "Looked at." };
    await ward.done("POST", `${shift}/signature`, { as: "nurse@east", body });
    await ward.done("PATCH", STAY_1, { body: { move: { unit: "west", at: at("13:00") } } });
    const arrived = (clock: string) => patch(ward, "nurse@west", { move: { unit: "west", at: at(clock) } });
    expect((await arrived("11:59")).body).toMatchObject(REFUSED);
    expect((await arrived("12:00")).status).toBe(200);
  });

  it("goes back from where the patient is, and not from before they came", async () => {
    const ward = await moved();
    const back = (clock: string) => patch(ward, "nurse@west", { move: { unit: "east", at: at(clock) } });
    expect((await back("12:30")).body).toMatchObject(REFUSED);
    expect((await back("13:30")).status).toBe(200);
  });

  it("is put anywhere by who works on both", async () => {
    const ward = await moved();
    const both = await ward.tokenFor("nurse", ["east", "west"]);
    expect((await patch(ward, both, { move: { unit: "west", at: at("08:00") } })).status).toBe(200);
  });
});

describe("a discharge", () => {
  it("is not put before the patient came, nor taken back, by a unit whose time that is not", async () => {
    const ward = await moved();
    const was = await morning(ward);
    const left = (clock: string) => patch(ward, "nurse@west", { discharge: { at: at(clock) } });
    expect((await left("09:00")).body).toMatchObject(REFUSED);
    expect(await morning(ward)).toEqual(was);
    await ward.done("PATCH", STAY_1, { body: { discharge: { at: at("12:30") } } });
    expect((await patch(ward, "nurse@west", { dischargedAt: null })).body).toMatchObject(REFUSED);
    await ward.done("PATCH", STAY_1, { body: { dischargedAt: null } });
    expect((await left("13:30")).status).toBe(200);
    expect((await patch(ward, "nurse@west", { dischargedAt: null })).status).toBe(200);
  });
});

describe("an administrator", () => {
  it("admits and corrects a bed, and neither moves nor discharges anybody", async () => {
    const ward = await inEast();
    const changes = [
      { move: { unit: "west", at: at("13:59") } },
      { discharge: { at: at("09:00") } },
      { dischargedAt: null },
    ];
    for (const as of ["administrator", "administrator@east"]) {
      for (const body of changes) {
        const answer = await patch(ward, as, body);
        expect([answer.status, answer.body.type], JSON.stringify(body)).toEqual([403, "/problems/forbidden"]);
      }
      expect((await patch(ward, as, { bed: "14" })).status).toBe(200);
    }
    const body = { ...STAY, id: "stay-9" };
    expect((await ward.ask("POST", "/v1/encounters", { as: "administrator@east", body })).status).toBe(201);
  });
});

describe("who has stated an emergency", () => {
  const declared = async (ward: Ward) => {
    const body = { reason: "Called to a cardiac arrest." };
    await ward.done("POST", `${STAY_1}/emergency-access`, { as: "nurse@west", body });
  };

  it("charts, and takes nobody over from before", async () => {
    const ward = await inEast();
    await declared(ward);
    const as = "nurse@west";
    expect((await patch(ward, as, { move: { unit: "west", at: at("06:01") } })).body).toMatchObject(REFUSED);
    expect((await patch(ward, as, { move: { unit: "west", at: at("08:59") } })).body).toMatchObject(REFUSED);
    expect((await patch(ward, as, { discharge: { at: at("13:50") } })).body).toMatchObject(REFUSED);
    expect((await ward.record([urine("08:00", "seen")], { as })).status).toBe(201);
    ward.itIs("2026-03-10T14:00:00-06:00");
    expect((await ward.get(ENTRIES, { as })).status).toBe(404);
    expect((await ward.get(ENTRIES, { as: "nurse@east" })).status).toBe(200);
  });

  it("records that the patient has come, where the unit they came from has not, from its last entry on", async () => {
    const ward = await inEast();
    await declared(ward);
    const as = "nurse@west";
    // What they chart themselves meanwhile is no other unit's.
    expect((await ward.record([urine("13:40", "on-arrival")], { as })).status).toBe(201);
    expect((await patch(ward, as, { move: { unit: "west", at: at("13:30") } })).status).toBe(200);
    expect((await ward.record([urine("13:50", "then")], { as: "charge-nurse@west" })).status).toBe(201);
  });
});
