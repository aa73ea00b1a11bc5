/**
 * The state of an encounter as text and back: what still has a say in the course, exactly. Equal
 * texts go on alike, which is how a late entry's effect is known to have ended; all but for bags that
 * came down long ago and are hung again, of which the text says nothing.
 */

import { HOUR, type Instant, later } from "../time/instant.js";
import { otherAt } from "./counter.js";
import { fromTicks, toTicks, type Volume } from "./quantity.js";
import { recentAt } from "./recent.js";
import { type Bag, type Chamber, type Channel, type ShelvedBag, type State, stillYoung } from "./state.js";

/** Written first, so that a checkpoint of another calculation is never read as one of this. */
const FORM = 8;

/**
 * How long a text knows of a bag that came down. Hardly any is hung again after a day, and whatever was
 * charted late about one stays in every text for as long as this.
 */
const LATELY = 24 * HOUR;

interface Written extends Pick<State, "awayUnknown" | "discharged" | "weight"> {
  readonly form: number;
  readonly channels: readonly unknown[];
  readonly bags: readonly unknown[];
  /** Key and what it holds. */
  readonly shelf: readonly (readonly [string, unknown])[];
  readonly chambers: readonly unknown[];
  readonly lines: readonly string[];
  readonly irrigating: readonly string[];
}

/** The text of the state at an instant, all of whose channels are worked out up to it. */
export function stateText(state: State, at: Instant): string {
  const lately = sorted(state.shelf).filter(([, { since }]) => later(since, LATELY) >= at);
  const written: Written = {
    form: FORM,
    channels: sorted(state.channels).map(([, channel]) => plain(asOf(channel, at))),
    bags: sorted(state.bags).map(([, bag]) => plain(bag)),
    shelf: lately.map(([bag, shelved]) => [bag, plain(shelved)]),
    chambers: sorted(state.chambers).map(([, chamber]) => plain(chamber)),
    lines: [...state.lines].sort(),
    irrigating: [...state.irrigating].sort(),
    awayUnknown: state.awayUnknown,
    discharged: state.discharged,
    weight: state.weight,
  };
  return JSON.stringify(written);
}

/** The state a text says; undefined when it is of another form and has to be worked out again. */
export function stateFrom(text: string): State | undefined {
  const written = JSON.parse(text) as Written;
  if (written.form !== FORM) return undefined;
  const channels = written.channels.map((channel) => exact(channel) as Channel);
  const bags = written.bags.map((bag) => exact(bag) as Bag);
  const chambers = written.chambers.map((chamber) => exact(chamber) as Chamber);
  const shelf = written.shelf.map(([bag, shelved]): [string, ShelvedBag] => [
    bag,
    exact(shelved) as ShelvedBag,
  ]);
  return {
    channels: new Map(channels.map((channel) => [channel.channel, channel])),
    bags: new Map(bags.map((bag) => [bag.bag, bag])),
    shelf: new Map(shelf),
    chambers: new Map(chambers.map((chamber) => [chamber.chamber, chamber])),
    lines: new Set(written.lines),
    irrigating: new Set(written.irrigating),
    awayUnknown: written.awayUnknown,
    discharged: written.discharged,
    weight: written.weight,
  };
}

/** What has a say of a bag that came down, once it is hung again. */
export function shelvedText(bag: ShelvedBag | undefined): string | undefined {
  return bag && JSON.stringify(plain({ holds: bag.holds, found: bag.found, contents: bag.contents }));
}

/** The channel without what only mattered before an instant. */
function asOf(channel: Channel, at: Instant): Channel {
  const { endedByTakingDown: ended, reports, counters } = channel;
  const young = Object.entries(counters).map(([total, counter]) => [
    total,
    { ...counter, recent: recentAt(counter.recent, at), other: otherAt(counter.other, at) },
  ]);
  return {
    ...channel,
    counters: Object.fromEntries(young),
    endedByTakingDown: ended !== null && ended < at ? null : ended,
    reports: reports.filter((report) => stillYoung(report, at)),
  };
}

function sorted<T>(map: ReadonlyMap<string, T>): [string, T][] {
  return [...map.entries()].sort(([a], [b]) => (a < b ? -1 : 1));
}

/**
 * A value as JSON can say it: volumes as `{ ticks }`, and the fields of an object in order of their
 * names, since spreading keeps the order in which they were first set, which differs by the course.
 */
function plain(value: unknown): unknown {
  if (typeof value === "bigint") return { ticks: toTicks(value as Volume) };
  if (Array.isArray(value)) return value.map(plain);
  if (typeof value !== "object" || value === null) return value;
  const fields = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(fields.map(([name, field]) => [name, plain(field)]));
}

/** The value that `plain` wrote. */
function exact(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(exact);
  if (typeof value !== "object" || value === null) return value;
  if ("ticks" in value) return fromTicks(value.ticks as string);
  return Object.fromEntries(Object.entries(value).map(([name, field]) => [name, exact(field)]));
}
