/** The question before a running total is lost: who is asked, when, and what answers it. */

import { describe, expect, it } from "vitest";
import { answered, asked, chart, found, read, reset, told } from "./asking.js";
import { PUMPS, Stay } from "./stay.js";
import { amend, hang, line, on, pump, running, start, type Told, void_ } from "./telling.js";

/** A pump that runs at 75 mL/h since 07:00, its total read at 09:10. */
async function begun(...pumps: Told[]): Promise<Stay> {
  const stay = await Stay.begun();
  const [placed, connected, ...rest] = running();
  await stay.post([placed!, ...(pumps.length === 0 ? [connected!] : pumps), ...rest, read("09:10", 162.5)]);
  return stay;
}

const secondary = (clock: string, bag: string): Told[] => [
  hang(clock, bag, 100, { role: "secondary" }),
  on(clock, "secondary-started", { rate: 200, whenDone: "resume-primary" }),
];

describe("a person is asked before a total is lost", () => {
  // 1 h 50 min of 75 mL/h since 09:10 are 137.5.
  const risk = {
    at: "2026-03-04T11:00:00-06:00",
    channel: "pump-1",
    total: "primary",
    expected: 300,
    lastReading: 162.5,
    atRisk: 137.5,
    since: "2026-03-04T09:10:00-06:00",
  };

  it("by a reset, with every number that is about to go", async () => {
    const stay = await begun();
    const { problem, detail, atRisk } = await asked(stay, [reset("11:00")]);
    expect(problem).toBe("totals-at-risk");
    expect(detail).toBe(
      "pump-1 would forget 137.5 mL of the primary that nobody has written down since 09:10.",
    );
    expect(atRisk).toMatchObject([{ entry: "#/entries/0", ...risk }]);
    expect(await stay.sequence()).toBe(6);
  });

  it.each<[string, Told[], Told[]]>([
    ["a change of therapy", [pump("07:00")], [on("11:00", "therapy-changed")]],
    [
      "disconnecting a channel that forgets by it",
      [pump("07:00", { clearsOn: ["disconnect"] })],
      [on("11:00", "channel-disconnected")],
    ],
    [
      "switching it off",
      [pump("07:00", { clearsOn: ["power-off"] })],
      [reset("11:00", { cause: "power-off" })],
    ],
    [
      "switching it off, though nobody declared that it forgets by it",
      [],
      [reset("11:00", { cause: "power-off" })],
    ],
    [
      "connecting another device",
      [pump("07:00", { device: "asset-1" })],
      [pump("11:00", { device: "asset-2" })],
    ],
  ])("by %s", async (_how, pumps, clear) => {
    const stay = await begun(...pumps);
    expect((await asked(stay, clear)).atRisk).toMatchObject([{ entry: "#/entries/0", ...risk }]);
  });

  it("by the next secondary, of the secondary alone, where that clears it", async () => {
    const stay = await begun(pump("07:00", { clearsOn: ["new-secondary"] }));
    await stay.post(secondary("09:30", "dose-1"));
    const { atRisk } = await asked(stay, secondary("11:00", "dose-2"));
    expect(atRisk).toMatchObject([
      { entry: "#/entries/1", total: "secondary", expected: 100, lastReading: null, atRisk: 100 },
    ]);
  });

  it.each<[string, Told[], Told[]]>([
    [
      "a change of therapy does not clear",
      [pump("07:00", { clearsOn: ["disconnect"] })],
      [on("11:00", "therapy-changed")],
    ],
    ["disconnecting does not clear", [pump("07:00")], [on("11:00", "channel-disconnected")]],
    [
      "the same device is put on another line",
      [pump("07:00")],
      [line("11:00", "hand"), pump("11:00", { line: "hand" })],
    ],
    ["a secondary starts", [pump("07:00")], secondary("11:00", "dose-1")],
  ])("and of no total that is kept: %s", async (_how, pumps, entries) => {
    const stay = await begun(...pumps);
    expect((await chart(stay, entries)).status).toBe(201);
    expect((await stay.totals({ at: "11:00" })).channels[0].totals[0].atRisk).toBe(137.5);
  });
});

