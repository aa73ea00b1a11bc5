/**
 * How much of a running total may go unread before anybody is asked or told: more than the unit's limit and
 * two minutes of flow. Those minutes are the delay between two hands, while what runs simply goes on. A
 * bolus is no such minute: it was given, and as a whole.
 */

import type { Settings } from "../conventions/settings.js";
import type { Mark } from "../infusion/mark.js";
import { volumeOf } from "../infusion/quantity.js";
import { type Instant, MINUTE } from "../time/instant.js";

const BRIEF = 2 * MINUTE;

/**
 * Whether what was counted since a mark is more than may go unread, or, of a counter that nobody knows the
 * rate of, has gone unread for longer.
 */
export function isMuch(mark: Mark, at: Instant, settings: Pick<Settings, "askAbove">): boolean {
  return mark.atLeast ? at - mark.from > BRIEF : mark.since > volumeOf(settings.askAbove) && !isBrief(mark);
}

/** Whether so little flowed since a mark that it is only the delay between two hands. */
export function isBrief({ flowing, bolus }: Mark): boolean {
  return flowing <= BRIEF && !bolus;
}
