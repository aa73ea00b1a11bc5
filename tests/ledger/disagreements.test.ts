/** A reading that disagrees: asked once of a person, with what may explain it; a device's waits. */

import { describe, expect, it } from "vitest";
import { answered, asked, chart, findings, found, read, told } from "./asking.js";
import { type Json, NURSE, PUMPS, Stay } from "./stay.js";
import { change, hang, on, pump, running, start, type Told, void_ } from "./telling.js";

const DAY = "2026-03-04/day";

/** 75 mL/h from 07:00: 300 mL by 11:00, which is what it is now. */
async function begun(...more: Told[]): Promise<Stay> {
  const stay = await Stay.begun({ now: "11:00" });
  await stay.post([...running(), ...more]);
  return stay;
}

/** The first four hours: what each delivered, as computed alone, and what it rests on. */
async function hours(stay: Stay, query: Parameters<Stay["volumes"]>[1] = {}): Promise<Json> {
  const { rows } = await stay.volumes(DAY, query);
  const { volumes, computed, basis } = rows[0];
  return { volumes: volumes.slice(0, 4), computed: computed.slice(0, 4), basis: basis.slice(0, 4) };
}

/** An entry that settles the only question, as the finding proposes it. */
async function decision(stay: Stay, words: string, more: Told = {}): Promise<Told> {
  const [question] = await findings(stay);
  const { entry, fill } = question.settledBy.find(({ text }: Json) => text === words);
  // Why is for whoever decides to say.
  expect([entry.reason, fill]).toEqual([undefined, ["/reason"]]);
  return { ...entry, reason: "Looked at again.", ...more };
}

const four = (one: unknown) => [one, one, one, one];
// 320 of 300 in four hours are 80 in each.
const AS_READ = { volumes: four(80), computed: four(75) };
const AS_COMPUTED = { volumes: four(75), computed: four(75), basis: four("computed") };

describe("a person whose reading disagrees", () => {
  it("is asked, with what was expected and since when", async () => {
    const stay = await begun();
    const { problem, detail, disagreements } = await asked(stay, [read("11:00", 320)]);
    expect([problem, detail]).toEqual([
      "reading-disagrees",
      "The primary total of pump-1 was read as 320 mL; 300 mL was expected.",
    ]);
    expect(disagreements).toMatchObject([
      {
        entry: "#/entries/0",
        channel: "pump-1",
        total: "primary",
        reading: 320,
        expected: 300,
        difference: 20,
        since: "2026-03-04T07:00:00-06:00",
      },
    ]);
    expect(await stay.sequence()).toBe(5);
  });

  // A twentieth of 300 is 15, of the 301.25 by the end of the minute 15.06; of the 298.75 from the end of 07:00, 14.94.
  it.each([
    [316.3, false],
    [316.4, true],
    [283.9, false],
    [283.8, true],
  ])("is asked beyond a twentieth and the minute it stands for: %d mL", async (volume, asks) => {
    const stay = await begun();
    const outcome = await stay.send([read("11:00", volume)], { queued: false });
    expect(outcome.refused?.problem).toBe(asks ? "reading-disagrees" : undefined);
  });

  it("may confirm it: it counts, as disputed, with the computed volume beside it", async () => {
    const stay = await begun();
    const request = [read("11:00", 320, { id: "r" })];
    const [doubt] = (await asked(stay, request)).disagreements;
    const { body } = await chart(stay, answered(request, doubt, doubt.answers[0]));
    expect(body.findings.map(told)).toEqual(["reading-disagrees question open"]);
    expect(await hours(stay)).toEqual({ ...AS_READ, basis: four("disputed") });
    expect((await stay.totals()).channels[0].totals[0]).toMatchObject({ expected: 320, atRisk: 0 });
  });
});