describe("no nuisance", () => {
  it.each([
    ["2 min of flow", 999, "07:02", false],
    ["3 min of flow, 49.95 mL", 999, "07:03", true],
    ["2 mL", 20, "07:06", false],
    ["2.333 mL in 7 min", 20, "07:07", true],
  ])("%s", async (_what, rate, clock, asks) => {
    const stay = await Stay.begun();
    const [placed, connected, bag] = running();
    await stay.post([placed!, connected!, bag!, start("07:00", rate)]);
    const outcome = await stay.send([reset(clock)], { queued: false });
    expect(outcome.refused !== undefined).toBe(asks);
  });

  it("what was read in the minute of the clear, in whichever order the two were typed", async () => {
    const stay = await begun();
    expect((await chart(stay, [reset("11:00"), read("11:00", 300)])).status).toBe(201);
    expect(await found(stay)).toEqual([]);
  });

  it("an hour's pause after the last reading", async () => {
    const stay = await begun();
    await stay.post([on("09:10", "flow-paused")]);
    expect((await chart(stay, [reset("10:10")])).status).toBe(201);
  });
});

describe("each answer, posted as it is given", () => {
  const request = [on("11:00", "therapy-changed", { id: "therapy" }), start("11:00", 50)];

  it.each([
    ["the reading off the device", 0, []],
    ["already cleared", 1, ["totals-lost note open"]],
    ["the device is gone", 2, ["totals-lost note open"]],
    ["the device cannot be read", 3, ["totals-lost note open"]],
  ])("%s", async (_how, which, findings) => {
    const stay = await begun();
    const [risk] = (await asked(stay, request)).atRisk;
    expect(risk.answers).toHaveLength(5);
    const { status, body } = await chart(stay, answered(request, risk, risk.answers[which], 300));
    expect([status, body.findings.map(told)]).toEqual([201, findings]);
    expect(await found(stay)).toEqual(findings);
  });

  it("another reason, once it is put into words", async () => {
    const stay = await begun();
    const [risk] = (await asked(stay, request)).atRisk;
    const other = risk.answers[4];
    expect([other.entries[0].leaveUncaptured, other.fill]).toEqual([
      { reason: "other" },
      ["/0/leaveUncaptured/text"],
    ]);
    await expect(chart(stay, answered(request, risk, other))).rejects.toThrow(
      "#/entries/0/leaveUncaptured/text",
    );
    const leaveUncaptured = { reason: "other", text: "It ran on in theatre." };
    const said = { ...other, entries: [{ ...other.entries[0], leaveUncaptured }] };
    const { body } = await chart(stay, answered(request, risk, said));
    expect(body.findings.map(told)).toEqual(["totals-lost note open"]);
  });

  it("with the reason kept in the entry", async () => {
    const stay = await begun();
    const [risk] = (await asked(stay, request)).atRisk;
    await chart(stay, answered(request, risk, risk.answers[2]));
    expect((await stay.entry("therapy")).leaveUncaptured).toEqual({ reason: "device-gone" });
  });

  it("of a clear that is being corrected, corrects it", async () => {
    const stay = await begun();
    await stay.post([reset("09:10", { id: "cleared" })]);
    const request = [amend("cleared", reset("11:00"))];
    const [risk] = (await asked(stay, request)).atRisk;
    await chart(stay, answered(request, risk, risk.answers[1]));
    const { replacement } = (await stay.entry("cleared")).amendments[0];
    expect(replacement.leaveUncaptured).toEqual({ reason: "already-cleared" });
    expect((await stay.totals({ at: "12:00" })).channels[0].totals[0].expected).toBe(75);
  });
});

describe("a zero never answers", () => {
  it.each([
    ["read in the minute of the clear", {}],
    ["read before the clear", { position: "before" }],
    ["looked at again", { position: "before", confirmed: true }],
  ])("%s", async (_how, more) => {
    const stay = await begun();
    const { atRisk } = await asked(stay, [read("11:00", 0, more), reset("11:00")]);
    expect(atRisk).toMatchObject([{ entry: "#/entries/1", atRisk: 137.5 }]);
  });
});

describe("several in one answer", () => {
  it("two clears and a reading that disagrees: all that is asked is asked at once", async () => {
    const stay = await begun();
    for (const channel of ["pump-2", "pump-3"]) {
      const own = { channel };
      await stay.post([
        pump("07:00", own),
        hang("07:00", `bag-${channel}`, 1_000, own),
        start("07:00", 50, own),
      ]);
    }
    const { problem, atRisk, disagreements } = await asked(stay, [
      on("11:00", "therapy-changed"),
      on("11:00", "therapy-changed", { channel: "pump-2" }),
      read("11:00", 260, { channel: "pump-3" }),
    ]);
    expect(problem).toBe("totals-at-risk");
    expect(atRisk.map(({ channel, atRisk }) => [channel, atRisk])).toEqual([
      ["pump-1", 137.5],
      ["pump-2", 200],
    ]);
    expect(disagreements.map(({ entry, reading, expected }) => [entry, reading, expected])).toEqual([
      ["#/entries/2", 260, 200],
    ]);
  });

  it("a reset of both totals is one question for each that holds something", async () => {
    const stay = await begun();
    await stay.post(secondary("09:30", "dose-1"));
    const { atRisk } = await asked(stay, [reset("11:00")]);
    // The primary waited for half an hour: 137.5 less 37.5.
    expect(atRisk.map(({ total, atRisk }) => [total, atRisk])).toEqual([
      ["primary", 100],
      ["secondary", 100],
    ]);
  });
});

