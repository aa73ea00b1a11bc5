/** What a running total counted last, as long ago as a charted time may stand for: what is read then may lie on either side. */

import type { Settings } from "../conventions/settings.js";
import { type Instant, later, latest } from "../time/instant.js";
import { type Counted, LONGEST_GRAIN, looseUntil } from "./mark.js";
import { delivered, NOTHING, plus, type Rate, type Volume } from "./quantity.js";

/** A flow at a known rate that a charted time may not be sure to lie after. */
export interface Recent {
  readonly rate: Rate;
  readonly start: Instant;
  readonly end: Instant;
}

/** As much of them as still matters at an instant, and no more, so that states that go on alike are alike. */
export function recentAt(recent: readonly Recent[], at: Instant): readonly Recent[] {
  const since = later(at, -LONGEST_GRAIN);
  return recent.filter(({ end }) => end > since).map((one) => ({ ...one, start: latest(one.start, since) }));
}

/**
 * What is recent with one flow more. An entry that changes no flow still cuts it; here the parts are one, so
 * that it leaves no trace. What is no longer recent goes as new flows come.
 */
export function joined(recent: readonly Recent[], { rate, start, end }: Counted): readonly Recent[] {
  if (rate === null) return recent;
  const last = recent.at(-1);
  const goesOn = last !== undefined && last.end === start && last.rate === rate;
  const longer = { rate, start: goesOn ? last.start : start, end };
  const before = goesOn ? recent.slice(0, -1) : recent;
  const since = end - LONGEST_GRAIN;
  const gone = before.length > 0 && before[0]!.end <= since;
  return [...(gone ? before.filter((one) => one.end > since) : before), longer];
}

/** What flowed within the span before an instant that a charted time stands for. */
export function flowedBefore(
  { recent }: { readonly recent: readonly Recent[] },
  at: Instant,
  grain: Settings["chartingGrain"],
): Volume {
  const from = at - (looseUntil(at, grain) - at);
  return recent
    .filter(({ end }) => end > from)
    .reduce((sum, { rate, start, end }) => plus(sum, delivered(rate, end - Math.max(start, from))), NOTHING);
}
