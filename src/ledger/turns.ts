/**
 * Turns: when a channel came to run, or to stand, as it does, and by which entry. The course is followed
 * from further and further back until what was asked for is found, since a rate may have been set, and a
 * channel paused, long before the period in which somebody asks why.
 *
 * Invariant: the turns of one channel come in the order in which they happened.
 */

import { effectiveRate } from "../infusion/advance.js";
import { comeUpTo, follow } from "../infusion/course.js";
import type { FlowRate } from "../infusion/entry.js";
import { NOWHERE, type Sink } from "../infusion/flow.js";
import { type Channel, delivering, type FlowSource, type Programme, type State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { BEFORE_EVERYTHING, type Known, type Stretch, stretchBetween } from "./replay.js";

/** What a channel does: `ended` is with nothing left to run, or nothing started yet. */
export type Standing = "delivering" | "paused" | "waiting" | "stopped" | "disconnected" | "ended";

interface Turned {
  readonly channel: string;
  readonly at: Instant;
  /** The entry that made it so; of what happened by itself, the one that had started what came to its end. */
  readonly entry: string;
}

/** A programme got the rate it has. */
export interface RateTurn extends Turned {
  readonly source: FlowSource;
  readonly startedBy: string;
  readonly rate: FlowRate;
}

/** A channel came to stand as it does. */
export interface StandTurn extends Turned {
  readonly is: Standing;
  readonly was: Standing;
}

export interface Turns {
  readonly rates: readonly RateTurn[];
  readonly stands: readonly StandTurn[];
}

/**
 * The turns of some channels up to the end of a period (what happens at that very instant is none of
 * them), from so far back that they are enough, or from the beginning of the stay.
 */
export function* turnsOver(
  known: Known,
  settingsAt: SettingsAt,
  { start, end }: Period,
  channels: ReadonlySet<string>,
  enough: (turns: Turns) => boolean,
): Inquiry<Turns> {
  for (let back = 0; ; back = Math.max(DAY, back * 2)) {
    const stretch = yield* stretchBetween(known, settingsAt, later(start, -back), end);
    const turns = turnsIn(stretch, end, channels, settingsAt);
    if (stretch.at === BEFORE_EVERYTHING || enough(turns)) return turns;
  }
}

const SOURCES: readonly FlowSource[] = ["primary", "secondary", "bolus"];

type By = Omit<Turned, "channel">;

/** Everything a stretch of the course turns, followed entry by entry. */
function turnsIn(
  { state: before, entries }: Stretch,
  end: Instant,
  channels: ReadonlySet<string>,
  settingsAt: SettingsAt,
): Turns {
  const rates: RateTurn[] = [];
  const stands: StandTurn[] = [];
  let state = before;
  const goOn = (next: State, byOf: (channel: string) => By | undefined) => {
    for (const channel of channels) {
      const [old, now] = [state.channels.get(channel), next.channels.get(channel)];
      const by = old === now || now === undefined ? undefined : byOf(channel);
      if (by === undefined) continue;
      for (const rate of newRates(old, now!)) rates.push({ channel, ...by, ...rate });
      const [was, is] = [standingOf(old), standingOf(now)];
      if (was !== is) stands.push({ channel, ...by, was, is });
    }
    state = next;
  };
  const comeBy = (to: Instant) => {
    const ends = new Map<string, By>();
    const finished: Sink["finished"] = ({ channel, programme, at }) =>
      ends.set(channel, { at, entry: starterOf(programme) });
    goOn(comeUpTo(state, to, { ...NOWHERE, finished }), (channel) => ends.get(channel));
  };
  for (const { placed } of entries) {
    const by = { at: placed.entry.at, entry: placed.id };
    comeBy(by.at);
    goOn(follow(state, placed, settingsAt, NOWHERE), () => by);
  }
  comeBy(end);
  return { rates, stands };
}

/** The programmes of a channel that run, or would, at another rate than before. */
function newRates(old: Channel | undefined, now: Channel) {
  return SOURCES.flatMap((source) => {
    const [before, programme] = [old?.[source] ?? null, now[source]];
    if (programme === null) return [];
    const { startedBy } = programme;
    const rate = rateIn(programme);
    const asBefore = before?.startedBy === startedBy && rateIn(before) === rate;
    return asBefore ? [] : [{ source, startedBy, rate }];
  });
}

function rateIn(programme: Programme): FlowRate {
  return programme.rate === "unknown" ? "unknown" : effectiveRate(programme, programme.rate);
}

function standingOf(channel: Channel | undefined): Standing {
  if (channel === undefined || !channel.connected) return "disconnected";
  if (channel.hold !== "none") return channel.hold;
  return delivering(channel) === null ? "ended" : "delivering";
}

/** The entry that started a programme. */
export function starterOf(programme: string): string {
  return programme.split("/")[0]!;
}