describe("nobody is asked, and the loss is found", () => {
  it.each([
    ["when a device reports it", { as: PUMPS, queued: false }],
    ["when it was written down without a connection", { queued: true }],
  ])("%s", async (_how, options) => {
    const stay = await begun();
    const { body } = await stay.post([reset("11:00", { id: "cleared" })], options);
    expect(body.findings.map(told)).toEqual(["totals-lost attention open"]);
    expect(body.findings[0]).toMatchObject({
      id: "totals-lost~pump-1~cleared",
      sentence:
        "The primary total of pump-1 was cleared at 11:00 with 137.5 mL not written down since 09:10: that volume is computed only.",
    });
  });
});

describe("a reason given for what a device cleared", () => {
  it("counts, though the device's report does", async () => {
    const stay = await begun();
    await stay.post([reset("11:00", { id: "cleared" })], { as: PUMPS });
    const { body } = await chart(stay, [reset("11:01", { leaveUncaptured: { reason: "unreadable" } })]);
    expect(body.findings.map(told)).toEqual(["totals-lost note open"]);
    expect(body.findings[0].sentence).toContain("as was charted");
    expect(await found(stay)).toEqual(["totals-lost note open"]);
  });
});

describe("a reading in the minute in which its channel is connected", () => {
  it("is found with the amendment that lets it count, ready to post", async () => {
    const stay = await Stay.begun();
    const { body } = await chart(stay, [...running(), read("07:00", 20, { id: "r" })]);
    const [without] = body.findings;
    expect(without).toMatchObject({ id: "entry-without-effect~pump-1~r", state: "open" });
    const { entry } = without.settledBy[0];
    expect(entry).toMatchObject({ kind: "entry-amended", entry: "r", replacement: { position: "after" } });
    await stay.post([entry]);
    expect(await found(stay)).not.toContain("entry-without-effect attention open");
  });
});

describe("a dry run", () => {
  it("asks the same and records nothing, and once answered says what would be", async () => {
    const stay = await begun();
    const request = [reset("11:00", { id: "cleared" })];
    const [risk] = (await asked(stay, request, { dryRun: true })).atRisk;
    const answer = answered(request, risk, risk.answers[1]);
    const { status, body } = await chart(stay, answer, { dryRun: true });
    expect([status, body.findings.map(told)]).toEqual([200, ["totals-lost note open"]]);
    expect([await stay.sequence(), await found(stay)]).toEqual([6, []]);
  });
});

describe("what was lost shrinks by a late reading", () => {
  async function lost(): Promise<Stay> {
    const stay = await begun();
    await stay.post([reset("11:00", { id: "cleared" })]);
    return stay;
  }
  const sentences = ({ body }: { body: { findings: { state: string; sentence: string }[] } }) =>
    body.findings.map(({ state, sentence }) => `${state}: ${/with (\S+ mL)/.exec(sentence)?.[1]}`);

  it("from before the clear, to what flowed after it", async () => {
    const stay = await lost();
    // 10:10 to 11:00 are 62.5.
    expect(sentences(await chart(stay, [read("10:10", 237.5)]))).toEqual(["open: 62.5 mL"]);
  });

  it("at the clear, to nothing", async () => {
    const stay = await lost();
    expect(sentences(await chart(stay, [read("11:00", 300)]))).toEqual(["settled: 137.5 mL"]);
    expect(await found(stay)).toEqual([]);
  });

  it("and grows again when that is void", async () => {
    const stay = await lost();
    await chart(stay, [read("11:00", 300, { id: "late" })]);
    expect(sentences(await chart(stay, [void_("late")]))).toEqual(["open: 137.5 mL"]);
  });

  it("and changes as it is amended", async () => {
    const stay = await lost();
    await chart(stay, [read("11:00", 300, { id: "late" })]);
    expect(sentences(await chart(stay, [amend("late", read("10:30", 262.5))]))).toEqual(["open: 37.5 mL"]);
  });
});