describe("every likely reason, posted with the reading, is taken without a question", () => {
  const rateChange = change("10:00", 150, { id: "faster" });
  const dose = [
    hang("08:00", "dose", 100, { role: "secondary" }),
    on("08:00", "secondary-started", { rate: 200, whenDone: "resume-primary" }),
  ];
  it.each<[string, Told[], Told, string]>([
    // 375 are computed; from 09:30 on 150 mL/h had given 37.5 more.
    ["a rate change charted late", [rateChange], read("11:00", 412.5), "rate-change-late"],
    ["a bolus nobody charted", [], read("11:00", 350), "bolus-missing"],
    ["a rate change nobody charted", [], read("11:00", 350), "rate-change-missing"],
    ["an hour's pause nobody charted", [], read("11:00", 225), "pause-missing"],
    // 262.5 of the primary, which waited for half an hour, and 100 of the secondary.
    ["the other total", dose, read("11:00", 100), "other-total"],
    ["two digits swapped", [], read("11:00", 30), "digits"],
    ["a clear nobody charted", [read("10:00", 225)], read("11:00", 37.5), "clear-missing"],
    [
      "a total read before the clear",
      [on("10:00", "totals-reset", { leaveUncaptured: { reason: "already-cleared" } })],
      read("10:05", 225),
      "read-before-clear",
    ],
  ])("%s", async (_what, before, reading, kind) => {
    const stay = await begun(...before);
    const [doubt] = (await asked(stay, [reading])).disagreements;
    expect(doubt.reasons.map((reason: Json) => reason.kind)).toContain(kind);
    for (const reason of doubt.reasons) {
      const { status } = await chart(stay, answered([reading], doubt, reason), { dryRun: true });
      expect([reason.kind, status]).toEqual([reason.kind, 200]);
    }
  });
});

describe("a device's reading that disagrees", () => {
  it("is recorded unasked and waits: the figures stay computed, both values are told", async () => {
    const stay = await begun();
    const { body } = await stay.post([read("11:00", 320, { id: "r" })], { as: PUMPS, queued: false });
    expect(body.findings).toMatchObject([
      {
        id: "reading-disagrees~pump-1~r",
        severity: "question",
        sentence:
          "On pump-1 the primary total counted 320 mL from 07:00 to 11:00, and 300 mL was computed: 20 mL more.",
      },
    ]);
    expect(await hours(stay)).toEqual(AS_COMPUTED);
    // An hour later the device should show 75 more, by either of the two.
    expect((await stay.itIs("12:00").totals()).channels[0].totals[0]).toMatchObject({
      expected: 375,
      atRisk: 375,
      waiting: { reading: "r", value: 320, expected: 395 },
    });
  });

  it("opens again when the device goes on to stray, beyond what was acknowledged", async () => {
    const stay = await Stay.begun({ now: "12:00" });
    await stay.post([...running().slice(0, -1), start("07:00", 100)]);
    const device = { as: PUMPS };
    await stay.post([read("08:00:05", 130, { id: "r" })], device);
    const [{ id }] = await findings(stay);
    // A hundred an hour for an hour and five seconds: 100.1 mL.
    const told = () =>
      findings(stay, "all").then((all) => all.map(({ state, sentence }) => [state, sentence]));
    await stay.ledger.acknowledge(NURSE, "stay-1", id, "The pump is being looked at.", null);
    expect(await told()).toEqual([["acknowledged", expect.stringContaining("29.9 mL more")]]);
    await stay.post([read("09:00", 235)], device);
    expect(await told()).toEqual([["acknowledged", expect.stringContaining("35 mL more")]]);
    await stay.post([read("11:00", 500), read("12:00", 650)], device);
    expect(await told()).toEqual([
      [
        "open",
        "On pump-1 the primary total, read 4 times, counted 650 mL from 07:00 to 12:00, and 500 mL was computed: 150 mL more.",
      ],
    ]);
  });

  it("counts once a person decides for it, until that is void; as of before nothing has changed", async () => {
    const stay = await begun();
    await stay.post([read("11:00", 320, { id: "r" })], { as: PUMPS });
    const before = await stay.sequence();
    await chart(stay, [await decision(stay, "Use what was read.", { id: "decision" })]);
    expect(await hours(stay)).toEqual({ ...AS_READ, basis: four("apportioned") });
    expect(await hours(stay, { asOf: { sequence: before } })).toEqual(AS_COMPUTED);
    expect(await found(stay)).toEqual([]);
    await chart(stay, [void_("decision")]);
    expect(await hours(stay)).toEqual(AS_COMPUTED);
    expect(await found(stay)).toEqual(["reading-disagrees question open"]);
  });

  it("is let be once a person decides for what was computed", async () => {
    const stay = await begun();
    await stay.post([read("11:00", 320, { id: "r" })], { as: PUMPS });
    await chart(stay, [await decision(stay, "Use what was computed.")]);
    expect([await hours(stay), await found(stay)]).toEqual([AS_COMPUTED, []]);
    expect((await stay.totals()).channels[0].totals[0]).toMatchObject({ expected: 300, atRisk: 300 });
  });

  it("and a zero, of a device or a person who is not asked, say nothing of what was delivered", async () => {
    const stay = await begun();
    await stay.post([read("11:00", 0)], { as: PUMPS });
    expect(await hours(stay)).toEqual(AS_COMPUTED);
    expect(await found(stay)).toEqual(["unrecorded-clear question open"]);
  });
});

