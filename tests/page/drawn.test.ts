/** Amounts as blocks, running sums as lines, and marks: what of the answers is drawn where. */

import { describe, expect, it } from "vitest";
import type { components } from "../../openapi/client.js";
import { standing } from "../../src/page/api/standing.js";
import { blockOf } from "../../src/page/api/stream.js";
import { blocksOf, heightOf } from "../../src/page/picture/amounts.js";
import { channelOf, lateAfterOf, marksOf } from "../../src/page/picture/marks.js";
import { extent, runningSums } from "../../src/page/picture/sums.js";

type Balance = components["schemas"]["ShiftBalance"];
type Entry = components["schemas"]["RecordedEntry"];

const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;
const interval = (start: string, end: string) => ({
  start: at(start),
  end: at(end),
  label: "",
  complete: true,
});

const BALANCE = {
  intervals: [interval("07:00", "07:30"), interval("07:30", "08:30"), interval("08:30", "09:30")],
  intake: {
    rows: [
      {
        key: "iv-fluid",
        parts: [{ role: "primary", channel: null, volumes: [50, 100, null] }],
      },
      { key: "oral", parts: [{ role: null, channel: null, volumes: [30, 0, null] }] },
    ],
    sums: [80, 100, null],
  },
  output: {
    rows: [
      { key: "urine", volumes: [0, 120, null] },
      { key: "drain", volumes: [-10, 40, null] },
    ],
    sums: [-10, 160, null],
  },
  net: [90, -60, null],
} as unknown as Balance;

describe("amounts as blocks", () => {
  const blocks = blocksOf(BALANCE);

  it("are what was measured, not what channels gave", () => {
    expect(blocks.filter(({ side }) => side === "intake").map(({ category }) => category)).toEqual(["oral"]);
  });

  it("are as wide as their hour, so that their area is their volume", () => {
    for (const { start, end, rate, volume } of blocks)
      expect((rate * (end - start)) / 3_600_000).toBe(volume);
    // 30 mL in half an hour stand as high as 60 mL/h.
    expect(heightOf(blocks, "intake")).toBe(60);
  });

  it("lie on one another, and less than nothing has no area", () => {
    expect(
      blocks.filter(({ side }) => side === "output").map(({ category, floor }) => [category, floor]),
    ).toEqual([
      ["urine", 0],
      ["drain", 120],
    ]);
  });
});

describe("running sums", () => {
  const sums = runningSums(BALANCE, at("08:10"));

  it("begin at nothing and end where the figures do", () => {
    expect(sums.net.map(({ at: when, sum }) => [when, sum])).toEqual([
      [Date.parse(at("07:00")), 0],
      [Date.parse(at("07:30")), 90],
      [Date.parse(at("08:10")), 30],
    ]);
  });

  it("need room from the least to the most of all three", () => {
    expect(extent(sums)).toEqual({ least: -10, most: 180 });
  });
});

function entry(id: string, kind: Entry["kind"], fields: object, recordedAt = at("08:00")): Entry {
  const recorded = { sequence: 1, at: recordedAt, state: "current", source: "person", digest: "" };
  return { id, kind, at: at("08:00"), ...fields, recorded } as unknown as Entry;
}

describe("marks", () => {
  it("are for bags, readings and clears, and for whatever was charted late", () => {
    const entries = [
      entry("hang", "bag-hung", { bag: "saline-1", channel: "pump-1" }),
      entry("rate", "rate-changed", { channel: "pump-1", rate: 80 }),
      entry("read", "total-read", { channel: "pump-1" }, at("10:30")),
      entry("rate-late", "rate-changed", { channel: "pump-1", rate: 80 }, at("10:30")),
    ];
    expect(
      marksOf(entries, lateAfterOf("PT2H")).map((mark) => [mark.entry.id, mark.kind, mark.late]),
    ).toEqual([
      ["hang", "bag", null],
      ["read", "reading", Date.parse(at("10:30"))],
      ["rate-late", "other", Date.parse(at("10:30"))],
    ]);
  });

  it("stand at the channel on which the bag hangs", () => {
    const hangings = [
      entry("first", "bag-hung", { at: at("07:00"), bag: "saline-1", channel: "pump-1" }),
      entry("again", "bag-hung", { at: at("09:00"), bag: "saline-1", channel: "pump-2" }),
    ];
    const level = (clock: string) => entry("level", "bag-level-read", { at: at(clock), bag: "saline-1" });
    expect([level("08:00"), level("09:30")].map((one) => channelOf(one, hangings))).toEqual([
      "pump-1",
      "pump-2",
    ]);
    expect(channelOf(entry("urine", "output-measured", { category: "urine" }), hangings)).toBeNull();
  });

  it("know a unit's lateness, an ISO 8601 duration", () => {
    expect([lateAfterOf("PT2H"), lateAfterOf("PT1H30M"), lateAfterOf("P1D")]).toEqual([
      7_200_000, 5_400_000, 86_400_000,
    ]);
  });
});

describe("entries as they stand", () => {
  const state = (one: Entry, to: string): Entry => ({
    ...one,
    recorded: { ...one.recorded, state: to as "current" },
  });
  const amendment = (id: string, clock: string) =>
    entry(id, "entry-amended", {
      at: undefined,
      entry: "rate",
      replacement: { kind: "rate-changed", at: at(clock), channel: "pump-1", rate: 90 },
    });

  it("are without the voided, and amended as they were last", () => {
    const entries = [
      state(entry("rate", "rate-changed", { at: at("07:10"), rate: 80 }), "amended"),
      state(entry("wrong", "rate-changed", { at: at("07:20"), rate: 8 }), "voided"),
      entry("read", "total-read", { at: at("07:30") }),
    ];
    const corrections = [state(amendment("one", "07:40"), "amended"), amendment("two", "07:50")];
    expect(standing(entries, corrections).map((one) => [one.id, one.at, one.rate])).toEqual([
      ["read", at("07:30"), undefined],
      ["rate", at("07:50"), 90],
    ]);
  });
});

describe("a block of the stream", () => {
  it("is an event, a place, or nothing", () => {
    expect(blockOf('data: {"encounter":"a","sequence":5}\nid: 17')).toEqual({
      data: '{"encounter":"a","sequence":5}',
      id: "17",
    });
    expect(blockOf("retry: 1000\nid: 3")).toEqual({ data: null, id: "3" });
    expect(blockOf(":")).toEqual({ data: null, id: null });
  });
});
