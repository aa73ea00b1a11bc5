/** Cutting what flowed at instants, and finding things in lists that are in order of time. */

import { type Instant, later, type Period } from "../time/instant.js";
import { deliveredBy, type Flow, flowWith } from "./flow.js";
import { minus } from "./quantity.js";

/** Those of a list in order of time that begin in a span, its end not included. */
export function beginningIn<T>(
  all: readonly T[],
  { from, to }: { readonly from: Instant; readonly to: Instant },
  startOf: (one: T) => Instant,
): T[] {
  return all.slice(firstFrom(all, from, startOf), firstFrom(all, to, startOf));
}

/** The cuts strictly inside a period. */
export function inside(cuts: readonly Instant[], { start, end }: Period): Instant[] {
  const itself = (cut: Instant) => cut;
  return cuts.slice(firstFrom(cuts, later(start, 1), itself), firstFrom(cuts, end, itself));
}

/** The first place of a list in order of time that lies at or after an instant, by halving. */
export function firstFrom<T>(all: readonly T[], at: Instant, timeOf: (one: T) => Instant): number {
  let [low, high] = [0, all.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeOf(all[middle]!) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

export function ascending(instants: readonly Instant[]): Instant[] {
  return [...new Set(instants)].sort((a, b) => a - b);
}

/** A flow in parts, cut at the instants that lie inside it. */
export function cutAt(flow: Flow, cuts: readonly Instant[]): Flow[] {
  const within = inside(cuts, flow);
  if (within.length === 0) return [flow];
  const bounds = [flow.start, ...within, flow.end];
  return within.concat(flow.end).map((end, i) => {
    const start = bounds[i]!;
    const volume = minus(deliveredBy(flow, end), deliveredBy(flow, start));
    return flowWith(flow, start, end, volume);
  });
}