describe("a total lower than it was", () => {
  it("is offered its clear once, among the likely reasons", async () => {
    const stay = await begun(read("10:00", 225));
    await stay.post([read("11:00", 37.5)], { as: PUMPS });
    const [{ code, settledBy }, ...more] = await findings(stay);
    expect([code, more]).toEqual(["unrecorded-clear", []]);
    const clears = settledBy.filter(({ entry }: Json) => entry?.kind === "totals-reset");
    expect(clears).toHaveLength(1);
    expect(settledBy.at(-1)).toEqual({
      text: "The clear, charted at its time, or an amendment of the reading if it was misread.",
    });
    await chart(stay, [clears[0].entry]);
    expect((await found(stay)).filter((one) => one.startsWith("unrecorded-clear"))).toEqual([]);
  });
});

describe("a confirmed reading that was decided against", () => {
  it("leaves the figures computed", async () => {
    const stay = await begun();
    await chart(stay, [read("11:00", 320, { id: "r", confirmed: true })]);
    await chart(stay, [await decision(stay, "Use what was computed.")]);
    expect([await hours(stay), await found(stay)]).toEqual([AS_COMPUTED, []]);
  });
});

describe("a reading that the next one shows to have been wrong", () => {
  it("is set aside alone, whoever confirmed it", async () => {
    const stay = await begun();
    // 180 for the 150 of two hours: 90 in each.
    await chart(stay, [read("09:00", 180, { id: "r1", confirmed: true })]);
    expect((await hours(stay)).volumes).toEqual([90, 90, 75, 75]);
    expect(await found(stay)).toEqual(["reading-disagrees question open"]);
    await chart(stay, [read("10:00", 225)]);
    expect(await hours(stay)).toMatchObject({
      volumes: four(75),
      basis: ["apportioned", "apportioned", "apportioned", "computed"],
    });
    expect(await found(stay)).toEqual([]);
  });

  it("asks nothing any more where it was a device's", async () => {
    const stay = await begun();
    await stay.post([read("09:00", 180)], { as: PUMPS });
    await chart(stay, [read("10:00", 225)]);
    expect(await found(stay)).toEqual([]);
  });
});

