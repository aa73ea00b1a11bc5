/** What is at risk, and of which flows: since each total's own last reading, whatever others were read. */

import { describe, expect, it } from "vitest";
import { type Totals, ward } from "../check-values/ward.js";

const at = (clock: string) => `2026-03-04T${clock}:00Z`;

describe("totals at 12:00", () => {
  it("tell the flows since each reading, in parts that add up to what is at risk", async () => {
    const here = await ward("2026-03-04T18:00:00Z");
    const patient = await here.admit("e", at("06:00"));
    const fluid = { name: "Sodium chloride 0.9 %", category: "iv-fluid" };
    for (const channel of ["pump-1", "pump-2"]) {
      await patient.chart(
        { kind: "line-placed", at: at("07:00"), line: channel, route: "intravenous" },
        { kind: "channel-connected", at: at("07:00"), channel, line: channel, type: "pump" },
        { kind: "bag-hung", at: at("07:00"), channel, bag: `bag-${channel}`, volume: 1000, fluid },
        { kind: "flow-started", at: at("07:00"), channel, rate: 60 },
      );
    }
    await patient.chart({
      kind: "total-read",
      at: at("11:30"),
      channel: "pump-1",
      total: "primary",
      volume: 272,
    });
    const { channels } = await patient.ask<Totals>(`totals?at=${at("12:00")}`);
    const primary = channels.map(({ totals }) => totals.find(({ total }) => total === "primary")!);
    expect(primary.map(({ expected, lastReading, atRisk }) => [expected, lastReading, atRisk])).toEqual([
      [302, 272, 30],
      [300, null, 300],
    ]);
    expect(
      primary.map(({ flows }) => flows.map(({ start, volume }) => [start.slice(11, 16), volume])),
    ).toEqual([[["11:30", 30]], [["07:00", 300]]]);
    await here.close();
  });
});
