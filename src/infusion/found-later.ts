/**
 * Levels of signed time that were recorded after the signature. They say what a bag held, and so what later levels
 * are measured from; but what flowed until the end of all that was signed stays, and with it when the bag ran
 * empty. From then on the bag holds so much more or less than was computed.
 */

import { earliest, type Instant } from "../time/instant.js";
import { resolvedAnew } from "./bag-limits.js";
import { contentsAt } from "./contents.js";
import { bagWith } from "./copies.js";
import { minus, plus, type Volume } from "./quantity.js";
import type { Bag, Channel, Draft, FoundLater } from "./state.js";

type Finding = Pick<Bag, "holds" | "found">;

/** Of most bags nothing was found that does not count yet. */
export const NOTHING_FOUND: readonly FoundLater[] = [];

/** What a bag holds by the last that was read of it, though the course may not know yet. */
export function holdsAsRead({ holds, found }: Finding): Volume {
  return found.reduce((sum, { off }) => plus(sum, off), holds);
}

/**
 * What was found of a bag once a level is read that counts from an instant on: it takes the place of what was to
 * count from then or later, while what counts before that has been signed since.
 */
export function foundWith({ holds, found }: Finding, level: Volume, from: Instant): readonly FoundLater[] {
  const before = found.filter((one) => one.from < from);
  return [...before, { off: minus(level, holdsAsRead({ holds, found: before })), from }];
}

/** Puts what was found of a channel's bags in force, where it counts by now. */
export function withFound(draft: Draft, channel: Channel): void {
  for (const bag of foundOn(draft, channel)) {
    const due = bag.found.filter(({ from }) => from <= channel.upTo);
    if (due.length === 0) continue;
    const holds = holdsAsRead({ holds: bag.holds, found: due });
    const contents = bag.contents === null ? null : contentsAt(holds, bag.contents);
    const counted = bagWith(bag, { holds, contents, found: bag.found.slice(due.length) });
    draft.hang(counted);
    draft.put(resolvedAnew(draft.channel(channel.channel)!, counted));
  }
}

/** Up to where a channel goes on with what its bags hold now: `to`, unless one of them was found otherwise before. */
export function untilFound(draft: Draft, channel: Channel, to: Instant): Instant {
  const bags = foundOn(draft, channel);
  return bags.length === 0 ? to : earliest(to, ...bags.flatMap(({ found }) => found[0]!.from));
}

const NO_BAGS: readonly Bag[] = [];

function foundOn(draft: Draft, { primaryBag, secondaryBag }: Channel): readonly Bag[] {
  const [primary, secondary] = [draft.bag(primaryBag), draft.bag(secondaryBag)];
  if (!primary?.found.length && !secondary?.found.length) return NO_BAGS;
  return [primary, secondary].flatMap((bag) => (bag?.found.length ? [bag] : []));
}