describe("the sum of totals that a channel keeps apart", () => {
  const withDose = [
    hang("08:00", "dose", 100, { role: "secondary" }),
    on("08:00", "secondary-started", { rate: 200, whenDone: "resume-primary" }),
  ];
  const sum = (volume: number, more: Told = {}) => read("11:00", volume, { total: "combined", ...more });

  it("is a check that moves nothing: 262.5 and 100 are 362.5", async () => {
    const stay = await begun(...withDose);
    expect((await chart(stay, [sum(362.5)])).body.findings).toEqual([]);
    expect((await hours(stay)).basis).toEqual(four("computed"));
    expect((await stay.totals()).channels[0].totals.map(({ atRisk }: Json) => atRisk)).toEqual([262.5, 100]);
  });

  it("is asked about where it disagrees, and moves nothing when confirmed", async () => {
    const stay = await begun(...withDose);
    const [doubt] = (await asked(stay, [sum(400)])).disagreements;
    expect([doubt.total, doubt.expected]).toEqual(["combined", 362.5]);
    const before = await hours(stay);
    await chart(stay, [sum(400, { confirmed: true })]);
    expect(await hours(stay)).toEqual(before);
    expect(await found(stay)).toEqual(["reading-disagrees question open"]);
  });
});

describe("a chamber that holds less than before", () => {
  const drain = (clock: string, kind: string, more: Told): Told => {
    const { channel: _, ...entry } = on(clock, kind, { chamber: "drain-1", ...more });
    return entry;
  };
  const placed = drain("07:00", "chamber-placed", { level: 0, category: "drain" });
  const held = drain("09:00", "chamber-read", { level: 100 });

  it("is found, with what may have happened", async () => {
    const stay = await begun();
    await stay.post([placed, held, drain("10:00", "chamber-read", { level: 20 })]);
    expect((await findings(stay)).map(({ sentence }) => sentence)).toEqual([
      "The chamber drain-1 held 20 mL at 10:00, after 100 mL at 09:00: it was emptied and nobody charted that, or it was misread.",
    ]);
  });

  it.each([
    ["an hour", "10:00", "09:59:00"],
    ["a minute", "09:01", "09:00:30"],
  ])("after %s was emptied before it was read, by an answer that asks what it held", async (_, clock, at) => {
    const stay = await begun(placed, held);
    const request = [drain(clock, "chamber-read", { level: 20 })];
    const [doubt] = (await asked(stay, request)).disagreements;
    const [emptied] = doubt.reasons;
    expect(emptied).toMatchObject({
      entries: [{ kind: "chamber-emptied", at: `2026-03-04T${at}-06:00`, chamber: "drain-1" }],
      fill: ["/0/level"],
      instead: [],
    });
    const { status } = await chart(stay, [{ ...emptied.entries[0], level: 130 }, ...request]);
    expect([status, await found(stay)]).toEqual([201, []]);
  });

  it("at the same instant as before can only be confirmed", async () => {
    const stay = await begun(placed, held);
    const request = [drain("09:00", "chamber-read", { level: 20 })];
    const [doubt] = (await asked(stay, request)).disagreements;
    expect(doubt.reasons).toEqual([]);
    expect((await chart(stay, answered(request, doubt, doubt.answers[0]))).status).toBe(201);
  });

  it("when it is emptied is left as it is for a reason, since an emptying cannot be confirmed", async () => {
    const stay = await begun(placed, held);
    const request = [drain("10:00", "chamber-emptied", { level: 20 })];
    const [doubt] = (await asked(stay, request)).disagreements;
    expect(doubt.answers.map(({ text }: Json) => text)).toEqual([
      "It was emptied before anybody could read it.",
      "The chamber is gone.",
      "It cannot be read.",
      "It is left unread for another reason: say which.",
    ]);
    expect((await chart(stay, answered(request, doubt, doubt.answers[0]))).status).toBe(201);
  });
});

describe("another channel's number", () => {
  it("is told as what it is", async () => {
    const stay = await begun(
      pump("07:00", { channel: "pump-2" }),
      hang("07:00", "saline-2", 1_000, { channel: "pump-2" }),
      start("07:00", 110, { channel: "pump-2" }),
    );
    const [doubt] = (await asked(stay, [read("11:00", 440)])).disagreements;
    const other = doubt.reasons.find(({ kind }: Json) => kind === "other-channel");
    expect(other.entries).toMatchObject([{ kind: "total-read", channel: "pump-2", volume: 440 }]);
    await chart(stay, answered([read("11:00", 440)], doubt, other));
    expect((await stay.totals()).channels.map(({ totals }: Json) => totals[0].lastReading)).toEqual([
      null,
      440,
    ]);
  });
});

