/**
 * The chart beside the ledger, as a sheet of figures: the cells, which nothing else charted adds up to; the totals
 * with the figures they are totals of; and what is asked of all those that differ.
 *
 * Invariant: every figure with a volume is either a cell or a total.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { earliest, type Instant } from "../../time/instant.js";
import {
  type Carried,
  type ChartFigure,
  countedIn,
  isUnder,
  keyOf,
  type LedgerItem,
  type LedgerSide,
  meantBy,
  type RowName,
} from "./chart.js";
import type { Counted, Figure } from "./figure.js";
import { fitOf, noiseOf, roundedAmong, stepOfChart } from "./fineness.js";
import { type ChannelItems, type Places, placesOf, withSecondary } from "./places.js";
import { recognising } from "./recognised.js";
import { sideOf } from "./side.js";
import { questionOf } from "./total-question.js";
import { type Addition, additionsOf } from "./totals.js";

export interface Sheet extends Places {
  readonly step: Microlitres;
  readonly tolerance: Microlitres;
  readonly figures: readonly Figure[];
  /** Figures that were left empty, as if 0 were charted. */
  readonly empty: readonly Figure[];
  readonly totals: ReadonlyMap<Figure, Addition>;
  /** What differs and is to be explained: cells, and what figures above a total leave open of it, by their figures. */
  readonly asked: ReadonlyMap<Figure, Figure>;
  /** When the first of its figures does. */
  readonly begins: Instant;
  /** What the stay had before that, where it was asked. */
  readonly carried?: Carried;
  /** All that counts in a running figure, also what stands outside the hours. */
  readonly counting: readonly LedgerItem[];
  /** What stands outside the hours. */
  readonly outsideHours: readonly LedgerItem[];
  /** What the unit counts in no total. */
  readonly apart: readonly LedgerItem[];
  /** What ran on channels that gave a secondary. */
  readonly channels: readonly ChannelItems[];
}

/** Lays a chart out against the ledger; of a figure charted twice the last counts. */
export function sheetOf(chart: readonly ChartFigure[], ledger: LedgerSide, tolerance: Microlitres): Sheet {
  const last = [...new Map(chart.map((one) => [spanKey(one), one])).values()];
  const step = stepOfChart(last.flatMap(({ volume }) => volume ?? []));
  const laidOut = layingOut(chart, ledger, step);
  const bare = last.filter(({ volume }) => volume !== null).map(laidOut);
  const noise = noiseOf(matching(bare, tolerance));
  const figures = bare.map((one): Figure => ({ ...one, fit: Math.max(one.fit, noise) }));
  const empty = last.filter(({ volume }) => volume === null).map(laidOut);
  const additionOf = additionsOf(figures, ledger.items, step);
  const totals = new Map<Figure, Addition>();
  for (const figure of figures) {
    const addition = additionOf(figure);
    if (addition !== null) totals.set(figure, addition);
  }
  const cells = figures.filter((figure) => !totals.has(figure));
  const asked = new Map<Figure, Figure>();
  for (const figure of figures) {
    if (Math.abs(figure.difference) <= tolerance) continue;
    const addition = totals.get(figure);
    const question = addition === undefined ? figure : questionOf(figure, addition, empty, tolerance);
    if (question !== null) asked.set(figure, question);
  }
  const places = placesOf(cells, [...asked.values()], ledger.items);
  const channels = withSecondary(ledger.items);
  const apart = ledger.items.filter((item) => item.apart === true);
  return {
    step,
    tolerance,
    figures,
    empty,
    totals,
    asked,
    channels,
    apart,
    begins: earliest(...chart.map(({ start }) => start)),
    ...(ledger.carried !== undefined && { carried: ledger.carried }),
    counting: [...ledger.items, ...ledger.outside],
    outsideHours: ledger.outside,
    ...places,
  };
}

/** A figure of the chart beside what the ledger has in it. */
function layingOut(chart: readonly ChartFigure[], ledger: LedgerSide, step: Microlitres) {
  const recognise = recognising(chart, ledger.inUse);
  const rows = new Map<string, readonly LedgerItem[]>();
  const itemsUnder = (row: RowName, key: string) => {
    const items = rows.get(key) ?? ledger.items.filter((item) => isUnder(row, item));
    rows.set(key, items);
    return items;
  };
  return ({ row, start, end, volume }: ChartFigure): Figure => {
    const recognised = recognise(row);
    const { under } = recognised;
    const key = keyOf(under);
    const charted = volume ?? 0;
    const all = itemsUnder(under, key);
    const items = meantBy(charted, under, { start, end }, all);
    const counted = items.map((item): Counted => ({ item, volume: countedIn(under, item) }));
    const inLedger = ledger.figure(under, start, end, charted);
    return {
      row,
      start,
      end,
      ...recognised,
      key,
      charted,
      isEmpty: volume === null,
      ledger: inLedger,
      difference: charted - inLedger,
      side: sideOf(under, items.length > 0 ? items : all),
      isOnBothSides: new Set(all.map(({ direction }) => direction)).size > 1 && "item" in under,
      isApart: items.length > 0 && items.every(({ apart }) => apart),
      inNoTotal: counted.reduce((sum, { item, volume }) => sum + (item.apart ? volume : 0), 0),
      counted,
      fit: fitOf(step, roundedAmong(items, step)),
      // A sum whose parts are not charted was added up all the same.
      ...("sum" in under ? { adding: { parts: [], uncovered: inLedger } } : {}),
    };
  };
}

function spanKey({ row, start, end }: ChartFigure): string {
  return `${keyOf(row)} ${start} ${end}`;
}

function matching(figures: readonly Figure[], tolerance: Microlitres): Microlitres[] {
  return figures
    .filter(({ ledger, difference }) => ledger !== 0 && Math.abs(difference) <= tolerance)
    .map(({ difference }) => difference);
}
