/** One event told by a person and by a device: within three minutes it counts once. */

import { describe, expect, it } from "vitest";
import type { Flow } from "../../src/infusion/flow.js";
import { DEFAULTS, follows, hang, inMl, mL, mLPerHour, on, pump, rate, start, type Told } from "./bedside.js";

const sum = (flows: readonly Flow[], only: (flow: Flow) => boolean = () => true): number =>
  flows.filter(only).reduce((ml, flow) => ml + inMl(flow.volume), 0);
const bolus = (clock: string, volume: number, ratePerHour: number): Told =>
  on(clock, "bolus-started", { rate: mLPerHour(ratePerHour), volume: mL(volume), whenDone: "return" });

describe("one event reported by a person and by a device", () => {
  const prepared = [pump("07:00"), hang("07:00", "saline", 1000)];
  const both = (entries: Told[], devices: number[], until: string) =>
    follows(
      [...prepared, ...entries],
      until,
      DEFAULTS,
      Object.fromEntries(devices.map((i) => [prepared.length + i, "device" as const])),
    );
  const codes = (notes: readonly { code: string; entry: string }[]) =>
    notes.map(({ code, entry }) => [code, entry]);

  it("within three minutes counts once, from the earlier time", () => {
    const { flows, notes } = both([start("07:00", 60), start("07:03", 60)], [1], "08:00");
    expect(sum(flows)).toBe(60);
    expect(codes(notes)).toEqual([["reported-twice", "e4"]]);
  });

  it("counts from the earlier time also when that report was recorded last", () => {
    const { flows, notes } = both([start("07:03", 60), start("07:00", 60)], [1], "08:00");
    expect(sum(flows)).toBe(60);
    expect(codes(notes)).toEqual([["reported-twice", "e3"]]);
  });

  it("a bolus reported three minutes and a second apart was given twice", () => {
    const twice = [start("07:00", 60), bolus("08:00", 10, 600), bolus("08:03:01", 10, 600)];
    expect(sum(both(twice, [2], "09:00").flows, ({ role }) => role === "bolus")).toBe(20);
  });

  it("a bolus charted twice by the nurse was given twice", () => {
    const twice = [start("07:00", 60), bolus("08:00", 10, 600), bolus("08:02", 10, 600)];
    expect(sum(both(twice, [], "09:00").flows, ({ role }) => role === "bolus")).toBe(20);
  });

  it("two boluses two minutes apart, each reported by both, are two", () => {
    const four = [
      start("07:00", 60),
      bolus("08:00", 10, 600),
      bolus("08:00:10", 10, 600),
      bolus("08:02", 10, 600),
      bolus("08:02:10", 10, 600),
    ];
    const { flows, notes } = both(four, [2, 4], "09:00");
    expect(sum(flows, ({ role }) => role === "bolus")).toBe(20);
    expect(codes(notes)).toEqual([
      ["reported-twice", "e5"],
      ["reported-twice", "e7"],
    ]);
  });

  it("a report has one twin: what the device reports again is another bolus", () => {
    const three = [
      start("07:00", 60),
      bolus("08:00", 10, 600),
      bolus("08:00:10", 10, 600),
      bolus("08:02", 10, 600),
    ];
    expect(sum(both(three, [2, 3], "09:00").flows, ({ role }) => role === "bolus")).toBe(20);
  });

  it("another value, another kind or another channel is another event", () => {
    const others = [
      start("07:00", 60),
      rate("08:00", 90),
      rate("08:01", 120),
      on("08:31", "flow-paused"),
      on("08:32", "flow-resumed"),
    ];
    const { flows, notes } = both(others, [2, 4], "09:02");
    // 60, a minute at 90, half an hour at 120, a minute of pause, half an hour at 120.
    expect(sum(flows)).toBe(60 + 1.5 + 60 + 60);
    expect(notes).toEqual([]);
  });

  it("a pause, a resume and a pause, each reported by both, end in a pause", () => {
    const six = ["flow-paused", "flow-resumed", "flow-paused"].flatMap((kind, i) => [
      on(`08:0${i}`, kind),
      on(`08:0${i}:05`, kind),
    ]);
    const { flows, channel } = both([start("07:00", 60), ...six], [2, 4, 6], "09:00");
    expect(sum(flows)).toBe(61);
    expect(channel("pump-1").delivering).toBe("nothing");
  });
});