describe("what an answer to a recording names", () => {
  const states = async (stay: Stay) =>
    (await findings(stay, "all")).map(({ id, state, sentence }) => ({ id, state, sentence }));
  const named = ({ body }: Json) =>
    body.findings.map(({ id, state, sentence }: Json) => ({ id, state, sentence }));
  const hundred = () => [...running().slice(0, -1), start("07:00", 100)];

  it("is the question that readings share, not one of each", async () => {
    const stay = await Stay.begun({ now: "08:00" });
    await stay.post(hundred());
    for (const [hour, volume] of [
      ["08:00", 130],
      ["09:00", 260],
      ["10:00", 390],
    ] as const) {
      stay.itIs(hour);
      const answer = await stay.post([read(hour, volume, { id: `r${volume}`, confirmed: true })]);
      expect(named(answer)).toEqual(await states(stay));
      expect(named(answer).map(({ id }: Json) => id)).toEqual(["reading-disagrees~pump-1~r130"]);
    }
  });

  it("leaves the bag to the reading that tells of the same volume, charted before it or after", async () => {
    const stay = await Stay.begun({ now: "12:00" });
    await stay.post(hundred());
    const level = on("12:00", "bag-level-read", {
      bag: "saline-1",
      remaining: 250,
      method: "weighed",
      id: "lv",
    });
    const { channel: _, ...seen } = level;
    expect(named(await stay.post([seen])).map(({ id }: Json) => id)).toEqual(["bag-unaccounted~pump-1~lv"]);
    const answer = await stay.post([read("11:00", 650, { id: "r", confirmed: true })]);
    expect(named(answer).map(({ id, state }: Json) => [id, state])).toEqual([
      ["reading-disagrees~pump-1~r", "open"],
      ["bag-unaccounted~pump-1~lv", "settled"],
    ]);
    expect((await states(stay)).map(({ id }) => id)).toEqual(["reading-disagrees~pump-1~r"]);
    const again = { ...seen, at: "2026-03-04T12:00:00-06:00", id: "lv-2" };
    expect(named(await stay.post([again]))).toEqual([]);
  });

  it("is told up to now though it happened days ago, and back to where it began", async () => {
    const stay = await Stay.begun({ now: "08:00" });
    await stay.post([...running().slice(0, 2), hang("07:00", "tank", 20_000), start("07:00", 100)]);
    const questions = async () => (await states(stay)).filter(({ id }) => id.startsWith("reading-disagrees"));
    const readings = ["4 08:00", "5 08:00", "6 08:00", "7 08:00"];
    for (const [i, clock] of readings.entries()) {
      stay.itIs(clock);
      const volume = 130 * (1 + 24 * i);
      const answer = await stay.post([read(clock, volume, { id: `r${i}`, confirmed: true })]);
      expect(named(answer)).toEqual(await questions());
    }
    const late = await stay.post([change("4 07:30", 110), change("4 07:40", 100)]);
    expect(named(late)).toEqual(await questions());
    expect(named(late)[0].sentence).toContain("read 4 times");
  });

  it("is told up to now where the change itself has long had its effect", async () => {
    const stay = await Stay.begun({ now: "08:00" });
    const [placed, connected] = running();
    // Without a bag nothing is left behind by what was faster for ten minutes before the first reading.
    await stay.post([placed!, connected!, start("07:00", 100, { volumeToInfuse: "none" })]);
    for (const [i, clock] of ["4 08:00", "5 08:00", "7 08:00"].entries()) {
      stay.itIs(clock);
      await stay.post([read(clock, 130 * (1 + 24 * [0, 1, 3][i]!), { id: `r${i}`, confirmed: true })]);
    }
    await stay.reopened();
    const { body } = await stay.post([change("4 07:30", 160), change("4 07:40", 100)]);
    expect(body.findings).toMatchObject([
      {
        id: "reading-disagrees~pump-1~r0",
        state: "open",
        // Ten minutes at 60 mL/h more.
        sentence: expect.stringMatching(/read 3 times, counted 9490 mL .* 7310 mL was computed/),
      },
    ]);
    const [question] = (await findings(stay)).filter(({ code }) => code === "reading-disagrees");
    expect(question.sentence).toBe(body.findings[0].sentence);
  });

  it("knows what was charted after the shift of a late change, where its effect goes on", async () => {
    const stay = await Stay.begun({ now: "5 13:00" });
    await stay.post([...running().slice(0, 2), hang("07:00", "tank", 3_500), start("07:00", 200)]);
    // The tank is empty in the night; the next one is hung when it is taken down, and started by hand.
    const { channel: _, ...down } = on("5 12:00", "bag-taken-down", { bag: "tank" });
    await stay.post([down, hang("5 12:00", "tank-2", 1_000, { id: "next" }), start("5 12:05", 100)]);
    await stay.itIs("7 08:00").reopened();
    // At half the rate it is the taking down that ended the flow, and the next one did not go on by itself.
    const { body } = await stay.post([change("4 08:00", 100)]);
    expect(body.findings.map(({ id }: Json) => id)).not.toContain("entry-without-effect~pump-1~next");
    expect((await findings(stay)).map(({ id }) => id)).not.toContain("entry-without-effect~pump-1~next");
  });
});

