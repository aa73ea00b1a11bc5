/** Unusual sequences at the bedside; expected volumes are hand arithmetic. */

import { describe, expect, it } from "vitest";
import type { Flow } from "../../src/infusion/flow.js";
import { plus } from "../../src/infusion/quantity.js";
import { at, follows, hang, inMl, mL, mLPerHour, on, pump, start, type Told } from "./bedside.js";

const sum = (flows: readonly Flow[], only: (flow: Flow) => boolean = () => true): number =>
  flows.filter(only).reduce((ml, flow) => ml + inMl(flow.volume), 0);
/** Flows in words, neighbours of one kind taken together: "primary saline 100 from 07:00". */
function inWords(flows: readonly Flow[]): string[] {
  const words: string[] = [];
  let last: Flow | undefined;
  let volume = 0;
  const say = () => {
    if (last !== undefined) words.push(`${last.role} ${last.bag} ${volume}`);
  };
  for (const flow of flows) {
    const same = last?.role === flow.role && last.bag === flow.bag && last.channel === flow.channel;
    if (!same) say();
    volume = (same ? volume : 0) + inMl(flow.volume);
    last = flow;
  }
  say();
  return words;
}
const minutes = (spans: readonly { start: number; end: number }[]): number[] =>
  spans.map(({ start: from, end }) => (end - from) / 60_000);

const told = (clock: string, kind: string, more: object = {}): Told => ({ at: clock, kind, ...more }) as Told;
const secondary = (
  clock: string,
  ratePerHour: number,
  volumeToInfuse: number | "bag" | "none",
  whenDone = "resume-primary",
) => on(clock, "secondary-started", { rate: mLPerHour(ratePerHour), volumeToInfuse, whenDone });
const bolus = (clock: string, volume: number, ratePerHour: number, whenDone = "return") =>
  on(clock, "bolus-started", { rate: mLPerHour(ratePerHour), volume: mL(volume), whenDone });
const running = [pump("07:00"), hang("07:00", "saline", 1000), start("07:00", 100)];

describe("what ends by itself in the very minute something is charted", () => {
  const asks = [
    ...running,
    hang("09:00", "antibiotic", 100, "secondary"),
    secondary("09:00", 200, "bag", "wait"),
  ];

  it("09:30 the secondary is done and asks, 09:30 resumed: the primary goes on", () => {
    const { flows, notes } = follows([...asks, on("09:30", "flow-resumed")], "10:30");
    expect(inWords(flows)).toEqual(["primary saline 200", "secondary antibiotic 100", "primary saline 100"]);
    expect(notes).toEqual([]);
  });

  it.each([
    ["the line is removed", told("09:00", "line-removed", { line: "forearm" })],
    ["the channel is disconnected", on("09:00", "channel-disconnected")],
    ["the stay ends", told("09:00", "discharged")],
  ])("09:00 the volume to infuse is reached and %s: nothing was running", (_, entry) => {
    const done = [...running.slice(0, 2), start("07:00", 100, { volumeToInfuse: mL(200) })];
    const { flows, notes } = follows([...done, entry], "10:00");
    expect(sum(flows)).toBe(200);
    expect(notes).toEqual([]);
  });

  it("08:00 the bag has given its volume and the next one is hung: the flow goes on", () => {
    const small = [pump("07:00"), hang("07:00", "first", 100), start("07:00", 100)];
    const { flows } = follows([...small, hang("08:00", "second", 500)], "09:00");
    expect(inWords(flows)).toEqual(["primary first 100", "primary second 100"]);
  });

  it("a bolus that uses up the volume to infuse leaves nothing of the primary", () => {
    const limited = [...running.slice(0, 2), start("07:00", 100, { volumeToInfuse: mL(130) })];
    const { flows, channel } = follows([...limited, bolus("08:00", 30, 300)], "10:00");
    expect(inWords(flows)).toEqual(["primary saline 100", "bolus saline 30"]);
    expect(channel("pump-1").delivering).toBe("nothing");
  });
});

