/**
 * The volume on a bag's label was charted for what went in: where the bag was hung or came down, with or without
 * what it gave in the other intervals.
 */

import type { Microlitres } from "../../../infusion/entry.js";
import type { LedgerItem } from "../chart.js";
import type { Figure } from "../figure.js";
import type { Portion } from "../portions.js";
import { named, saidSpan } from "../said.js";
import { type FindSlips, oneEffect, type Slip, times } from "../slip.js";

export const bagForDelivered: FindSlips = function* ({ figure, sheet }) {
  const row = sheet.row(figure);
  for (const bag of bagsIn(figure)) {
    const figures = row.filter(({ counted }) => counted.some(({ item }) => item.bag === bag));
    const whole = wholeBag(bag, figures);
    for (const place of new Set([figures[0]!, figures.at(-1)!])) {
      const delivered = whole.volumes.get(place)!;
      if (place === figure) yield labelled(whole, bag, place, oneEffect(place, whole.label - delivered), 0);
      if (figures.length === 1) continue;
      const effects = times(whole.volumes, -1).set(place, whole.label - delivered);
      yield labelled(whole, bag, place, effects, 2);
    }
  }
};

function bagsIn({ counted }: Figure): Set<string> {
  return new Set(
    counted.flatMap(({ item: { bag, label } }) =>
      typeof bag === "string" && label !== undefined ? [bag] : [],
    ),
  );
}

interface WholeBag extends Omit<Portion, "rarity"> {
  readonly label: Microlitres;
}

function wholeBag(bag: string, figures: readonly Figure[]): WholeBag {
  const items: LedgerItem[] = [];
  const volumes = new Map<Figure, Microlitres>();
  for (const figure of figures) {
    for (const { item, volume } of figure.counted) {
      if (item.bag !== bag) continue;
      items.push(item);
      volumes.set(figure, (volumes.get(figure) ?? 0) + volume);
    }
  }
  return { items, volumes, label: items.find(({ label }) => label !== undefined)!.label! };
}

function labelled(
  { items, volumes, label }: WholeBag,
  bag: string,
  place: Figure,
  effects: Slip["effects"],
  rarity: number,
): Slip {
  const inPlace = items.filter((item) => place.counted.some((counted) => counted.item === item));
  return {
    kind: "bag-for-delivered",
    items: effects.size === 1 ? inPlace : items,
    effects,
    rarity: 12 + rarity,
    tell: (words) =>
      `The ${words.volume(label)} on the label of ${bag} (${named(inPlace)}) seem to be charted in ` +
      `${saidSpan(place, words)}; it delivered ${words.volume(volumes.get(place)!)} there: chart what went in.`,
  };
}
