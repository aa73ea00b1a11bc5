/**
 * What came to light before a change and is judged together with what it changes: the readings that one
 * in question goes on from, the levels of a bag before the last one, the clear of which there is a second
 * report. It reaches back to where the first of them began, and no further, so that an entry near now
 * costs the same on the first day and the ninetieth.
 */

import { isDrifting } from "../findings/questions.js";
import { follow } from "../infusion/course.js";
import { type Event, listing } from "../infusion/event.js";
import type { TotalJudged } from "../infusion/evidence.js";
import { isFarFromSure } from "../infusion/mark.js";
import { NOTHING } from "../infusion/quantity.js";
import { SAME_EVENT_WITHIN, type State } from "../infusion/state.js";
import type { SettingsAt } from "../infusion/step.js";
import type { Inquiry } from "../store/store.js";
import { DAY } from "../time/calendar.js";
import { earliest, type Instant, later, latest } from "../time/instant.js";
import { END_OF_TIME, type Known, stretchBetween } from "./replay.js";
import type { Tail, TailEntry } from "./tail.js";

type Happened = Pick<TailEntry, "placed" | "events">;

/** What the events of a change, as things were and as they are, lean on of what came before its first place. */
export function* leanedOn(
  known: Known,
  settingsAt: SettingsAt,
  tail: Tail,
  firstChanged: number,
  changed: readonly Event[],
  before: State,
): Inquiry<Event[]> {
  const leaning = new Leaning(changed);
  leaning.toFoundClears(before);
  if (leaning.isNothing) return [];
  leaning.goBack(tail.entries, firstChanged);
  let from = tail.from;
  while (leaning.reach < from) {
    const stretch = yield* stretchBetween(known, settingsAt, leaning.reach, from);
    let { state } = stretch;
    const happened = stretch.entries.map(({ placed }): Happened => {
      const events: Event[] = [];
      state = follow(state, placed, settingsAt, listing(events));
      return { placed, events };
    });
    leaning.goBack(happened, happened.length);
    from = stretch.at;
  }
  return leaning.found.toReversed();
}

/** How far back is to be gone on which channels, and what was found there, the latest first. */
class Leaning {
  readonly found: Event[] = [];
  readonly #channels = new Set<string>();
  /** Whose levels matter: of the bags that hung before them nothing is asked. */
  readonly #bags = new Set<string>();
  #reach: Instant = END_OF_TIME;
  #limit: Instant = END_OF_TIME;

  constructor(changed: readonly Event[]) {
    for (const event of changed) {
      const start = startOf(event);
      if (start === null) continue;
      this.#channels.add(channelOf(event)!);
      if (event.event === "level") this.#bags.add(event.what.bag);
      this.#reach = earliest(this.#reach, start);
    }
    this.#limit = later(this.#reach, -DAY);
  }

  get isNothing(): boolean {
    return this.#channels.size === 0;
  }

  get reach(): Instant {
    return this.#reach;
  }

  /** What happens after a clear that was found, and before it is known when that was, bears on what it lost. */
  toFoundClears({ channels }: State): void {
    for (const { channel, counters } of channels.values()) {
      for (const counter of Object.values(counters)) {
        if (!isFarFromSure(counter)) continue;
        this.#channels.add(channel);
        this.#reach = earliest(this.#reach, counter.from);
      }
    }
  }

  /** Back from before a place; what is found may have begun earlier still, and then it is gone back so far. */
  goBack(happened: readonly Happened[], place: number): void {
    for (let i = place - 1; i >= 0 && happened[i]!.placed.entry.at >= this.#reach; i--) {
      for (const event of happened[i]!.events.toReversed()) this.#take(event);
    }
  }

  #take(event: Event): void {
    if (!MATTERING.has(event.event) || !("channel" in event.what) || event.what.channel === null) return;
    if (!this.#channels.has(event.what.channel)) return;
    if (event.event === "level" && !this.#bags.has(event.what.bag)) return;
    this.found.push(event);
    const start = startOf(event) ?? this.#reach;
    // Segments that follow one another go on for ever.
    this.#reach = earliest(this.#reach, event.event === "segment" ? latest(start, this.#limit) : start);
  }
}

const MATTERING: ReadonlySet<Event["event"]> = new Set(["read", "level", "cleared", "segment"]);

/** Since when what happened matters to an event; null where it stands for itself. */
function startOf({ event, what }: Event): Instant | null {
  switch (event) {
    case "read":
      return isInQuestion(what) || isDrifting(what) || isFarFromSure(what.over) ? what.over.from : null;
    case "cleared":
      return what.written.since > NOTHING || isFarFromSure(what.over)
        ? earliest(what.written.from, what.over.from)
        : null;
    case "level":
      return what.anchors ? null : what.over.from;
    case "segment":
      return what.start;
    case "note":
      return what.twin === undefined ? null : later(what.at, -SAME_EVENT_WITHIN);
    default:
      return null;
  }
}

/** Whether a reading asks something, or shows whether one before it does. */
function isInQuestion({ outcome, setsAside, checkOnly }: TotalJudged): boolean {
  return checkOnly || setsAside !== null || ["disputed", "waits", "follows"].includes(outcome);
}

function channelOf({ what }: Event): string | null {
  return "channel" in what ? what.channel : null;
}
