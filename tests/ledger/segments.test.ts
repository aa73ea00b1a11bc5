/** A segment that a device counted, where it is not what was computed: asked, confirmed, waiting, decided. */

import { describe, expect, it } from "vitest";
import { answered, asked, chart, findings, read, told } from "./asking.js";
import { done, type Json, PUMPS, Stay } from "./stay.js";
import { at, change, on, running, type Told, when } from "./telling.js";

const DAY = "2026-03-04/day";

/** 75 mL/h from 07:00; it is 11:00. */
async function begun(...more: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post([...running(), ...more]);
  return stay;
}

/** What the device counted from 08:00 on, in mL. */
const segment = (clock: string, volume: number, more: Told = {}): Told =>
  on(clock, "segment-read", { id: "s", start: at("08:00"), volume, ...more });

async function hours(stay: Stay): Promise<Json> {
  const { rows } = await stay.volumes(DAY);
  return { volumes: rows[0].volumes.slice(0, 4), basis: rows[0].basis.slice(0, 4) };
}

async function spans(stay: Stay): Promise<Json[]> {
  const period = { from: when("07:00"), to: when("11:00") };
  return (done(await stay.ledger.threeWays("stay-1", { period })) as Json).channels[0].readings;
}

const COMPUTED = { volumes: [75, 75, 75, 75], basis: Array(4).fill("computed") };
const AS_COUNTED = { volumes: [75, 90, 75, 75], basis: ["computed", "disputed", "computed", "computed"] };

describe("a person whose segment disagrees", () => {
  it("is asked, with what was computed over it and how to confirm it", async () => {
    const stay = await begun();
    const { problem, detail, disagreements } = await asked(stay, [segment("09:00", 90)]);
    expect([problem, detail]).toEqual([
      "reading-disagrees",
      "pump-1 was read to have given 90 mL from 08:00 to 09:00; 75 mL was computed.",
    ]);
    expect(disagreements).toEqual([
      {
        entry: "#/entries/0",
        at: at("09:00"),
        channel: "pump-1",
        reading: 90,
        expected: 75,
        difference: 15,
        since: at("08:00"),
        reasons: [],
        answers: [
          {
            text: "The device was looked at again, and does show this.",
            entries: [segment("09:00", 90, { confirmed: true })],
            fill: [],
            instead: ["#/entries/0"],
          },
        ],
      },
    ]);
    expect(await stay.sequence()).toBe(5);
  });

  // A twentieth of 75 is 3.75, of the 76.25 by the end of 09:00 3.8; of the 73.75 without 08:00, 3.7.
  it.each([
    [80, false],
    [80.1, true],
    [70.1, false],
    [70, true],
  ])("is asked beyond a twentieth and the minutes it stands for: %d mL", async (volume, asks) => {
    const stay = await begun();
    const outcome = await stay.send([segment("09:00", volume)], { queued: false });
    expect(outcome.refused?.problem).toBe(asks ? "reading-disagrees" : undefined);
  });

  it("may confirm it: it counts, as disputed, until an entry explains it", async () => {
    const stay = await begun();
    const request = [segment("09:00", 90)];
    const [doubt] = (await asked(stay, request)).disagreements;
    await chart(stay, answered(request, doubt, doubt.answers[0]));
    expect(await hours(stay)).toEqual(AS_COUNTED);
    expect((await findings(stay)).map(told)).toEqual(["reading-disagrees question open"]);
    await stay.post([change("08:00", 90), change("09:00", 75)]);
    expect(await findings(stay)).toEqual([]);
    expect((await hours(stay)).basis[1]).toBe("apportioned");
  });

  it("is asked together with a reading that disagrees", async () => {
    const stay = await begun();
    const { disagreements, detail } = await asked(stay, [read("11:00", 330), segment("09:00", 90)]);
    expect(disagreements.map(({ entry }) => entry)).toEqual(["#/entries/0", "#/entries/1"]);
    expect(detail).toContain("pump-1 was read to have given 90 mL");
  });

  it("is asked of what an amendment says it to be", async () => {
    const stay = await begun();
    await chart(stay, [segment("09:00", 75)]);
    const { id: _, ...replacement } = segment("09:00", 90);
    const amendment = { kind: "entry-amended", entry: "s", reason: "Misread.", replacement };
    const [doubt] = (await asked(stay, [amendment])).disagreements;
    await chart(stay, answered([amendment], doubt, doubt.answers[0]));
    expect(await hours(stay)).toEqual(AS_COUNTED);
  });

  it("is not asked where nobody knew the rate", async () => {
    const stay = await begun(on("08:00", "flow-started", { rate: "unknown", volumeToInfuse: "none" }));
    await chart(stay, [segment("09:00", 90)]);
    expect((await hours(stay)).volumes[1]).toBe(90);
  });
});

