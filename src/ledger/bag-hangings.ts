/**
 * When bags were hung. A checkpoint knows of the bags that hang and of those that came down lately; what
 * an older one holds has a say only if it is hung again, and that is found here, by its key.
 */

import type { BagHung, Placed } from "../infusion/entry.js";
import type { State } from "../infusion/state.js";
import { ask, type Inquiry } from "../store/store.js";
import { countingOf, merged, placedOf } from "./families.js";
import type { Known } from "./replay.js";

/** The bags whose contents entries ask for, and of which a state says nothing: new ones, or old. */
export function bagsUnknown({ bags, shelf }: State, entries: readonly Placed[]): string[] {
  const unknown = new Set<string>();
  for (const { entry } of entries) {
    if ("bag" in entry && !bags.has(entry.bag) && !shelf.has(entry.bag)) unknown.add(entry.bag);
  }
  return [...unknown];
}

/** Every time one of some bags was hung, as far as it counts. */
export function* hangingsOf(known: Known, bags: readonly string[]): Inquiry<BagHung[]> {
  if (bags.length === 0) return [];
  const keys = bags.map((bag) => `bag:${bag}`);
  const stored = yield* ask({ ask: "declares", chain: known.chain, keys });
  const rows = stored.filter(({ sequence }) => sequence <= known.upTo);
  const wanted = new Set(bags);
  return countingOf(merged(rows, known.staged)).flatMap((one) => {
    const entry = placedOf(one)?.entry;
    return entry?.kind === "bag-hung" && wanted.has(entry.bag) ? [entry] : [];
  });
}