describe("a bag that moves", () => {
  const two = [...running, pump("07:00", "pump-2", "hand")];

  it("to another channel: there it gives what it still holds, here nothing flows", () => {
    const moved = [
      ...two,
      hang("10:00", "saline", 1000, "primary", "pump-2"),
      start("10:00", 50, {}, "pump-2"),
    ];
    const { flows, channel, state } = follows(moved, "12:00");
    expect(sum(flows, (flow) => flow.channel === "pump-1")).toBe(300);
    expect(sum(flows, (flow) => flow.channel === "pump-2" && flow.line === "hand")).toBe(100);
    expect(channel("pump-1").delivering).toBe("nothing");
    expect(inMl(channel("pump-2").flow!.left!)).toBe(600);
    expect(state.bags.get("saline")?.channel).toBe("pump-2");
  });

  it("to another channel and back: the volume to infuse is what it then holds", () => {
    const back = [
      ...two,
      hang("10:00", "saline", 1000, "primary", "pump-2"),
      start("10:00", 300, {}, "pump-2"),
      hang("11:00", "saline", 1000),
      start("11:00", 200),
    ];
    const { flows } = follows(back, "20:00");
    expect(sum(flows, (flow) => flow.channel === "pump-2")).toBe(300);
    expect(sum(flows, (flow) => flow.channel === "pump-1")).toBe(300 + 400);
  });

  it("from secondary to primary of one channel: the secondary is over, the primary draws what is left", () => {
    const moved = [
      ...running,
      hang("09:00", "antibiotic", 100, "secondary"),
      secondary("09:00", 150, "bag"),
      hang("09:20", "antibiotic", 100, "primary"),
    ];
    const { flows } = follows(moved, "12:00");
    expect(inWords(flows)).toEqual([
      "primary saline 200",
      "secondary antibiotic 50",
      "primary antibiotic 50",
    ]);
  });

  it("replaced and hung again, it holds what it held", () => {
    const again = [...running, hang("08:00", "other", 500), hang("09:00", "saline", 1000)];
    const { flows, channel } = follows(again, "10:00");
    expect(inWords(flows)).toEqual(["primary saline 100", "primary other 100", "primary saline 100"]);
    expect(inMl(channel("pump-1").flow!.left!)).toBe(800);
  });

  it("hung before its channel is connected, it is what the channel draws from", () => {
    const early = [hang("06:50", "saline", 1000), pump("07:00"), start("07:00", 100)];
    expect(inWords(follows(early, "08:00").flows)).toEqual(["primary saline 100"]);
  });
});

describe("a flush: a secondary without a bag", () => {
  it("while the primary is paused: takes over, then the primary goes on", () => {
    const flush = [...running, on("09:00", "flow-paused"), secondary("09:30", 120, mL(20))];
    const { flows, channel } = follows(flush, "10:40");
    expect(inWords(flows)).toEqual(["primary saline 200", "secondary saline 20", "primary saline 100"]);
    expect(channel("pump-1").totals.map(({ expected }) => inMl(expected))).toEqual([300, 20]);
  });

  it("paused halfway holds its place before the primary", () => {
    const flush = [
      ...running,
      secondary("09:00", 120, mL(20)),
      on("09:05", "flow-paused"),
      on("09:30", "flow-resumed"),
    ];
    expect(inWords(follows(flush, "10:35").flows)).toEqual([
      "primary saline 200",
      "secondary saline 20",
      "primary saline 100",
    ]);
  });

  it("ends when the primary's bag comes down", () => {
    const flush = [
      ...running,
      secondary("09:00", 120, mL(20)),
      told("09:05", "bag-taken-down", { bag: "saline" }),
    ];
    const { flows, channel } = follows(flush, "10:00");
    expect(inWords(flows)).toEqual(["primary saline 200", "secondary saline 10"]);
    expect(channel("pump-1").delivering).toBe("nothing");
  });

  it("goes on from the bag that replaces the primary's", () => {
    const flush = [...running, secondary("09:00", 120, mL(20)), hang("09:05", "other", 500)];
    expect(inWords(follows(flush, "10:10").flows)).toEqual([
      "primary saline 200",
      "secondary saline 10",
      "secondary other 10",
      "primary other 100",
    ]);
  });
});

describe("a secondary whose own bag is empty", () => {
  it("ends with the primary's bag it was drawing from", () => {
    const spent = [
      ...running,
      hang("09:00", "antibiotic", 100, "secondary"),
      secondary("09:00", 110, mL(300)),
      told("10:30", "bag-taken-down", { bag: "saline" }),
    ];
    const { flows, channel } = follows(spent, "12:00");
    expect(inWords(flows)).toEqual(["primary saline 200", "secondary antibiotic 110", "secondary saline 55"]);
    expect(channel("pump-1").delivering).toBe("nothing");
  });
});

