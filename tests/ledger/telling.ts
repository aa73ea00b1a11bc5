/** Entries of one bedside as a caller writes them down, with times like "07:30" of 4 March 2026. */

import { type Instant, instant } from "../../src/time/instant.js";

export type Told = Record<string, unknown>;

/** "4 07:30" is half past seven on 4 March 2026, Chicago winter time; "07:30" alone is on the 4th. */
export function at(clock: string): string {
  const [day, time] = clock.includes(" ") ? clock.split(" ") : ["4", clock];
  const seconds = time!.length === 5 ? ":00" : "";
  return `2026-03-${day!.padStart(2, "0")}T${time}${seconds}-06:00`;
}

export function when(clock: string): Instant {
  return instant(Date.parse(clock.includes("T") ? clock : at(clock)));
}

export const line = (clock: string, key = "forearm"): Told => ({
  kind: "line-placed",
  at: at(clock),
  line: key,
  label: `The ${key}`,
  route: "intravenous",
});

export const pump = (clock: string, more: Told = {}): Told => ({
  kind: "channel-connected",
  at: at(clock),
  channel: "pump-1",
  line: "forearm",
  type: "pump",
  rateStep: 0.1,
  ...more,
});

export const hang = (clock: string, bag: string, volume: number, more: Told = {}): Told => ({
  kind: "bag-hung",
  at: at(clock),
  channel: "pump-1",
  bag,
  volume,
  fluid: { name: "Sodium chloride 0.9 %", category: "iv-fluid" },
  ...more,
});

export const start = (clock: string, rate: number, more: Told = {}): Told => ({
  kind: "flow-started",
  at: at(clock),
  channel: "pump-1",
  rate,
  ...more,
});

export const change = (clock: string, rate: number, more: Told = {}): Told => ({
  kind: "rate-changed",
  at: at(clock),
  channel: "pump-1",
  rate,
  ...more,
});

export const on = (clock: string, kind: string, more: Told = {}): Told => ({
  kind,
  at: at(clock),
  channel: "pump-1",
  ...more,
});

export const drank = (clock: string, volume: number, more: Told = {}): Told => ({
  kind: "intake-measured",
  at: at(clock),
  category: "oral",
  volume,
  ...more,
});

export const amend = (entry: string, replacement: Told, more: Told = {}): Told => ({
  kind: "entry-amended",
  entry,
  reason: "Charted wrongly.",
  replacement,
  ...more,
});

export const void_ = (entry: string, more: Told = {}): Told => ({
  kind: "entry-voided",
  entry,
  reason: "Entered in error.",
  ...more,
});

/** A line, a pump on it, a litre and 75 mL/h from 07:00. */
export const running = (): Told[] => [
  line("07:00"),
  pump("07:00"),
  hang("07:00", "saline-1", 1_000),
  start("07:00", 75, { id: "start" }),
];

/** Heparin 25,000 units in 250 mL: 100 units per mL. */
export const heparin = (clock: string, more: Told = {}) =>
  hang(clock, "heparin", 250, {
    role: "secondary",
    fluid: { name: "Heparin", category: "iv-medication" },
    additives: [{ name: "Heparin", amount: 25_000, unit: "units" }],
    ...more,
  });

/** So many units per kg and hour: of 70 kg at 100 units per mL, 0.7 mL/h each. */
export const units = (value: number) => ({ dose: { value, unit: "units/kg/h" } });
export const given = (clock: string, value: number, more: Told = {}) =>
  on(clock, "secondary-started", { ...units(value), ...more });
export const weighed = (clock: string, kg: number, more: Told = {}): Told => ({
  kind: "weight-measured",
  at: at(clock),
  weight: { value: kg, unit: "kg" },
  ...more,
});

export const cup = (clock: string, more: Told = {}): Told => ({
  kind: "intake-measured",
  at: at(clock),
  category: "oral",
  measure: { name: "cup", count: 1 },
  ...more,
});