describe("a device's segment that disagrees", () => {
  const device = { as: PUMPS, queued: false };

  it("is recorded unasked and waits: the figures stay computed, both values are told", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90)], device);
    expect(await hours(stay)).toEqual(COMPUTED);
    expect(await findings(stay)).toMatchObject([
      {
        id: "reading-disagrees~pump-1~s",
        severity: "question",
        sentence: "pump-1 says that it gave 90 mL from 08:00 to 09:00, and 75 mL was computed: 15 mL more.",
      },
    ]);
    expect(await spans(stay)).toMatchObject([
      {
        reading: "s",
        total: null,
        shows: 90,
        rateTime: 75,
        difference: 15,
        restsOn: "rate-time",
        why: "It disagrees, and waits for somebody to decide.",
      },
    ]);
  });

  it.each([
    [
      "Use what was read.",
      { volumes: [75, 90, 75, 75], basis: [...COMPUTED.basis].fill("apportioned", 1, 2) },
    ],
    ["Use what was computed.", COMPUTED],
  ])("is settled by a decision, as the finding proposes it: %s", async (words, expected) => {
    const stay = await begun();
    await stay.post([segment("09:00", 90)], device);
    const [{ settledBy }] = (await findings(stay)) as [Json];
    const { entry, fill } = settledBy.find(({ text }: Json) => text === words);
    expect([entry.reason, fill]).toEqual([undefined, ["/reason"]]);
    await chart(stay, [{ ...entry, id: "decision", reason: "Looked at the pump's log." }]);
    expect(await hours(stay)).toEqual(expected);
    expect(await findings(stay)).toEqual([]);
    // Taken back, it is a question again.
    await chart(stay, [{ kind: "entry-voided", entry: "decision", reason: "The wrong pump." }]);
    expect(await hours(stay)).toEqual(COMPUTED);
    expect((await findings(stay)).map(told)).toEqual(["reading-disagrees question open"]);
  });

  it("counts once a person confirms the very same", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90)], device);
    await chart(stay, [segment("09:00", 90, { id: "seen", confirmed: true })]);
    expect(await hours(stay)).toEqual(AS_COUNTED);
    expect((await findings(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~s"]);
  });

  it("is one question with the segments after it that stray alike, and another where they stray otherwise", async () => {
    const stay = await begun();
    await stay.post(
      [
        segment("09:00", 90),
        segment("10:00", 91, { id: "s2", start: at("09:00") }),
        segment("11:00", 60, { id: "s3", start: at("10:00") }),
      ],
      device,
    );
    expect((await findings(stay)).map(({ id, sentence }) => [id, sentence])).toEqual([
      [
        "reading-disagrees~pump-1~s",
        "pump-1 says that it gave 181 mL in 2 segments from 08:00 to 10:00, and 150 mL was computed: 31 mL more.",
      ],
      [
        "reading-disagrees~pump-1~s3",
        "pump-1 says that it gave 60 mL from 10:00 to 11:00, and 75 mL was computed: 15 mL less.",
      ],
    ]);
  });

  it("is no question of its own where the total says the same", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 100), read("11:00", 325, { id: "r" })], device);
    expect((await findings(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~r"]);
  });
});

describe("a segment and a total that are off in opposite ways", () => {
  it("are two questions", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90), read("11:00", 270, { id: "r" })], { as: PUMPS, queued: false });
    expect((await findings(stay)).map(({ id }) => id)).toEqual([
      "reading-disagrees~pump-1~r",
      "reading-disagrees~pump-1~s",
    ]);
  });
});

it("a segment that agrees stays within the span of a total that is lower than before", async () => {
  const stay = await begun();
  await chart(stay, [segment("09:00", 77), read("07:30", 37.5), read("11:00", 20, { confirmed: true })]);
  const { volumes, basis } = await hours(stay);
  expect([volumes[1], basis[1], basis[2]]).toEqual([77, "apportioned", "disputed"]);
});

describe("several looks at one segment", () => {
  const device = { as: PUMPS, queued: false };
  const ONE = "pump-1 says that it gave 90 mL from 08:00 to 09:00, and 75 mL was computed: 15 mL more.";
  const said = async (stay: Stay) => (await findings(stay)).map(({ id, sentence }) => [id, sentence]);

  it("are one: a device's that a person confirms, tells again, or that two people confirm", async () => {
    const confirmed = await begun();
    await confirmed.post([segment("09:00", 90)], device);
    await chart(confirmed, [segment("09:00", 90, { id: "seen", confirmed: true })]);
    const again = await begun();
    await again.post([segment("09:00", 90), segment("09:00", 90, { id: "again" })], device);
    const twice = await begun();
    await chart(twice, [segment("09:00", 90, { confirmed: true })]);
    await chart(twice, [segment("09:00", 90, { id: "seen", confirmed: true })]);
    for (const stay of [confirmed, again, twice]) {
      expect(await said(stay)).toEqual([["reading-disagrees~pump-1~s", ONE]]);
    }
    expect([await hours(confirmed), await hours(twice)]).toEqual([AS_COUNTED, AS_COUNTED]);
    expect((await spans(confirmed)).map(({ reading, why }) => [reading, why])).toContainEqual([
      "s",
      "Another look at the same segment counts.",
    ]);
  });

  it("count as the last one has it: 90, then 60; and what a person saw before what the device said", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 76)], device);
    await chart(stay, [segment("09:00", 90, { id: "first", confirmed: true })]);
    expect((await hours(stay)).volumes).toEqual([75, 90, 75, 75]);
    await chart(stay, [segment("09:00", 60, { id: "second", confirmed: true })]);
    expect((await hours(stay)).volumes).toEqual([75, 60, 75, 75]);
    expect(await said(stay)).toEqual([
      [
        "reading-disagrees~pump-1~s",
        "pump-1 says that it gave 60 mL from 08:00 to 09:00, and 75 mL was computed: 15 mL less.",
      ],
    ]);
  });

  it("are decided on together", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90)], device);
    await chart(stay, [segment("09:00", 90, { id: "seen", confirmed: true })]);
    const [{ settledBy }] = (await findings(stay)) as [Json];
    const { entries } = settledBy.find(({ text }: Json) => text === "Use what was computed.");
    await chart(
      stay,
      entries.map((entry: Json) => ({ ...entry, reason: "The pump's log says so." })),
    );
    expect([await hours(stay), await said(stay)]).toEqual([COMPUTED, []]);
  });

  it("may overlap: what two segments tell of one half hour is not added up", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90), segment("09:30", 88, { id: "s2", start: at("08:30") })], device);
    expect(await said(stay)).toEqual([["reading-disagrees~pump-1~s", ONE]]);
  });
});

