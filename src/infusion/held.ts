/**
 * What a signed figure rests on: the anchors there were when it was signed. A reading recorded since may
 * change how an older one is judged; as long as nothing happened otherwise, what was signed is apportioned by
 * what was there then.
 */

import { type Instant, latest } from "../time/instant.js";
import type { Anchor } from "./anchor.js";

/** The anchors of one running total, or of the levels of one bag, that a signed span rests on. */
export interface Held {
  readonly counter: string;
  readonly anchors: readonly Anchor[];
}

/** A span whose figures somebody has signed, and when in the order of recording. */
export interface Signed {
  readonly from: Instant;
  readonly to: Instant;
  readonly sequence: number;
  /** The counters of which what was there then stands, whatever is made of it now. */
  readonly holds?: readonly Held[];
}

/** What an anchor is of: a running total of a channel, or a bag's levels. A segment is of itself alone. */
export function counterOf({ kind, channel, total, bag, entry }: Anchor): string {
  return JSON.stringify(kind === "segment" ? [kind, entry] : [kind, channel, kind === "level" ? bag : total]);
}

export function overlaps(
  a: { readonly from: Instant; readonly to: Instant },
  b: { readonly from: Instant; readonly to: Instant },
): boolean {
  return a.from < b.to && b.from < a.to;
}

/** The anchors as they are judged now, but for those that signed spans hold. */
export function withHeld(anchors: readonly Anchor[], signed: readonly Signed[]): Anchor[] {
  const holding = signed.filter(({ holds = [] }) => holds.length > 0);
  if (holding.length === 0) return [...anchors];
  const held = new Map<string, Anchor>();
  let judged = anchors;
  for (const span of holding) {
    for (const { counter, anchors: own } of span.holds!) {
      const reaches = latest(span.to, ...own.map(({ to }) => to));
      judged = judged.filter((anchor) => {
        const apart = counterOf(anchor) !== counter || !overlaps(anchor, { from: span.from, to: reaches });
        return apart || (anchor.sequence > span.sequence && anchor.to > reaches);
      });
      for (const anchor of own) held.set(`${anchor.entry} ${anchor.over} ${counter}`, anchor);
    }
  }
  const anew = judged.filter((anchor) => !held.has(`${anchor.entry} ${anchor.over} ${counterOf(anchor)}`));
  return [...anew, ...held.values()];
}

/** Whether two lists of anchors, in any order, say the same of what was delivered when. */
export function alike(some: readonly Anchor[], others: readonly Anchor[]): boolean {
  if (some.length !== others.length) return false;
  const told = (anchors: readonly Anchor[]) => anchors.map(saying).sort().join("\n");
  return told(some) === told(others);
}

function saying({ entry, over, from, to, delivered, basis }: Anchor): string {
  return [entry, over, from, to, delivered, basis].join(" ");
}
