/**
 * A bedside to write core tests at, in the trade's words: entries with times like "07:30", rates in
 * mL/h and volumes in mL, and the answers in the same units. Nothing here computes a volume.
 */

import { defaultSettings, stepOf } from "../../src/conventions/settings.js";
import { type Collected, collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { Entry, Placed, Source } from "../../src/infusion/entry.js";
import type { Flow, Sink } from "../../src/infusion/flow.js";
import { inOrder } from "../../src/infusion/order.js";
import { rateOf, shownAs, type Volume } from "../../src/infusion/quantity.js";
import { type ChannelNow, runningTotals } from "../../src/infusion/running.js";
import { NOTHING_KNOWN, type State } from "../../src/infusion/state.js";
import type { SettingsAt } from "../../src/infusion/step.js";
import { type Instant, instant } from "../../src/time/instant.js";

export const MIDNIGHT = Date.UTC(2026, 2, 4);

/** "07:30", "07:30:15" or "25:00" (one o'clock of the next day), as an instant of an invented day. */
export function at(clock: string): Instant {
  const [hours, minutes, seconds = 0] = clock.split(":").map(Number);
  return instant(MIDNIGHT + ((hours! * 60 + minutes!) * 60 + seconds) * 1_000);
}

export const mL = (millilitres: number): number => Math.round(millilitres * 1_000);
export const mLPerHour = (rate: number) => rateOf(Math.round(rate * 1_000));
/** A volume in mL, to the microlitre. */
export const inMl = (volume: Volume): number => shownAs(volume, stepOf(1)) / 1_000;

type Without<E, K extends string> = E extends unknown ? Omit<E, K> : never;
export type Told = Without<Entry, "at"> & { at: string };

export interface Bedside extends Collected {
  readonly state: State;
  channel(key: string): ChannelNow;
}

export const DEFAULTS: SettingsAt = () => ({ ...defaultSettings, household: { cup: 240_000 } });

/** Entries in the order told (which is the order of recording), ready to fold. */
export function placed(told: readonly Told[], sources: Readonly<Record<number, Source>> = {}): Placed[] {
  return told.map((entry, i) => ({
    id: `e${i + 1}`,
    sequence: i + 1,
    source: sources[i] ?? "person",
    entry: { ...entry, at: at(entry.at) } as Entry,
  }));
}

/** The course of what was told, worked out up to `until`. */
export function follows(
  told: readonly Told[],
  until: string,
  settingsAt: SettingsAt = DEFAULTS,
  sources: Readonly<Record<number, Source>> = {},
): Bedside {
  const { sink: collecting, ...evidence } = collector();
  // Flows as the course hands them out, before they are joined.
  const flows: Flow[] = [];
  const sink: Sink = { ...collecting, flow: (flow) => flows.push(flow) };
  // Lines are in place unless a test is about placing them.
  const lines = told.flatMap((entry) => (entry.kind === "channel-connected" ? [entry.line] : []));
  let state: State = { ...NOTHING_KNOWN, lines: new Set(lines) };
  const horizon = at(until);
  for (const entry of inOrder(placed(told, sources))) {
    if (entry.entry.at <= horizon) state = follow(state, entry, settingsAt, sink);
  }
  state = comeUpTo(state, horizon, sink);
  const now = runningTotals(state);
  return { state, ...evidence, flows, channel: (key) => now.find(({ channel }) => channel.channel === key)! };
}

export const pump = (clock: string, channel = "pump-1", line = "forearm"): Told => ({
  at: clock,
  kind: "channel-connected",
  channel,
  line,
  type: "pump",
  totals: "separate",
  clearsOn: ["therapy-change"],
});

export const hang = (
  clock: string,
  bag: string,
  volume: number,
  role: "primary" | "secondary" = "primary",
  channel = "pump-1",
): Told => ({
  at: clock,
  kind: "bag-hung",
  channel,
  role,
  bag,
  volume: mL(volume),
  fluid: { name: "Sodium chloride 0.9 %", category: role === "primary" ? "iv-fluid" : "iv-medication" },
});

export const start = (clock: string, rate: number, more: Partial<Told> = {}, channel = "pump-1"): Told =>
  ({
    at: clock,
    kind: "flow-started",
    channel,
    rate: mLPerHour(rate),
    volumeToInfuse: "bag",
    ...more,
  }) as Told;

export const rate = (clock: string, value: number, channel = "pump-1"): Told => ({
  at: clock,
  kind: "rate-changed",
  channel,
  role: "primary",
  rate: mLPerHour(value),
});

export const on = (clock: string, kind: string, more: object = {}, channel = "pump-1"): Told =>
  ({ at: clock, kind, channel, ...more }) as Told;