describe("a bolus", () => {
  it("larger than its bag: ends with the bag's capacity, and so does the primary", () => {
    const small = [pump("07:00"), hang("07:00", "small", 100), start("07:00", 40)];
    const { flows, notes, channel } = follows([...small, bolus("08:00", 100, 600)], "10:00");
    expect(inWords(flows)).toEqual(["primary small 40", "bolus small 70"]);
    expect(notes.map(({ code, at: when, entry }) => [code, when, entry])).toEqual([
      ["bag-overdrawn", at("08:06"), "e4"],
    ]);
    expect(inMl(channel("pump-1").totals[0]!.expected)).toBe(110);
    expect(channel("pump-1").delivering).toBe("nothing");
  });

  it("larger than what is left to infuse: is given whole, then nothing flows", () => {
    const limited = [...running.slice(0, 2), start("07:00", 100, { volumeToInfuse: mL(120) })];
    const { flows } = follows([...limited, bolus("08:00", 50, 300)], "12:00");
    expect(inWords(flows)).toEqual(["primary saline 100", "bolus saline 50"]);
  });

  it("that asked for a person, over a secondary, is stopped with the primary: the secondary finishes", () => {
    const over = [
      ...running,
      hang("09:00", "antibiotic", 100, "secondary"),
      secondary("09:00", 150, "bag"),
      bolus("09:20", 30, 60, "wait"),
      on("09:30", "flow-stopped"),
    ];
    const { flows, channel } = follows(over, "12:00");
    expect(inWords(flows)).toEqual([
      "primary saline 200",
      "secondary antibiotic 50",
      "bolus saline 10",
      "secondary antibiotic 50",
    ]);
    expect(channel("pump-1").delivering).toBe("nothing");
  });

  it("over a secondary when the therapy changes: all ends, both totals clear, the bags keep what they hold", () => {
    const changed = [
      ...running,
      hang("09:00", "antibiotic", 100, "secondary"),
      secondary("09:00", 150, "bag"),
      bolus("09:20", 30, 60),
      on("09:30", "therapy-changed"),
      start("10:00", 50),
    ];
    const { flows, channel, state } = follows(changed, "11:00");
    expect(inWords(flows)).toEqual([
      "primary saline 200",
      "secondary antibiotic 50",
      "bolus saline 10",
      "primary saline 50",
    ]);
    expect(channel("pump-1").totals.map(({ expected }) => inMl(expected))).toEqual([50, 0]);
    expect([...state.bags].map(([key, { holds }]) => [key, inMl(holds)])).toEqual([
      ["saline", 740],
      ["antibiotic", 50],
    ]);
    expect(inMl(channel("pump-1").flow!.left!)).toBe(740);
  });
});

describe("a keep-open rate", () => {
  const ready = [pump("07:00"), hang("07:00", "small", 300)];

  it("runs on into the overfill and ends with it; the first drop beyond the label is noted once", () => {
    const { flows, notes, channel } = follows(
      [...ready, start("07:00", 300, { keepOpenRate: mLPerHour(15) })],
      "11:00",
    );
    expect(inWords(flows)).toEqual(["primary small 300", "keep-open small 30"]);
    expect(flows.at(-1)!.end).toBe(at("10:00"));
    expect(notes.map(({ code, at: when }) => [code, when])).toEqual([["bag-overdrawn", at("08:00")]]);
    expect(channel("pump-1").delivering).toBe("nothing");
  });

  it("above the rate that ran does not run faster than that", () => {
    const slow = start("07:00", 10, { volumeToInfuse: mL(10), keepOpenRate: mLPerHour(20) });
    expect(inWords(follows([...ready, slow], "10:00").flows)).toEqual([
      "primary small 10",
      "keep-open small 20",
    ]);
  });
});

describe("what a bag is said to hold", () => {
  it("withdrawn from below nothing, then delivering, is noted as more than it held", () => {
    const drawn = [
      pump("07:00"),
      hang("07:00", "small", 300),
      start("07:00", 90, { volumeToInfuse: "none" }),
      told("10:00", "bag-adjusted", { bag: "small", volume: mL(-50) }),
    ];
    const { flows, notes } = follows(drawn, "12:00");
    expect(sum(flows)).toBe(280);
    expect(notes.map(({ code, entry }) => [code, entry])).toEqual([["bag-overdrawn", "e4"]]);
  });
});