describe("short segments", () => {
  const device = { as: PUMPS, queued: false };
  const clock = (minutes: number) => `08:${String(minutes).padStart(2, "0")}`.replace("08:60", "09:00");
  const told = (every: number, volume: number) =>
    Array.from({ length: 60 / every }, (_, i) =>
      segment(clock((i + 1) * every), volume, { id: `s${i}`, start: at(clock(i * every)) }),
    );

  it.each([
    [1, 3.2, "192 mL in 60 segments from 08:00 to 09:00, and 75 mL was computed: 117 mL more."],
    [1, 0, "0 mL in 60 segments from 08:00 to 09:00, and 75 mL was computed: 75 mL less."],
    [5, 8.2, "98.4 mL in 12 segments from 08:00 to 09:00, and 75 mL was computed: 23.4 mL more."],
  ])("of %d min that count %d mL each are asked about together", async (every, volume, words) => {
    const stay = await begun();
    await stay.post(told(every, volume), device);
    expect((await findings(stay)).map(({ id, sentence }) => [id, sentence])).toEqual([
      ["reading-disagrees~pump-1~s0", `pump-1 says that it gave ${words}`],
    ]);
  });

  it("that are off one way and the other, or by less than a twentieth together, are not", async () => {
    const stay = await begun();
    await stay.post(
      told(1, 0).map((one, i) => ({ ...one, volume: i % 2 === 0 ? 2.3 : 0.3 })),
      device,
    );
    expect(await findings(stay)).toEqual([]);
  });

  it("ask nothing any more once they were decided on", async () => {
    const stay = await begun();
    await stay.post(told(5, 8.2), device);
    const [{ settledBy }] = (await findings(stay)) as [Json];
    const { entries } = settledBy.find(({ text }: Json) => text === "Use what was computed.");
    await chart(
      stay,
      entries.map((entry: Json) => ({ ...entry, reason: "The pump's log says so." })),
    );
    expect([await findings(stay), await hours(stay)]).toEqual([[], COMPUTED]);
  });
});

describe("a segment", () => {
  it("says that a flow went on after an end that nobody confirmed: that is what is asked about", async () => {
    const stay = await begun(on("08:00", "volume-to-infuse-set", { volumeToInfuse: 10 }));
    await stay.post([segment("09:00", 75)], { as: PUMPS });
    const codes = (await findings(stay)).map(({ code }) => code);
    expect(codes).toEqual(["totals-at-risk", "reading-disagrees"]);
  });

  it("of a channel that nobody connected is noted, and makes no figure", async () => {
    const stay = await begun();
    await stay.post([segment("09:00", 90, { channel: "pump-9" })], { as: PUMPS });
    expect((await findings(stay)).map(({ code, channel }) => [code, channel])).toEqual([
      ["entry-without-effect", undefined],
    ]);
    expect((await stay.volumes(DAY)).rows).toHaveLength(1);
  });
});

describe("an answer to a recording", () => {
  const device = { as: PUMPS, queued: false };
  const named = ({ body }: Json) => body.findings.map(({ id, state }: Json) => `${id} ${state}`);

  it("names a segment that disagrees, and what settles or takes over its question", async () => {
    const stay = await begun();
    expect(named(await stay.post([segment("09:00", 90)], device))).toEqual([
      "reading-disagrees~pump-1~s open",
    ]);
    const total = await stay.post([read("11:00", 320, { id: "r" })], device);
    expect(named(total)).toEqual(
      ["reading-disagrees~pump-1~s settled", "reading-disagrees~pump-1~r open"].sort(),
    );
    const explained = await begun();
    await explained.post([segment("09:00", 90)], device);
    const rates = await explained.post([change("08:00", 90), change("09:00", 75)]);
    expect(named(rates)).toEqual(["reading-disagrees~pump-1~s settled"]);
  });
});
