/**
 * What people leave out, double or move as one: an amount; what a channel, a line or all carriers gave within a
 * figure; what one entry, a bag or the carriers of a line gave over several figures of a row.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { LedgerItem } from "./chart.js";
import type { Counted, Figure } from "./figure.js";

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
  const take = (groupings: readonly Grouping[], figures: readonly Figure[]) => {
    for (const { of, rarity } of groupings) {
      for (const group of groups(figure.counted, of)) {
        const portion = gathered(group, of, figures, rarity);
        const key = portion.items.map(numberOf).join();
        if (!found.has(key)) found.set(key, portion);
      }
    }
  };
  take([one, ...WITHIN, ...(figure.adding === undefined ? [] : [all])], [figure]);
  if (row.length > 1) take(ALONG, row);
  return [...found.values()];
}

function groups(counted: readonly Counted[], of: Grouping["of"]): Set<string> {
  return new Set(counted.flatMap(({ item }) => of(item) ?? []));
}

function gathered(group: string, of: Grouping["of"], figures: readonly Figure[], rarity: number): Portion {
  const items: LedgerItem[] = [];
  const volumes = new Map<Figure, Microlitres>();
  for (const figure of figures) {
    for (const { item, volume } of figure.counted) {
      if (of(item) !== group) continue;
      items.push(item);
      volumes.set(figure, (volumes.get(figure) ?? 0) + volume);
    }
  }
  return { items, volumes, rarity };
}

/** A number for each item, the same whenever it is asked for. */
function numbering(): (item: LedgerItem) => number {
  const numbers = new Map<LedgerItem, number>();
  return (item) => {
    if (!numbers.has(item)) numbers.set(item, numbers.size);
    return numbers.get(item)!;
  };
}
