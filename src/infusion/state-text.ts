/**
 * The state of an encounter as text and back, exactly. Equal states have equal texts, which is how a
 * late entry's effect is known to have ended.
 */

import { fromTicks, toTicks, type Volume } from "./quantity.js";
import type { Bag, Channel, State } from "./state.js";

/** Written first, so that a checkpoint of another calculation is never read as one of this. */
const FORM = 2;

interface Written extends Pick<State, "awayUnknown" | "discharged" | "weight"> {
  readonly form: number;
  readonly channels: readonly unknown[];
  readonly bags: readonly unknown[];
  /** Long after some weeks, so it is written plainly: key and ticks, in turn. */
  readonly shelf: readonly string[];
  readonly lines: readonly string[];
}

export function stateText(state: State): string {
  const written: Written = {
    form: FORM,
    channels: sorted(state.channels).map(([, channel]) => plain(channel)),
    bags: sorted(state.bags).map(([, bag]) => plain(bag)),
    shelf: sorted(state.shelf).flatMap(([bag, holds]) => [bag, toTicks(holds)]),
    lines: [...state.lines].sort(),
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
  const shelf = new Map<string, Volume>();
  for (let i = 0; i + 1 < written.shelf.length; i += 2) {
    shelf.set(written.shelf[i]!, fromTicks(written.shelf[i + 1]!));
  }
  return {
    channels: new Map(channels.map((channel) => [channel.channel, channel])),
    bags: new Map(bags.map((bag) => [bag.bag, bag])),
    shelf,
    lines: new Set(written.lines),
    awayUnknown: written.awayUnknown,
    discharged: written.discharged,
    weight: written.weight,
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
