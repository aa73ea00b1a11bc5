/**
 * The calculation as the properties drive it: entries in, the whole course out, and its answers by
 * the simulator's row names. Works out no volume of its own.
 */

import { defaultSettings } from "../../src/conventions/settings.js";
import { type Collected, collector } from "../../src/infusion/collected.js";
import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { Placed } from "../../src/infusion/entry.js";
import { deliveredBy, type Flow, type Sink } from "../../src/infusion/flow.js";
import { inOrder } from "../../src/infusion/order.js";
import { runningTotals } from "../../src/infusion/running.js";
import { NOTHING_KNOWN, type State } from "../../src/infusion/state.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { rowName } from "../naive/pours.js";

/** The overfill allowance of every property, in thousandths of the label. */
export const OVERFILL = 100;

const settings = () => ({ ...defaultSettings, overfillAllowance: OVERFILL, household: {} });

export interface Folded extends Collected {
  readonly state: State;
}

export const NOTHING_FOLDED: Folded = { state: NOTHING_KNOWN, ...collector() };

/** Goes on from what is folded: entries (recorded in any order) up to `until`, then up to `until` itself. */
export function foldOn(from: Folded, entries: readonly Placed[], until: number): Folded {
  const { sink, ...found } = collector();
  const flows: Flow[] = [];
  const apart: Sink = { ...sink, flow: (flow) => flows.push(flow) };
  let { state } = from;
  for (const placed of inOrder(entries)) {
    if (placed.entry.at <= until) state = follow(state, placed, settings, apart);
  }
  state = comeUpTo(state, instant(until), apart);
  return {
    state,
    flows: [...from.flows, ...flows],
    unknown: [...from.unknown, ...found.unknown],
    notes: [...from.notes, ...found.notes],
    finished: [...from.finished, ...found.finished],
    readings: [...from.readings, ...found.readings],
    segments: [...from.segments, ...found.segments],
    clears: [...from.clears, ...found.clears],
    levels: [...from.levels, ...found.levels],
    gone: [...from.gone, ...found.gone],
    drained: [...from.drained, ...found.drained],
    outputs: [...from.outputs, ...found.outputs],
  };
}

/** The whole course of entries recorded in any order, up to `until`. */
export function fold(entries: readonly Placed[], until: number): Folded {
  return foldOn(NOTHING_FOLDED, entries, until);
}

/** Ticks per row between two instants; rows that got nothing are left out. */
export function deliveredBetween(flows: readonly Flow[], start: number, end: number): Map<string, bigint> {
  const sums = new Map<string, bigint>();
  for (const flow of flows) {
    const part = deliveredBy(flow, end as Instant) - deliveredBy(flow, start as Instant);
    if (part === 0n) continue;
    const row = rowName(flow.channel, flow.line, flow.bag, flow.role);
    sums.set(row, (sums.get(row) ?? 0n) + part);
  }
  return sums;
}

/** What every running total should show and has at risk, in ticks, named `channel/total`. */
export function totalsShown(state: State): Map<string, { expected: bigint; atRisk: bigint }> {
  const shown = new Map<string, { expected: bigint; atRisk: bigint }>();
  for (const { channel, totals } of runningTotals(state)) {
    for (const { total, expected, atRisk } of totals) {
      shown.set(`${channel.channel}/${total}`, { expected, atRisk });
    }
  }
  return shown;
}

/** A map as a plain object in the order of its names, for a readable difference. */
export function plain<V>(rows: ReadonlyMap<string, V>): Record<string, V> {
  return Object.fromEntries([...rows].sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** Groups by a name, in order of appearance; what has none is left out. */
export function groupedBy<T>(all: readonly T[], nameOf: (one: T) => string | null): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const name = nameOf(one);
    if (name !== null) groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return groups;
}
