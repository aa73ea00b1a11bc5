/** Lanes: the answers for one shift put together, one lane per line on which anything is to be drawn. */

import { describe, expect, it } from "vitest";
import type { components } from "../../openapi/client.js";
import { lanesOf } from "../../src/page/picture/lanes.js";

type Flow = components["schemas"]["Flow"];
type Flows = components["schemas"]["Flows"];
type UnknownSpan = components["schemas"]["UnknownSpan"];

const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;

function flow(channel: string, line: string, from: string, to: string, rate: number | null): Flow {
  const fluid = { name: "Sodium chloride 0.9 %", category: "iv-fluid" } as const;
  const what = { channel, line, bag: "saline-1", fluid, role: "primary", basis: "computed" } as const;
  return { ...what, start: at(from), end: at(to), rate, volume: 0, delivered: 0 };
}

function unknown(channel: string, line: string, from: string, to: string): UnknownSpan {
  const what = { channel, line, bag: null, role: "primary", reason: "end-unconfirmed" } as const;
  return { ...what, start: at(from), end: at(to) };
}

function flows(all: Flow[], gaps: UnknownSpan[] = []): Flows {
  const asOf = { sequence: 1, recordedAt: at("07:00"), digest: "", calculation: "1" };
  const period = { zone: "America/Chicago", from: at("07:00"), to: at("19:00"), asOf, until: at("19:00") };
  return { ...period, flows: all, unattributed: [], unknown: gaps };
}

const LINES = {
  rows: [
    { key: "forearm", label: "Left forearm 20 G" },
    { key: "jugular", label: "Right jugular" },
  ],
};

describe("the lanes of a shift", () => {
  it("stand in the order of the table and bear its labels", () => {
    const answer = flows([
      flow("syringe-1", "jugular", "07:00", "19:00", 4),
      flow("pump-1", "forearm", "07:00", "19:00", 75),
    ]);
    expect(lanesOf(answer, LINES).map((lane) => lane.label)).toEqual(["Left forearm 20 G", "Right jugular"]);
  });

  it("leave out a line on which nothing flowed, and keep one the table does not name", () => {
    const lanes = lanesOf(flows([flow("pump-9", "femoral", "07:00", "08:00", 10)]), LINES);
    expect(lanes.map((lane) => [lane.key, lane.label])).toEqual([["femoral", "femoral"]]);
  });

  it("carry the channel that flowed longest lowest", () => {
    const [lane] = lanesOf(
      flows([
        flow("pump-1", "forearm", "09:00", "10:00", 200),
        flow("pump-2", "forearm", "07:00", "12:00", 40),
      ]),
      LINES,
    );
    expect(lane!.channels).toEqual(["pump-2", "pump-1"]);
    expect(lane!.crest).toBe(240);
  });

  it("cut what began before the shift", () => {
    const [lane] = lanesOf(flows([flow("pump-1", "forearm", "05:00", "08:00", 75)]), LINES);
    expect(lane!.bands[0]!.flow.start).toBe(Date.parse(at("07:00")));
  });
});

describe("time nobody knows", () => {
  it("is a gap, also on a line where nothing else flowed", () => {
    const [lane] = lanesOf(flows([], [unknown("pump-1", "forearm", "11:20", "11:55")]), LINES);
    expect(lane!.gaps.map((gap) => (gap.end - gap.start) / 60_000)).toEqual([35]);
    expect(lane!.crest).toBe(0);
  });

  it("is a gap where the rate is not known, and no band", () => {
    const [lane] = lanesOf(flows([flow("gravity-1", "forearm", "08:00", "10:00", null)]), LINES);
    expect(lane!.bands).toEqual([]);
    expect(lane!.gaps.map((gap) => gap.source.reason)).toEqual(["rate-unknown"]);
  });

  it("is one gap when the answer names it twice", () => {
    const named = { ...unknown("gravity-1", "forearm", "08:00", "10:00"), reason: "rate-unknown" as const };
    const [lane] = lanesOf(flows([flow("gravity-1", "forearm", "08:00", "10:00", null)], [named]), LINES);
    expect(lane!.gaps).toHaveLength(1);
  });
});