describe("a line removed while paused", () => {
  it("ends what was held, finds nothing running, and a resume after it changes nothing", () => {
    const removed = [
      ...running,
      on("09:00", "flow-paused"),
      told("09:10", "line-removed", { line: "forearm" }),
      on("09:20", "flow-resumed"),
    ];
    const { flows, notes } = follows(removed, "12:00");
    expect(sum(flows)).toBe(200);
    expect(notes.map(({ code, entry }) => [code, entry])).toEqual([["entry-without-effect", "e6"]]);
  });

  it("ends every channel on it and no other", () => {
    const three = [
      ...running,
      pump("07:00", "pump-2"),
      start("07:00", 50, {}, "pump-2"),
      pump("07:00", "pump-3", "hand"),
      start("07:00", 10, {}, "pump-3"),
      told("09:00", "line-removed", { line: "forearm" }),
    ];
    const { flows, notes } = follows(three, "12:00");
    expect(["pump-1", "pump-2", "pump-3"].map((key) => sum(flows, (flow) => flow.channel === key))).toEqual([
      200, 100, 50,
    ]);
    expect(notes.map(({ code, channel }) => [code, channel])).toEqual([
      ["line-removed-running", "pump-1"],
      ["line-removed-running", "pump-2"],
    ]);
  });
});

describe("a channel connected again", () => {
  it("to another line in the middle of a bolus: each line has what flowed while it was connected", () => {
    const moved = [...running, bolus("08:00", 30, 60), pump("08:10", "pump-1", "hand")];
    const { flows, notes } = follows(moved, "09:30");
    const on = (line: string, role: string) => sum(flows, (flow) => flow.line === line && flow.role === role);
    expect([on("forearm", "primary"), on("forearm", "bolus")]).toEqual([100, 10]);
    expect([on("hand", "bolus"), on("hand", "primary")]).toEqual([20, 100]);
    expect(notes).toEqual([]);
  });

  it("after a pause with the line off keeps its total, and its bag", () => {
    const again = [...running, on("08:00", "channel-disconnected"), pump("09:00"), start("09:00", 50)];
    const { flows, channel } = follows(again, "10:00");
    expect(inWords(flows)).toEqual(["primary saline 150"]);
    expect(inMl(channel("pump-1").totals[0]!.expected)).toBe(150);
  });
});

describe("what clears totals", () => {
  const clearing = (...clearsOn: string[]) => [
    { ...pump("07:00"), clearsOn } as Told,
    hang("07:00", "saline", 1000),
    start("07:00", 100),
  ];
  const totals = (entries: Told[], until: string) => {
    const { counters } = follows(entries, until).state.channels.get("pump-1")!;
    return Object.values(counters).map(({ base, since }) => inMl(plus(base, since)));
  };

  it("a disconnection, only where the device does that", () => {
    const off = on("08:00", "channel-disconnected");
    expect(totals([...clearing("disconnect"), off], "09:00")).toEqual([0, 0]);
    expect(totals([...clearing("therapy-change"), off], "09:00")).toEqual([100, 0]);
  });

  it("another device, also when a connection in between did not name it", () => {
    const named = (clock: string, device: string) => ({ ...pump(clock), device }) as Told;
    const again = [named("07:00", "device-1"), ...running.slice(1), pump("08:00", "pump-1", "hand")];
    expect(totals([...again, named("09:00", "device-1")], "09:00")).toEqual([200, 0]);
    expect(totals([...again, named("09:00", "device-2")], "09:00")).toEqual([0, 0]);
  });

  it("a change of therapy, only where the device does that", () => {
    const change = on("08:00", "therapy-changed");
    expect(totals([...clearing(), change], "09:00")).toEqual([100, 0]);
  });

  it("a new secondary clears the secondary total alone", () => {
    const twice = [
      ...clearing("new-secondary"),
      secondary("08:00", 120, mL(20)),
      secondary("09:00", 120, mL(10)),
    ];
    // Primary: 07:00–08:00 and 08:10–09:00 at 100 mL/h, then 09:05–10:05 again.
    expect(totals(twice, "09:02")).toEqual([183.333, 4]);
    expect(totals(twice, "10:05")).toEqual([283.333, 10]);
  });

  it("a reading stands, and only what flowed since is at risk", () => {
    const read = on("08:30", "total-read", { total: "primary", volume: mL(148) });
    const [primary, other] = follows([...running, read], "09:00").channel("pump-1").totals;
    expect([inMl(primary!.lastReading!), inMl(primary!.expected), inMl(primary!.atRisk)]).toEqual([
      148, 198, 50,
    ]);
    expect(primary!.since).toBe(at("08:30"));
    expect(other!.lastReading).toBeNull();
  });

  it("a combined total counts primary, secondary and bolus together", () => {
    const combined = [
      { ...pump("07:00"), totals: "combined" } as Told,
      ...running.slice(1),
      secondary("08:00", 120, mL(20)),
      bolus("08:20", 10, 60),
    ];
    const [total] = follows(combined, "08:40").channel("pump-1").totals;
    // 100 before the secondary, 20 of it, 10 minutes of primary, the bolus, 10 minutes of primary.
    expect([total!.total, inMl(total!.expected)]).toEqual(["combined", 163.333]);
  });
});

