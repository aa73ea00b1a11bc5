/** Slips in which something that counts in part, such as ice or drained irrigant, is charted whole. */

import type { LedgerItem } from "./chart.js";
import { signedIn } from "./figure.js";
import { saidItems } from "./said.js";
import { type Asked, oneEffect, type Slip, type SlipKind } from "./slip.js";

interface Told {
  readonly kind: SlipKind;
  /** What was charted, and as what. */
  readonly tell: (what: string, whole: string) => string;
}

/** Everything on one side that a portion of the figure holds, charted whole. */
export function* chartedWhole(
  { figure, portions }: Asked,
  side: LedgerItem["direction"],
  { kind, tell }: Told,
): Iterable<Slip> {
  for (const { items, volumes } of portions) {
    if (volumes.size > 1 || !items.every((item) => item.direction === side && isPart(item))) continue;
    const more = items.reduce((sum, item) => sum + wholeOf(item) - item.volume, 0);
    const sign = signedIn(figure, items[0]!).volume < 0 ? -1 : 1;
    yield {
      kind,
      items,
      effects: oneEffect(figure, sign * more),
      rarity: 8,
      tell: (words) =>
        tell(saidItems(items, words), words.volume(items.reduce((sum, item) => sum + wholeOf(item), 0))),
    };
  }
}

function wholeOf({ whole, volume }: LedgerItem): number {
  return whole ?? volume;
}

function isPart(item: LedgerItem): boolean {
  return wholeOf(item) > item.volume;
}
