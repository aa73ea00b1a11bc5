/** A chart and a ledger of one invented patient, told in mL and by the clock of one day. */

import {
  type ChartFigure,
  type LedgerItem,
  ledgerOf,
  type RowName,
} from "../../../src/balance/charts/chart.js";
import type { Doubt } from "../../../src/balance/charts/doubt.js";
import type { Explanation } from "../../../src/balance/charts/explanation.js";
import { type Difference, reconcile } from "../../../src/balance/charts/reconcile.js";
import { HOUR, type Instant, instant, MINUTE } from "../../../src/time/instant.js";

const MIDNIGHT = Date.parse("2026-03-04T00:00:00Z");

/** Such as "09:10"; hours above 23 are of the next day. */
export function at(clock: string): Instant {
  const [hours, minutes] = clock.split(":").map(Number) as [number, number];
  return instant(MIDNIGHT + hours * HOUR + minutes * MINUTE);
}

export const mL = (volume: number) => Math.round(volume * 1_000);

const words = {
  time: (time: Instant) => new Date(time).toISOString().slice(11, 16),
  volume: (volume: number) => `${volume / 1_000} mL`,
};

/** A span such as "07:00-15:00". */
function span(text: string): { start: Instant; end: Instant } {
  const [start, end] = text.split("-") as [string, string];
  return { start: at(start), end: at(end) };
}

type More = Partial<Omit<LedgerItem, "start" | "end" | "at">> & { clock?: string };

/** A contribution of the ledger; its entry is named after what it is unless said otherwise. */
export function item(interval: string, name: string, volume: number, more: More = {}): LedgerItem {
  const { clock, ...rest } = more;
  const { start, end } = span(interval);
  return {
    entries: [name],
    direction: "intake",
    category: "oral",
    line: null,
    item: name,
    at: clock === undefined ? end : at(clock),
    start,
    end,
    volume: mL(volume),
    ...rest,
  };
}

/** What a pump gave of a bag. */
export function infused(interval: string, bag: string, volume: number, more: More = {}): LedgerItem {
  const flow = {
    category: "iv-fluid",
    item: null,
    line: "forearm",
    channel: "pump-1",
    role: "primary",
  } as const;
  return item(interval, bag, volume, { ...flow, bag, ...more });
}

export function passed(interval: string, name: string, volume: number, more: More = {}): LedgerItem {
  return item(interval, name, volume, { direction: "output", category: "urine", item: null, ...more });
}

/** A figure of the chart; null where it was left empty. */
export function charted(row: RowName, interval: string, volume: number | null): ChartFigure {
  return { row, ...span(interval), volume: volume === null ? null : mL(volume) };
}

/** The chart reconciled with the ledger, at a tolerance of 10 mL. */
export function reconciled(
  items: readonly LedgerItem[],
  chart: readonly ChartFigure[],
  doubts: readonly Doubt[] = [],
) {
  return reconcile(chart, ledgerOf(items), mL(10), words, doubts);
}

/** The one figure that differs. */
export function difference(items: readonly LedgerItem[], chart: readonly ChartFigure[]): Difference {
  const { differences } = reconciled(items, chart);
  if (differences.length !== 1) throw new Error(`${differences.length} figures differ`);
  return differences[0]!;
}

/** An explanation with what stands together with it: kinds, entries and what they account for, in mL. */
export function told({ kind, entries, accountsFor, together }: Explanation): string {
  const causes = [{ kind, entries, accountsFor }, ...together];
  return causes.map((one) => [one.kind, ...one.entries, one.accountsFor / 1_000].join(" ")).join(" + ");
}

/** The explanations that share the first place. */
export function first({ explanations }: Difference): string[] {
  return explanations.filter(({ place }) => place === 1).map(told);
}
