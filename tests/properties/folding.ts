/**
 * The calculation as the properties drive it: entries in, the whole course out, and its answers by
 * the simulator's row names. Works out no volume of its own.
 */

import { comeUpTo, follow } from "../../src/infusion/course.js";
import type { Placed } from "../../src/infusion/entry.js";
import { deliveredBy, type Flow, type Note, type Sink, type UnknownSpan } from "../../src/infusion/flow.js";
import { inOrder } from "../../src/infusion/order.js";
import { runningTotals } from "../../src/infusion/running.js";
import { NOTHING_KNOWN, type State } from "../../src/infusion/state.js";
import { type Instant, instant } from "../../src/time/instant.js";
import { rowName } from "../naive/pours.js";

/** The overfill allowance of every property, in thousandths of the label. */
export const OVERFILL = 100;

export interface Folded {
  readonly state: State;
  readonly flows: Flow[];
  readonly unknown: UnknownSpan[];
  readonly notes: Note[];
}

/** Folds entries recorded in any order up to `until`, stopping to come up to every instant of `stops`. */
export function fold(entries: readonly Placed[], until: number, stops: readonly number[] = []): Folded {
  const found = { flows: [] as Flow[], unknown: [] as UnknownSpan[], notes: [] as Note[] };
  const sink: Sink = {
    flow: (flow) => found.flows.push(flow),
    unknown: (span) => found.unknown.push(span),
    note: (note) => found.notes.push(note),
  };
  const settings = () => ({ overfillAllowance: OVERFILL, endConfirmedWithin: 15 * 60_000 });
  const pauses = stops.filter((stop) => stop <= until).sort((a, b) => a - b);
  let state = NOTHING_KNOWN;
  for (const placed of inOrder(entries)) {
    if (placed.entry.at > until) break;
    while (pauses.length > 0 && pauses[0]! < placed.entry.at) {
      state = comeUpTo(state, instant(pauses.shift()!), sink);
    }
    state = follow(state, placed, settings, sink);
  }
  for (const stop of pauses) state = comeUpTo(state, instant(stop), sink);
  return { state: comeUpTo(state, instant(until), sink), ...found };
}

/** Ticks per row between two instants. */
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
