/**
 * What was left out of every interval, too little in each to differ and enough in the total: keep-open flow of
 * 5 mL/h is 120 mL in a day. It must be missing from every one of the figures added up.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { LedgerItem } from "./chart.js";
import { type Figure, signedIn } from "./figure.js";
import { saidItems } from "./said.js";
import { oneEffect, type Slip } from "./slip.js";
import { effectOn, isNear, type Way, wayOf } from "./way.js";

const GROUPINGS: readonly ((item: LedgerItem) => string | null)[] = [
  ({ carrier }) => (carrier ? "" : null),
  ({ carrier, line }) => (carrier ? line : null),
  ({ carrier, category }) => (carrier ? category : null),
  ({ channel }) => channel ?? null,
  ({ bag }) => bag ?? null,
  ({ category, item }) => `${category} ${item}`,
];

/** The ways to explain what parts that each match come to in a total; `figure` asks about that much. */
export function littleByLittle(figure: Figure, parts: readonly Figure[]): Way[] {
  const items = parts.flatMap(({ counted }) => counted.map(({ item }) => item));
  const ways = new Map<string, Way>();
  for (const of of GROUPINGS) {
    for (const group of new Set(items.flatMap((item) => of(item) ?? []))) {
      const own = items.filter((item) => of(item) === group);
      const slip = leftOutThroughout(own, figure);
      const isMissing = parts.every((part) => isNear(part.difference, -volumeIn(part, own), part));
      if (!isMissing || !isNear(figure.difference, effectOn(figure, [slip]), figure)) continue;
      const key = own.map((item) => items.indexOf(item)).join();
      if (!ways.has(key)) ways.set(key, wayOf(figure, [slip], []));
    }
  }
  return [...ways.values()];
}

function volumeIn(part: Figure, own: readonly LedgerItem[]): Microlitres {
  return part.counted.reduce((sum, { item, volume }) => sum + (own.includes(item) ? volume : 0), 0);
}

function leftOutThroughout(items: readonly LedgerItem[], figure: Figure): Slip {
  const volume = items.reduce((sum, item) => sum + signedIn(figure, item).volume, 0);
  return {
    kind: items.every(({ carrier }) => carrier) ? "carrier-left-out" : "left-out",
    items,
    effects: oneEffect(figure, -volume),
    rarity: 10,
    tell: (words) =>
      `${saidItems(items, words)} is in no figure of the chart, a little in each interval: add it to the total.`,
  };
}
