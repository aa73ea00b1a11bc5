/**
 * What people leave out, double or move as one: an amount; what a channel, a line or all carriers gave within a
 * figure; what one entry, a bag or the carriers of a line gave over several figures of a row.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { LedgerItem } from "./chart.js";
import { type Figure, isBareSum } from "./figure.js";

export interface Portion {
  readonly items: readonly LedgerItem[];
  /** What it counts in each figure of the row. */
  readonly volumes: ReadonlyMap<Figure, Microlitres>;
  /** More of a row at once is rarer than one amount: tenths, as for slips. */
  readonly rarity: number;
}

interface Grouping {
  /** The group an item belongs to; null for none. */
  readonly of: (item: LedgerItem) => string | null;
  readonly rarity: number;
}

const WITHIN: readonly Grouping[] = [
  { of: ({ channel }) => channel ?? null, rarity: 0 },
  { of: ({ channel, role }) => (channel === undefined ? null : `${channel} ${role}`), rarity: 0 },
  { of: ({ carrier }) => (carrier ? "carriers" : null), rarity: 0 },
  { of: ({ line }) => line, rarity: 2 },
  { of: ({ item }) => item?.toLowerCase() ?? null, rarity: 2 },
];

/** Of a sum of which nothing else is charted, a row of the sheet is what may be passed over. */
const IN_BARE_SUM: Grouping = { of: ({ direction, category }) => `${direction} ${category}`, rarity: 3 };

const ALONG: readonly Grouping[] = [
  { of: ({ entries, role }) => `${entries.join()} ${role}`, rarity: 2 },
  { of: ({ bag }) => bag ?? null, rarity: 3 },
  { of: ({ carrier, line }) => (carrier ? `carriers ${line}` : null), rarity: 3 },
  { of: ({ carrier }) => (carrier ? "carriers" : null), rarity: 3 },
];

/** The portions with something in a figure, none twice; `row` is the figures of its row, itself among them. */
export function portionsOf(figure: Figure, row: readonly Figure[]): Portion[] {
  const numberOf = numbering();
  const found = new Map<string, Portion>();
  const one: Grouping = { of: (item) => String(numberOf(item)), rarity: 0 };
  const all: Grouping = { of: () => "all", rarity: 5 };
  const take = (groupings: readonly Grouping[], gatheredBy: (grouping: Grouping) => Gathered) => {
    for (const grouping of groupings) {
      const gathered = gatheredBy(grouping);
      for (const group of groupsIn(figure, grouping)) {
        const portion = gathered.get(group)!;
        const key = portion.items.map(numberOf).join();
        if (!found.has(key)) found.set(key, portion);
      }
    }
  };
  const ofRows = isBareSum(figure) ? [IN_BARE_SUM] : [];
  const within = [one, ...WITHIN, ...ofRows, ...(figure.adding === undefined ? [] : [all])];
  take(within, (grouping) => gatheredIn([figure], grouping));
  if (row.length > 1) take(ALONG, (grouping) => gatheredAlong(row, grouping));
  return [...found.values()];
}

const within = new WeakMap<Figure, readonly Portion[]>();

/** The portions of a figure by itself; asked for by every other figure that something may have gone to. */
export function portionsWithin(figure: Figure): readonly Portion[] {
  const known = within.get(figure) ?? portionsOf(figure, [figure]);
  within.set(figure, known);
  return known;
}

function groupsIn({ counted }: Figure, { of }: Grouping): Set<string> {
  return new Set(counted.flatMap(({ item }) => of(item) ?? []));
}

/** The portions of some figures by their group. */
type Gathered = ReadonlyMap<string, Portion>;

/** A row is gathered once for all its figures: they are as many as its portions are long. */
const alongRows = new WeakMap<readonly Figure[], Map<Grouping, Gathered>>();

function gatheredAlong(row: readonly Figure[], grouping: Grouping): Gathered {
  const known = alongRows.get(row) ?? new Map<Grouping, Gathered>();
  alongRows.set(row, known);
  const gathered = known.get(grouping) ?? gatheredIn(row, grouping);
  known.set(grouping, gathered);
  return gathered;
}

function gatheredIn(figures: readonly Figure[], { of, rarity }: Grouping): Gathered {
  const portions = new Map<string, Growing>();
  for (const figure of figures) {
    for (const { item, volume } of figure.counted) {
      const group = of(item);
      if (group === null) continue;
      const portion: Growing = portions.get(group) ?? { items: [], volumes: new Map(), rarity };
      portions.set(group, portion);
      portion.items.push(item);
      portion.volumes.set(figure, (portion.volumes.get(figure) ?? 0) + volume);
    }
  }
  return portions;
}

interface Growing extends Portion {
  readonly items: LedgerItem[];
  readonly volumes: Map<Figure, Microlitres>;
}

/** A number for each item, the same whenever it is asked for. */
function numbering(): (item: LedgerItem) => number {
  const numbers = new Map<LedgerItem, number>();
  return (item) => {
    if (!numbers.has(item)) numbers.set(item, numbers.size);
    return numbers.get(item)!;
  };
}
