/**
 * When something happened, as it is chosen: now, some minutes ago, or at a clock time of a day. It is never guessed:
 * a time that the clock shows twice is asked about, and what is still to come is refused.
 */

import { moment } from "../words/wall.js";
import { instantsOf, writtenIn } from "../words/zone.js";

/** So many minutes ago are one touch away. */
export const AGO = [0, 5, 10, 15] as const;

export type TimeChoice =
  /** Minutes before what "now" is; `held` is that instant, once it was sent. */
  | { readonly ago: number; readonly held: string | null }
  /** A clock time, as far as it is typed ("05:1"); `which` of the two, where there are. */
  | { readonly date: string; readonly typed: string; readonly which: number | null };

export const NOW: TimeChoice = { ago: 0, held: null };

/** What times are chosen from. */
export interface Clock {
  readonly zone: string;
  /** "Now", or the end of a shift that is over. */
  readonly now: string;
  /** The latest that may be chosen. */
  readonly latest: string;
  /** The earliest day that may be chosen has this instant. */
  readonly earliest: string;
}

export type ChosenTime =
  | { readonly at: string; readonly lacks: null }
  | { readonly at: null; readonly lacks: "time" | "which" | "no-such" | "to-come"; readonly both: string[] };

/** The instant of a choice, or what it lacks. */
export function chosenTime(choice: TimeChoice, { zone, now, latest }: Clock): ChosenTime {
  if ("ago" in choice) return { at: choice.held ?? ago(choice.ago, { zone, now }), lacks: null };
  if (choice.typed.length < 5) return { at: null, lacks: "time", both: [] };
  const all = instantsOf(zone, choice.date, choice.typed);
  const both = all.filter((instant) => moment(instant) <= moment(latest));
  if (all.length === 0) return { at: null, lacks: "no-such", both: [] };
  if (both.length === 0) return { at: null, lacks: "to-come", both: [] };
  // Both are offered although one is to come: that there are two is what must be seen.
  if (all.length > 1 && choice.which === null) return { at: null, lacks: "which", both: all };
  const at = all[choice.which ?? 0]!;
  return both.includes(at) ? { at, lacks: null } : { at: null, lacks: "to-come", both: all };
}

/** The instant some minutes before now. */
export function ago(minutes: number, { zone, now }: Pick<Clock, "zone" | "now">): string {
  return writtenIn(zone, moment(now) - minutes * 60_000);
}

/** The minute an instant lies in: people chart by the minute. */
export function minuteOf(zone: string, at: number): string {
  return writtenIn(zone, Math.floor(at / 60_000) * 60_000);
}
