/** What of a band is written down: hours by their basis, and the hour of the last reading cut at the reading. */

import { describe, expect, it } from "vitest";
import type { components } from "../../openapi/client.js";
import { stack } from "../../src/page/picture/bands.js";
import { inked } from "../../src/page/picture/ink.js";
import type { DrawnFlow } from "../../src/page/picture/lanes.js";

type Basis = components["schemas"]["Basis"];
type ChannelTotals = components["schemas"]["ChannelTotals"];

const at = (clock: string) => `2026-03-04T${clock}:00-06:00`;
const clockOf = (ms: number) => new Date(ms - 6 * 3_600_000).toISOString().slice(11, 16);

/** One channel at 75 mL/h from 07:00 to 10:00. */
function band(role: "primary" | "secondary" = "primary") {
  const source = { channel: "pump-1", role, start: at("07:00"), end: at("10:00") } as DrawnFlow["source"];
  const flow = {
    channel: "pump-1",
    rate: 75,
    source,
    start: Date.parse(at("07:00")),
    end: Date.parse(at("10:00")),
  };
  return stack([flow], ["pump-1"])[0]!;
}

function founding(
  basis: Basis[],
  read: { total?: "primary" | "secondary"; at: string; value: number | null } | null,
) {
  const hours = ["07:00", "08:00", "09:00", "10:00"];
  const intervals = hours.slice(1).map((end, index) => ({
    start: at(hours[index]!),
    end: at(end),
    label: "",
    complete: true,
  }));
  const row = {
    key: "pump-1",
    label: "pump-1",
    basis,
    volumes: [],
    computed: [],
    since: [],
    unknown: [],
    total: 0,
  };
  const totals =
    read === null ? [] : [{ total: read.total ?? "primary", lastReading: read.value, since: at(read.at) }];
  return {
    volumes: { intervals, rows: [row] },
    channels: [{ channel: "pump-1", totals }] as ChannelTotals[],
  };
}

const shown = (pieces: ReturnType<typeof inked>) =>
  pieces.map(({ start, end, basis }) => `${clockOf(start)}–${clockOf(end)} ${basis}`);

describe("ink", () => {
  it("fills an hour by what the hour rests on, and leaves an outline where it is computed", () => {
    expect(shown(inked(band(), founding(["measured", "apportioned", "computed"], null)))).toEqual([
      "07:00–08:00 measured",
      "08:00–09:00 apportioned",
    ]);
  });

  it("reaches up to the last reading, and no further", () => {
    const read = { at: "09:20", value: 175 };
    expect(shown(inked(band(), founding(["apportioned", "apportioned", "computed"], read)))).toEqual([
      "07:00–08:00 apportioned",
      "08:00–09:00 apportioned",
      "09:00–09:20 apportioned",
    ]);
  });

  it("is none up to a clear, since what was not read before it is lost", () => {
    const cleared = { at: "09:20", value: null };
    expect(shown(inked(band(), founding(["computed", "computed", "computed"], cleared)))).toEqual([]);
  });

  it("is none of a secondary where the primary's total was read", () => {
    const read = { total: "primary" as const, at: "09:20", value: 175 };
    expect(inked(band("secondary"), founding(["computed", "computed", "computed"], read))).toEqual([]);
  });

  it("stays in dispute where a reading and the rates disagree", () => {
    const read = { at: "09:20", value: 175 };
    expect(shown(inked(band(), founding(["disputed", "computed", "computed"], read)))[0]).toBe(
      "07:00–08:00 disputed",
    );
  });
});
