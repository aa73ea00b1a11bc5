/** Flows that nobody sees to: without a bag, ended unseen, paused, at a keep-open rate, unattended. */

import { describe, expect, it } from "vitest";
import { findingsIn } from "../../src/findings/find.js";
import { at, hang, mL, mLPerHour, on, pump, rate, start, type Told } from "../infusion/bedside.js";
import { codes, evidence, findings, inDoubt, read, secondary } from "./evidence.js";

const saline = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 100)];
const startWith = (rate: number, more: object) => start("07:00", rate, more as Partial<Told>);

describe("a flow without a bag", () => {
  const bare = [pump("07:00"), start("07:00", 100)];

  it("is found after a quarter of an hour and hangs on its start", () => {
    expect(findings("flow-without-bag", bare, "07:15")).toEqual([]);
    const [found] = findings("flow-without-bag", bare, "07:30");
    expect(found).toMatchObject({
      subject: "e2",
      start: at("07:00"),
      sentence: "pump-1 delivered 50 mL since 07:00 and no bag was recorded on it.",
    });
    expect(found).not.toHaveProperty("end");
    expect(inDoubt(found!)).toBe(50);
  });

  it("is one finding through changes of rate, and settled by the bag recorded late", () => {
    const told = [...bare, rate("07:20", 200), rate("07:40", 50)];
    const found = findings("flow-without-bag", told, "08:00");
    // 100 for a third of an hour, 200 for the next, 50 for the last.
    expect(found.map(({ subject }) => subject)).toEqual(["e2"]);
    expect(inDoubt(found[0]!)).toBeCloseTo(116.667, 3);
    expect(findings("flow-without-bag", [...told, hang("07:00", "b", 500)], "08:00")).toEqual([]);
  });

  it("says until when, once a bag hangs", () => {
    const [found] = findings("flow-without-bag", [...bare, hang("08:00", "b", 500)], "09:00");
    expect(found!.end).toBe(at("08:00"));
    expect(inDoubt(found!)).toBe(100);
  });
});

describe("an end that nothing confirms", () => {
  const some = [pump("07:00"), hang("07:00", "saline-1", 1000), startWith(100, { volumeToInfuse: mL(100) })];

  it("is found when 15 minutes have passed", () => {
    expect(findings("end-unconfirmed", some, "08:15")).toEqual([]);
    const [found] = findings("end-unconfirmed", some, "08:16");
    expect(found).toMatchObject({ subject: "e3", start: at("08:00"), end: at("08:16") });
    expect(found!.sentence).toBe(
      "The flow on pump-1 was computed to end at 08:00, and nothing recorded until 08:16 says so: what flowed in that time, 16 min, is not known.",
    );
  });

  it("stays when an entry came too late, and goes with the end it proposes", () => {
    const late = [...some, hang("09:00", "saline-2", 500)];
    const [found] = findings("end-unconfirmed", late, "10:00");
    expect(found).toMatchObject({ subject: "e3", start: at("08:00"), end: at("09:00") });
    expect(found!.settledBy[0]!.proposals).toEqual([
      { do: "record", entry: { kind: "flow-stopped", at: at("08:00"), channel: "pump-1" } },
    ]);
    expect(findings("end-unconfirmed", [...late, on("08:00", "flow-stopped")], "10:00")).toEqual([]);
  });

  it("goes when a reading says what was delivered over it", () => {
    const told = [pump("07:00"), hang("07:00", "saline-1", 100), start("07:00", 100)];
    expect(findings("end-unconfirmed", [...told, read("08:30", 100)], "08:30")).toEqual([]);
  });

  it("is told by a reading that disagrees over it, of the same total: the next bag nobody charted", () => {
    const told = [pump("07:00"), hang("07:00", "saline-1", 100), start("07:00", 100)];
    const next = read("09:00", 200, { confirmed: true });
    expect(codes([...told, next], "09:00")).toEqual(["reading-disagrees"]);
    const decided = read("09:00", 200, { settled: "computed" });
    expect(codes([...told, decided], "09:00")).toEqual(["end-unconfirmed"]);
    const other = read("09:00", 60, { total: "secondary", confirmed: true });
    expect(codes([...told, other], "09:00")).toEqual(["reading-disagrees", "end-unconfirmed"]);
  });

  it("of a flow from before the evidence hangs on what told its bag's contents", () => {
    const known = evidence(some, "09:00");
    const found = findingsIn({ ...known, collected: { ...known.collected, flows: [] } }, "asking");
    const ends = found.filter(({ code }) => code === "end-unconfirmed");
    expect(ends.map(({ subject }) => subject)).toEqual(["e2"]);
  });

  it("of a secondary is ended as a secondary", () => {
    const alone = [pump("07:00"), hang("07:00", "antibiotic", 100, "secondary"), secondary("07:00", 200)];
    const [found] = findings("end-unconfirmed", [...alone, hang("08:30", "saline-1", 500)], "09:00");
    expect(found!.settledBy[0]!.proposals).toEqual([
      { do: "record", entry: { kind: "secondary-ended", at: at("07:30"), channel: "pump-1" } },
    ]);
  });

  it("of a flow that had nothing to give is told by that", () => {
    const empty = [...some, on("08:00", "flow-stopped"), startAgainWithNothing("08:00")];
    expect(findings("end-unconfirmed", empty, "09:00")).toEqual([]);
    expect(findings("entry-without-effect", empty, "09:00").map(({ subject }) => subject)).toEqual(["e5"]);
  });

  const startAgainWithNothing = (clock: string): Told => start(clock, 100, { volumeToInfuse: 0 } as never);
});

