/** Ends that were computed and that no entry confirmed: of what comes after them nobody knows. */

import { followAll } from "../infusion/course.js";
import { NOWHERE, type UnknownSpan } from "../infusion/flow.js";
import type { State } from "../infusion/state.js";
import { type SettingsAt, unconfirmedSpan } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { countingBetween, type Known } from "./replay.js";

/**
 * Flows that ended by themselves before the end of a window and that nothing confirmed in time, as far
 * as is known by `until`. An entry after the window may still confirm them; `state` has followed those at
 * its end.
 */
export function* unconfirmedEnds(
  known: Known,
  state: State,
  end: Instant,
  until: Instant,
  settingsAt: SettingsAt,
): Inquiry<UnknownSpan[]> {
  const open = [...state.channels.values()].filter(({ unconfirmed }) => unconfirmed !== null);
  if (open.length === 0) return [];
  const lastChance = (at: Instant) => later(at, settingsAt(at).endConfirmedWithin);
  const lookTo = latest(end, ...open.map(({ unconfirmed }) => earliest(lastChance(unconfirmed!.at), until)));
  const after = lookTo > end ? yield* countingBetween(known, later(end, 1), later(lookTo, 1)) : [];
  const spans: UnknownSpan[] = [];
  for (const channel of open) {
    const pending = channel.unconfirmed!;
    if (until <= lastChance(pending.at)) continue;
    const told = after.map(({ placed }) => placed).filter(({ entry }) => entry.at <= lastChance(pending.at));
    const then = followAll(state, told, settingsAt, NOWHERE);
    const still = then.channels.get(channel.channel)?.unconfirmed?.at === pending.at;
    const span = still ? unconfirmedSpan(channel, pending, until, settingsAt) : null;
    if (span !== null) spans.push({ ...span, end });
  }
  return spans;
}