describe("readings every few minutes", () => {
  // 75 mL/h are 6.25 in five minutes; each of these is 1.95 more, within the floor of 2 mL.
  const drifting = (from: number, to: number) =>
    Array.from({ length: (to - from) / 5 }, (_, i) => {
      const minutes = from + (i + 1) * 5;
      const clock = `${minutes < 60 ? "08" : "09"}:${String(minutes % 60).padStart(2, "0")}`;
      return read(clock, Math.round((75 + 8.2 * (i + 1)) * 10) / 10, { id: `r${i}` });
    });

  it("that drift the same way are asked about together, and named where the last of them is recorded", async () => {
    const stay = await Stay.begun({ now: "11:00" });
    await stay.post([...running(), read("08:00", 75, { id: "right" })]);
    let named: Json[] = [];
    for (const one of drifting(0, 60)) named = (await stay.post([one], { as: PUMPS })).body.findings;
    const sentence =
      "On pump-1 the primary total, read 12 times, counted 98.4 mL from 08:00 to 09:00, and 75 mL was computed: 23.4 mL more.";
    const told = (await findings(stay)).map(({ id, sentence }) => [id, sentence]);
    expect(told).toEqual([["reading-disagrees~pump-1~r0", sentence]]);
    expect(named.map(({ id, sentence }) => [id, sentence])).toEqual(told);
    const [{ settledBy }] = (await findings(stay)) as [Json];
    const { entries } = settledBy.find(({ text }: Json) => text === "Use what was read.");
    await chart(
      stay,
      entries.map((entry: Json) => ({ ...entry, reason: "The pump's log says so." })),
    );
    expect(await findings(stay)).toEqual([]);
  });

  it("are not where one of them, some minutes off its time, makes all the difference", async () => {
    const stay = await begun();
    await stay.post([change("07:00", 20), read("08:00", 20), read("08:20", 28.2), read("08:40", 36.5)]);
    expect(await findings(stay)).toEqual([]);
    // As many as there were before, and the same again: that is no matter of minutes.
    await stay.post([read("09:00", 44.7), read("09:20", 53)]);
    expect((await findings(stay)).map(({ code }) => code)).toEqual(["reading-disagrees"]);
  });
});
