/**
 * The ledger's side of a chart: what counts in each of its intervals, and in those just before and after it, since
 * what is on the other side of a boundary may have been charted on this one.
 */

import type { Certainty } from "../balance/certainty.js";
import { type ChartFigure, type LedgerSide, ledgerOf, type RowName } from "../balance/charts/chart.js";
import { contributionsOf, doubtsOf, type Sources } from "../balance/charts/contributions.js";
import { certaintyIn, type Doubt } from "../balance/charts/doubt.js";
import { stepOf } from "../conventions/settings.js";
import type { Inquiry } from "../store/store.js";
import { later, type Period } from "../time/instant.js";
import type { Moment } from "./coordinates.js";
import { type Posted, postedOver } from "./posted.js";

export interface ChartSide extends LedgerSide {
  readonly doubts: readonly Doubt[];
  certainty(row: RowName, span: Period): Certainty;
}

/** The ledger's side of a chart's figures, of which there is at least one. */
export function* chartSide(
  at: Moment,
  figures: readonly ChartFigure[],
  precision?: number,
): Inquiry<ChartSide> {
  const intervals = [...intervalsOf(figures)];
  const [{ start }] = intervals as [Period];
  const posted = yield* postedOver(at, { intervals, from: start, since: start, precision });
  const sources = sourcesOf(posted, at, precision);
  const items = contributionsOf(posted.postings, intervals, sources);
  const doubts = doubtsOf(posted.postings, intervals, sources);
  return {
    ...ledgerOf(items, linesIn(posted)),
    doubts,
    certainty: (row, span) => certaintyIn(doubts, row, span),
  };
}

/** The lines that were in place at some time of it, whether or not anything went in by them. */
function linesIn({ window, entries }: Posted): Set<string> {
  const named = entries.flatMap(({ entry }) =>
    entry.kind === "line-placed" || entry.kind === "line-removed" ? [entry.line] : [],
  );
  return new Set([...window.state.lines, ...named]);
}

/** The intervals a chart is cut into by all its figures, with one more at either end as long as the figure there. */
export function* intervalsOf(figures: readonly ChartFigure[]): Generator<Period> {
  const bounds = [...new Set(figures.flatMap(({ start, end }) => [start, end]))].sort((a, b) => a - b);
  const [first, last] = [bounds[0]!, bounds.at(-1)!];
  const shortest = (at: readonly ChartFigure[]) => Math.min(...at.map(({ start, end }) => end - start));
  yield { start: later(first, -shortest(figures.filter(({ start }) => start === first))), end: first };
  for (const [i, end] of bounds.slice(1).entries()) yield { start: bounds[i]!, end };
  yield { start: last, end: later(last, shortest(figures.filter(({ end }) => end === last))) };
}

function sourcesOf({ window, entries }: Posted, { facts }: Moment, precision?: number): Sources {
  const { readings, drained } = window.collected;
  const totals = new Map<string, (typeof readings)[number][]>();
  for (const reading of readings) {
    const key = `${reading.channel} ${reading.total}`;
    totals.set(key, [...(totals.get(key) ?? []), reading]);
  }
  const chambers = new Map(drained.map((one) => [one.entry, one]));
  const labels = new Map(
    entries.flatMap(({ entry }) => (entry.kind === "bag-hung" ? [[entry.bag, entry.volume] as const] : [])),
  );
  const given = precision === undefined ? undefined : stepOf(precision);
  return {
    lastRead(channel, total, { start, end }) {
      const own = totals.get(`${channel} ${total}`) ?? [];
      const last = own.findLast(({ at }) => start < at && at <= end);
      return last && { entry: last.entry, volume: last.value };
    },
    chamberRead(entry) {
      const read = chambers.get(entry);
      return read === undefined || read.shows === null ? undefined : { entry, volume: read.shows };
    },
    labelOf: (bag) => labels.get(bag),
    stepAt: (at) => given ?? facts.conventions.settingsAt(at).precision,
  };
}
