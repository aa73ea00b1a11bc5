/**
 * The chart beside the ledger, as a sheet of figures: the cells, which nothing else charted adds up to, and
 * the totals with the figures they are totals of.
 *
 * Invariant: every figure with a volume is either a cell or a total.
 */

import type { Microlitres } from "../../infusion/entry.js";
import {
  type ChartFigure,
  countedIn,
  isUnder,
  isWithin,
  keyOf,
  type LedgerItem,
  type LedgerSide,
} from "./chart.js";
import type { Counted, Figure, Side } from "./figure.js";
import { fitOf, noiseOf, roundedAmong, stepOfChart } from "./fineness.js";
import { sideOf } from "./side.js";
import { type Addition, additionOf } from "./totals.js";

export interface Sheet {
  readonly step: Microlitres;
  readonly tolerance: Microlitres;
  readonly figures: readonly Figure[];
  readonly cells: readonly Figure[];
  readonly totals: ReadonlyMap<Figure, Addition>;
  /** What ran on channels that gave a secondary. */
  readonly channels: readonly ChannelItems[];
  /** The cells of a figure's row by time, itself among them; a question about a total stands alone. */
  row(figure: Figure): readonly Figure[];
  /** The cells of the same span on the other side of the balance. */
  across(figure: Figure): readonly Figure[];
  /** What the ledger has under the row in the intervals just before and after it, where no cell is charted. */
  outside(figure: Figure): readonly LedgerItem[];
}

/** What a channel gave as secondary, and otherwise. */
export interface ChannelItems {
  readonly channel: string;
  readonly secondary: readonly LedgerItem[];
  readonly primary: readonly LedgerItem[];
}

/** Lays a chart out against the ledger; figures left empty are none, and of one charted twice the last counts. */
export function sheetOf(chart: readonly ChartFigure[], ledger: LedgerSide, tolerance: Microlitres): Sheet {
  const written = new Map(
    chart.flatMap((one) => (one.volume === null ? [] : [[spanKey(one), one] as const])),
  );
  const step = stepOfChart([...written.values()].map(({ volume }) => volume!));
  const rows = new Map<string, readonly LedgerItem[]>();
  const itemsUnder = ({ row }: ChartFigure) => {
    const key = keyOf(row);
    const items = rows.get(key) ?? ledger.items.filter((item) => isUnder(row, item));
    rows.set(key, items);
    return items;
  };
  const bare = [...written.values()].map((one): Figure => {
    const items = itemsUnder(one).filter((item) => isWithin(item, one));
    const counted = items.map((item): Counted => ({ item, volume: countedIn(one.row, item) }));
    const inLedger = ledger.figure(one.row, one.start, one.end);
    return {
      row: one.row,
      start: one.start,
      end: one.end,
      charted: one.volume!,
      ledger: inLedger,
      difference: one.volume! - inLedger,
      side: sideOf(one.row, ledger.items),
      counted,
      fit: fitOf(step, roundedAmong(items, step)),
      // A sum whose parts are not charted was added up all the same.
      ...("sum" in one.row ? { adding: { parts: [], uncovered: inLedger } } : {}),
    };
  });
  const noise = noiseOf(matching(bare, tolerance));
  const figures = bare.map((one): Figure => ({ ...one, fit: Math.max(one.fit, noise) }));
  const totals = new Map<Figure, Addition>();
  for (const figure of figures) {
    const addition = additionOf(figure, figures, step);
    if (addition !== null) totals.set(figure, addition);
  }
  const cells = figures.filter((figure) => !totals.has(figure));
  const channels = withSecondary(ledger.items);
  return { step, tolerance, figures, cells, totals, channels, ...places(cells, ledger.items) };
}

function spanKey({ row, start, end }: ChartFigure): string {
  return `${keyOf(row)} ${start} ${end}`;
}

function matching(figures: readonly Figure[], tolerance: Microlitres): Microlitres[] {
  return figures
    .filter(({ ledger, difference }) => ledger !== 0 && Math.abs(difference) <= tolerance)
    .map(({ difference }) => difference);
}

function withSecondary(items: readonly LedgerItem[]): ChannelItems[] {
  const keys = new Set(items.flatMap(({ channel, role }) => (role === "secondary" ? (channel ?? []) : [])));
  return [...keys].map((channel) => {
    const own = items.filter((item) => item.channel === channel);
    const secondary = own.filter(({ role }) => role === "secondary");
    return { channel, secondary, primary: own.filter(({ role }) => role !== "secondary") };
  });
}

function places(
  cells: readonly Figure[],
  items: readonly LedgerItem[],
): Pick<Sheet, "row" | "across" | "outside"> {
  const rows = grouped(cells, ({ row }) => keyOf(row));
  for (const row of rows.values()) row.sort((a, b) => a.start - b.start);
  const spans = grouped(cells, ({ start, end }) => `${start} ${end}`);
  const other: Readonly<Record<Side, Side | null>> = { intake: "output", output: "intake", net: null };
  const row = (figure: Figure) => {
    const all = rows.get(keyOf(figure.row)) ?? [];
    return all.includes(figure) ? all : [figure];
  };
  return {
    row,
    across: (figure) =>
      (spans.get(`${figure.start} ${figure.end}`) ?? []).filter(({ side }) => side === other[figure.side]),
    outside: (figure) => {
      const charted = row(figure);
      return items.filter(
        (item) =>
          isUnder(figure.row, item) &&
          (item.end === figure.start || item.start === figure.end) &&
          !charted.some((cell) => isWithin(item, cell)),
      );
    },
  };
}

function grouped(figures: readonly Figure[], by: (figure: Figure) => string): Map<string, Figure[]> {
  const groups = new Map<string, Figure[]>();
  for (const figure of figures) {
    const group = groups.get(by(figure));
    if (group === undefined) groups.set(by(figure), [figure]);
    else group.push(figure);
  }
  return groups;
}