describe("a pause", () => {
  const paused = [...saline, on("08:00", "flow-paused")];

  it("is found after an hour and hangs on the pausing", () => {
    expect(findings("pause-not-ended", paused, "09:00")).toEqual([]);
    const [found] = findings("pause-not-ended", paused, "09:30");
    expect(found).toMatchObject({
      subject: "e4",
      start: at("08:00"),
      sentence: "pump-1 has been paused since 08:00, for 1 h 30 min: nothing is counted since.",
    });
  });

  it("goes on from the first of two pausings, and is over when resumed", () => {
    const twice = [...paused, on("09:10", "flow-paused")];
    expect(findings("pause-not-ended", twice, "09:30").map(({ subject }) => subject)).toEqual(["e4"]);
    expect(findings("pause-not-ended", [...paused, on("09:00", "flow-resumed")], "11:00")).toEqual([]);
  });

  it("of before the evidence hangs on what it holds", () => {
    const known = { ...evidence(paused, "11:00"), from: at("08:30"), entries: [] };
    expect(findingsIn(known, "asking")).toMatchObject([
      { code: "pause-not-ended", subject: "e3", start: at("08:30") },
    ]);
    expect(findingsIn({ ...known, from: at("10:00") }, "asking")).toEqual([]);
  });
});

describe("a keep-open rate", () => {
  const open = [
    ...saline.slice(0, 2),
    startWith(100, { volumeToInfuse: mL(100), keepOpenRate: mLPerHour(5) }),
  ];

  it("is found when it ran for more than an hour after the volume was reached", () => {
    expect(findings("keep-open-running", open, "09:00")).toEqual([]);
    const [found] = findings("keep-open-running", open, "09:01");
    expect(found).toMatchObject({ subject: "e3", start: at("08:00") });
    expect(found!.sentence).toBe(
      "pump-1 gave its volume at 08:00 and has run at its keep-open rate for 1 h 1 min.",
    );
  });

  it("begins anew with a new volume to infuse", () => {
    const more = on("08:30", "volume-to-infuse-set", { role: "primary", volumeToInfuse: mL(100) });
    // The second 100 mL are given at 09:30.
    expect(findings("keep-open-running", [...open, more], "10:15")).toEqual([]);
    expect(findings("keep-open-running", [...open, more], "10:31").map(({ start }) => start)).toEqual([
      at("09:30"),
    ]);
  });
});

