/**
 * Something was charted in the interval before or after its own. An amount on a boundary belongs to the interval
 * that ends there, which is where people most often differ.
 */

import type { LedgerItem } from "../chart.js";
import { type Counted, type Figure, signedIn } from "../figure.js";
import type { Portion } from "../portions.js";
import { portionsWithin } from "../portions.js";
import { saidItems, saidSpan } from "../said.js";
import { type Asked, type FindSlips, oneEffect, type Slip } from "../slip.js";

export const neighbouringInterval: FindSlips = function* ({ figure, portions, sheet }: Asked) {
  const row = sheet.row(figure);
  const place = row.indexOf(figure);
  const besides = [row[place - 1], row[place + 1]].flatMap((one) =>
    one && touches(figure, one) ? [one] : [],
  );
  for (const beside of besides) {
    // Into or out of a figure that matches nothing was moved.
    if (Math.abs(beside.difference) <= sheet.tolerance) continue;
    for (const portion of within(portions, figure)) yield moved(portion, figure, beside);
    for (const portion of within(portionsWithin(beside), beside)) yield moved(portion, beside, figure);
  }
  const closed = besides.map((beside) => (beside.start < figure.start ? figure.start : figure.end));
  for (const portion of within(portions, figure)) {
    const { at } = portion.items[0]!;
    const onEdge = at === figure.start || at === figure.end;
    if (portion.items.length === 1 && onEdge && !closed.includes(at)) yield movedOut(portion, figure);
  }
  for (const item of besides.flatMap(({ counted }) => counted.map(({ item }) => item))) {
    const isAmount = item.channel === undefined;
    if (isAmount && (item.at === figure.start || item.at === figure.end)) yield inBoth(item, figure);
  }
  for (const item of sheet.outside(figure)) yield movedIn(signedIn(figure, item), figure);
};

function touches(figure: Figure, beside: Figure): boolean {
  return beside.end === figure.start || beside.start === figure.end;
}

/** Only what lies in the figure and nowhere else can be moved out of it. */
function within(portions: readonly Portion[], figure: Figure): Portion[] {
  return portions.filter(({ volumes }) => volumes.size === 1 && volumes.has(figure));
}

function moved({ items, volumes, rarity }: Portion, from: Figure, to: Figure): Slip {
  const volume = volumes.get(from)!;
  const onBoundary = items.every(({ at }) => at === from.end || at === from.start);
  return {
    kind: "neighbouring-interval",
    items,
    effects: new Map([
      [from, -volume],
      [to, volume],
    ]),
    rarity: (onBoundary ? 10 : 13) + rarity,
    tell: (words) =>
      `${saidItems(items, words)} belongs to ${saidSpan(from, words)} and seems to be charted in ` +
      `${saidSpan(to, words)}: move it.`,
  };
}

function movedOut({ items, volumes, rarity }: Portion, from: Figure): Slip {
  return {
    kind: "neighbouring-interval",
    items,
    effects: oneEffect(from, -volumes.get(from)!),
    rarity: 18 + rarity,
    tell: (words) =>
      `${saidItems(items, words)} may be charted in the interval beside ${saidSpan(from, words)}, which this chart ` +
      "does not show: look there.",
  };
}

/** At the border of two shifts each may have charted it; its own figure need not differ. */
function inBoth(item: LedgerItem, figure: Figure): Slip {
  return {
    kind: "counted-twice",
    items: [item],
    effects: oneEffect(figure, signedIn(figure, item).volume),
    rarity: 10,
    tell: (words) =>
      `${saidItems([item], words)} belongs to ${saidSpan(item, words)} and seems to be charted in ` +
      `${saidSpan(figure, words)} as well: take it out here.`,
  };
}

function movedIn({ item, volume }: Counted, to: Figure): Slip {
  return {
    kind: "neighbouring-interval",
    items: [item],
    effects: oneEffect(to, volume),
    rarity: 16,
    tell: (words) =>
      `${saidItems([item], words)} belongs to ${saidSpan(item, words)} and seems to be charted in ` +
      `${saidSpan(to, words)}: take it out here.`,
  };
}
