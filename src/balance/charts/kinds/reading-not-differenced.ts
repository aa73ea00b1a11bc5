/** A running total or a level was charted as it was read, without taking off the last reading. */

import type { LedgerItem } from "../chart.js";
import { type Figure, signedIn } from "../figure.js";
import { named } from "../said.js";
import { type FindSlips, oneEffect, type Slip } from "../slip.js";

export const readingNotDifferenced: FindSlips = function* ({ figure }) {
  const counters = new Map<string, LedgerItem[]>();
  for (const { item } of figure.counted) {
    if (item.reading === undefined && item.channel === undefined) continue;
    const key = counterOf(item);
    counters.set(key, [...(counters.get(key) ?? []), item]);
  }
  for (const items of counters.values()) {
    const slip = asRead(items, figure);
    if (slip !== null) yield slip;
  }
};

/** A secondary has a total of its own; what has no channel is a chamber, known by where it is. */
function counterOf({ channel, role, category, site, item }: LedgerItem): string {
  if (channel === undefined) return `${category} ${site ?? ""} ${item ?? ""}`;
  return `${channel} ${role === "secondary" ? "secondary" : "primary"}`;
}

/** What the counter showed last stands for all that it counted in the figure. */
function asRead(items: readonly LedgerItem[], figure: Figure): Slip | null {
  const read = items.flatMap((item) =>
    item.reading === undefined ? [] : [{ ...item, reading: item.reading }],
  );
  const [last] = read.sort((a, b) => b.at - a.at || b.reading - a.reading);
  if (last === undefined) return null;
  const counted = items.reduce((sum, { volume }) => sum + volume, 0);
  const more = last.reading - counted;
  if (more <= 0) return null;
  const sign = signedIn(figure, last).volume < 0 ? -1 : 1;
  return {
    kind: "reading-not-differenced",
    items,
    ...(last.readBy !== undefined && { besides: [last.readBy] }),
    effects: oneEffect(figure, sign * more),
    rarity: 12,
    tell: (words) =>
      `The total of ${words.volume(last.reading)} read at ${words.time(last.at)} (${named(items)}) seems to be charted ` +
      `as it stands: take off the reading before, which leaves ${words.volume(counted)}.`,
  };
}