describe("an end that was computed", () => {
  const done = [...running.slice(0, 2), start("07:00", 100, { volumeToInfuse: mL(200) })];

  it("is confirmed by an entry on the channel within a quarter of an hour, and by none a second later", () => {
    expect(follows([...done, on("09:15", "flow-stopped")], "12:00").unknown).toEqual([]);
    const late = follows([...done, on("09:15:01", "flow-stopped")], "12:00").unknown;
    expect(minutes(late)).toEqual([15 + 1 / 60]);
  });

  it("is confirmed by the level of the bag that hangs on the channel, once for all", () => {
    const level = told("09:10", "bag-level-read", { bag: "saline", remaining: mL(800) });
    expect(follows([...done, level, start("11:00", 50)], "12:00").unknown).toEqual([]);
  });
});

describe("away, nobody knows of the flows", () => {
  const leave = (clock: string) => told(clock, "away-started", { flows: "unknown" });
  const back = (clock: string) => told(clock, "away-ended");

  it("an end computed before leaving stays unconfirmed, the return does not confirm it", () => {
    const ended = [
      ...running.slice(0, 2),
      start("07:00", 100, { volumeToInfuse: mL(200) }),
      leave("09:10"),
      back("10:00"),
      on("10:40", "flow-stopped"),
    ];
    const { flows, unknown } = follows(ended, "12:00");
    expect(sum(flows)).toBe(200);
    expect(unknown.map(({ reason }) => reason)).toEqual(["end-unconfirmed"]);
    expect(minutes(unknown)).toEqual([100]);
  });

  it("an end that would fall into the time away is not computed in it", () => {
    const pending = [
      ...running.slice(0, 2),
      start("07:00", 100, { volumeToInfuse: mL(250) }),
      leave("09:00"),
      back("10:00"),
    ];
    const { flows, unknown } = follows(pending, "10:00");
    expect(sum(flows)).toBe(200);
    expect(unknown.map(({ reason }) => reason)).toEqual(["away"]);
    expect(minutes(unknown)).toEqual([60]);
  });

  it("leaving twice in a row: every minute of both is unknown once", () => {
    const twice = [...running, leave("08:00"), leave("08:30"), back("09:00")];
    const { flows, unknown } = follows(twice, "10:00");
    expect(sum(flows)).toBe(200);
    expect(minutes(unknown).reduce((all, each) => all + each, 0)).toBe(60);
  });

  it("what is stopped while away, and started again after it, is known from then on", () => {
    const stopped = [
      ...running,
      leave("08:00"),
      on("08:20", "flow-stopped"),
      back("09:00"),
      start("09:00", 50),
    ];
    const { flows, unknown } = follows(stopped, "10:00");
    expect(minutes(unknown)).toEqual([20]);
    expect(sum(flows)).toBe(150);
  });
});

describe("what was typed in the wrong order, or finds nothing left", () => {
  it("a start typed before the channel and the bag of that minute has its effect", () => {
    const { flows, notes } = follows(
      [start("07:00", 100), hang("07:00", "saline", 1000), pump("07:00")],
      "08:00",
    );
    expect(inWords(flows)).toEqual(["primary saline 100"]);
    expect(notes).toEqual([]);
  });

  it("a resume after a held secondary was ended, and nothing else is left, changes nothing", () => {
    const alone = [
      pump("07:00"),
      hang("07:00", "antibiotic", 100, "secondary"),
      secondary("07:00", 100, "bag"),
      on("07:30", "flow-paused"),
      on("07:40", "secondary-ended"),
      on("07:50", "flow-resumed"),
    ];
    const { flows, notes } = follows(alone, "09:00");
    expect(sum(flows)).toBe(50);
    expect(notes.map(({ code, entry }) => [code, entry])).toEqual([["entry-without-effect", "e6"]]);
  });
});
