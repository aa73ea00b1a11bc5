/** The course of a channel, in the trade's words; expected volumes are hand arithmetic. */

import { describe, expect, it } from "vitest";
import type { Flow } from "../../src/infusion/flow.js";
import { follows, hang, inMl, mL, mLPerHour, on, pump, rate, start } from "./bedside.js";

const sum = (flows: readonly Flow[], role?: string): number =>
  flows
    .filter((flow) => role === undefined || flow.role === role)
    .reduce((ml, flow) => ml + inMl(flow.volume), 0);

describe("a maintenance infusion", () => {
  const shift = [pump("07:00"), hang("07:00", "saline-1", 1000), start("07:00", 75)];

  it("07:00 start 75, 09:30 rate 80: 10:00 has 187.5 + 40", () => {
    const { flows, channel } = follows([...shift, rate("09:30", 80)], "10:00");
    expect(sum(flows)).toBe(227.5);
    expect(inMl(channel("pump-1").flow!.left!)).toBe(772.5);
  });

  it("holds its place while paused", () => {
    const { flows } = follows([...shift, on("08:00", "flow-paused"), on("08:20", "flow-resumed")], "09:00");
    expect(sum(flows)).toBe(125);
  });

  it("ends when the bag has given its volume, and forecasts that instant before", () => {
    const told = [pump("07:00"), hang("07:00", "b", 100), start("07:00", 100)];
    expect(new Date(follows(told, "07:30").channel("pump-1").flow!.emptyAt!).toISOString()).toBe(
      "2026-03-04T08:00:00.000Z",
    );
    const after = follows(told, "08:10");
    expect(sum(after.flows)).toBe(100);
    expect(after.channel("pump-1").delivering).toBe("nothing");
  });

  it("runs on into the overfill without a limit, and no further", () => {
    const told = [pump("07:00"), hang("07:00", "b", 100), start("07:00", 100, { volumeToInfuse: "none" })];
    const { flows, notes } = follows(told, "12:00");
    expect(sum(flows)).toBe(110);
    expect(notes.map((note) => note.code)).toEqual(["bag-overdrawn"]);
  });
});

describe("a secondary on top of a primary", () => {
  const shift = [
    pump("07:00"),
    hang("07:00", "saline-1", 1000),
    start("07:00", 80),
    hang("09:00", "antibiotic", 100, "secondary"),
    on("09:00", "secondary-started", {
      rate: mLPerHour(200),
      volumeToInfuse: "bag",
      whenDone: "resume-primary",
    }),
  ];

  it("interrupts the primary for half an hour and counts apart", () => {
    const { flows, channel } = follows(shift, "10:00");
    expect(sum(flows, "secondary")).toBe(100);
    expect(sum(flows, "primary")).toBe(160 + 40);
    expect(channel("pump-1").totals.map((t) => [t.total, inMl(t.expected)])).toEqual([
      ["primary", 200],
      ["secondary", 100],
    ]);
  });

  it("draws the rest from the primary's bag when its own gives no more", () => {
    const more = [
      ...shift.slice(0, 4),
      on("09:00", "secondary-started", {
        rate: mLPerHour(200),
        volumeToInfuse: mL(150),
        whenDone: "resume-primary",
      }),
    ];
    const { flows } = follows(more, "10:00");
    expect(sum(flows, "secondary")).toBe(150);
    expect(flows.filter((f) => f.role === "secondary").map((f) => [f.bag, inMl(f.volume)])).toEqual([
      ["antibiotic", 110],
      ["saline-1", 40],
    ]);
  });
});

describe("what nobody charted", () => {
  it("a bag that ran dry leaves unknown minutes until the next entry on the channel", () => {
    const told = [pump("07:00"), hang("07:00", "b", 100), start("07:00", 100)];
    expect(follows([...told, on("08:10", "flow-stopped")], "09:00").unknown).toEqual([]);
    const { unknown } = follows([...told, on("08:40", "flow-stopped")], "09:00");
    expect(unknown.map((u) => [u.reason, (u.end - u.start) / 60_000])).toEqual([["end-unconfirmed", 40]]);
  });
});