describe("a secondary that should be over", () => {
  it("is one without a limit after four hours", () => {
    const told = [
      ...saline,
      hang("08:00", "drug", 1000, "secondary"),
      secondary("08:00", 20, { volumeToInfuse: "none" }),
    ];
    expect(findings("secondary-not-ended", told, "12:00")).toEqual([]);
    expect(findings("secondary-not-ended", told, "12:01")).toMatchObject([
      { subject: "e5", start: at("08:00") },
    ]);
    const limited = [...told.slice(0, 4), secondary("08:00", 20)];
    expect(findings("secondary-not-ended", limited, "12:01")).toEqual([]);
  });

  it("is one that is done while the channel waits for somebody, and then tells the end as well", () => {
    const told = [
      ...saline,
      hang("08:00", "antibiotic", 100, "secondary"),
      secondary("08:00", 200, { whenDone: "wait" }),
    ];
    expect(codes(told, "08:45")).toEqual([]);
    expect(codes(told, "08:46")).toEqual(["secondary-not-ended"]);
    const [found] = findings("secondary-not-ended", told, "08:46");
    expect(found).toMatchObject({ subject: "e5", start: at("08:30") });
    expect(found!.sentence).toBe(
      "The secondary on pump-1 was done at 08:30, and the channel has waited for 16 min to be resumed.",
    );
    expect(findings("secondary-not-ended", [...told, on("08:40", "flow-resumed")], "09:30")).toEqual([]);
  });
});

describe("flows that nobody attends to", () => {
  const both = [
    ...saline,
    pump("07:05", "pump-2"),
    hang("07:05", "saline-2", 1000, "primary", "pump-2"),
    start("07:05", 50, {}, "pump-2"),
  ];

  it("are one finding of the stay, four hours after the last entry was recorded", () => {
    expect(findings("flow-unattended", both, "11:06")).toEqual([]);
    const [found, ...more] = findings("flow-unattended", both, "11:07");
    expect(more).toEqual([]);
    expect(found).toMatchObject({ subject: "e6", channel: null, start: at("07:06") });
    expect(found!.sentence).toBe(
      "Nobody has recorded anything since 07:06, for 4 h 1 min, while pump-1, pump-2 run.",
    );
  });

  it("are none below 10 mL/h, nor when everything stands still", () => {
    const slow = (rate: number) => [...saline.slice(0, 2), start("07:00", rate)];
    expect(findings("flow-unattended", slow(9.9), "12:00")).toEqual([]);
    expect(findings("flow-unattended", slow(10), "12:00")).toHaveLength(1);
    expect(findings("flow-unattended", [...saline, on("07:30", "flow-stopped")], "12:00")).toEqual([]);
  });

  it("were attended to by who charted late, but not by a device", () => {
    const charted = { recorded: { 2: { at: "10:00" } } };
    expect(findings("flow-unattended", saline, "12:00", charted)).toEqual([]);
    const reported = [...saline, rate("10:00", 90)];
    expect(findings("flow-unattended", reported, "12:00", { sources: { 3: "device" } })).toHaveLength(1);
  });

  it("were not seen by what is recorded only later", () => {
    const later = { recorded: { 2: { at: "20:00" } } };
    expect(findings("flow-unattended", saline, "12:00", later).map(({ start }) => start)).toEqual([
      at("07:01"),
    ]);
  });
});

describe("a line or channel taken away while it delivered", () => {
  it("is found, hung on what took it away", () => {
    const told = [...saline, on("08:00", "channel-disconnected")];
    expect(findings("line-removed-running", told, "08:00")).toMatchObject([
      {
        severity: "attention",
        subject: "e4",
        channel: "pump-1",
        sentence: "At 08:00 the channel was disconnected while it delivered (pump-1).",
      },
    ]);
    const stopped = [...saline, on("08:00", "flow-stopped"), on("08:00", "channel-disconnected")];
    expect(findings("line-removed-running", stopped, "08:00")).toEqual([]);
  });
});
