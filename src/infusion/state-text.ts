/**
 * The state of an encounter as text and back, exactly. Equal states have equal texts, which is how a
 * late entry's effect is known to have ended.
 */

import type { BodyWeight } from "./body-weight.js";
import { fromTicks, toTicks, type Volume } from "./quantity.js";
import type { Bag, Channel, State } from "./state.js";

/** Written first, so that a checkpoint of another calculation is never read as one of this. */
const FORM = 1;

interface Written {
  readonly form: number;
  readonly channels: readonly Channel[];
  readonly bags: readonly Bag[];
  readonly shelf: readonly (readonly [string, Volume])[];
  readonly awayUnknown: boolean;
  readonly discharged: boolean;
  readonly weight: BodyWeight | null;
}

export function stateText(state: State): string {
  const written: Written = {
    form: FORM,
    channels: sorted(state.channels).map(([, channel]) => inKeyOrder(channel)),
    bags: sorted(state.bags).map(([, bag]) => bag),
    shelf: sorted(state.shelf),
    awayUnknown: state.awayUnknown,
    discharged: state.discharged,
    weight: state.weight,
  };
  return JSON.stringify(written, (_key, value) =>
    typeof value === "bigint" ? { ticks: toTicks(value as Volume) } : value,
  );
}

/** The state a text says; undefined when it is of another form and has to be worked out again. */
export function stateFrom(text: string): State | undefined {
  const written = JSON.parse(text, (_key, value) =>
    isTicks(value) ? fromTicks(value.ticks) : value,
  ) as Written;
  if (written.form !== FORM) return undefined;
  return {
    channels: new Map(written.channels.map((channel) => [channel.channel, channel])),
    bags: new Map(written.bags.map((bag) => [bag.bag, bag])),
    shelf: new Map(written.shelf),
    awayUnknown: written.awayUnknown,
    discharged: written.discharged,
    weight: written.weight,
  };
}

function sorted<T>(map: ReadonlyMap<string, T>): [string, T][] {
  return [...map.entries()].sort(([a], [b]) => (a < b ? -1 : 1));
}

/** Spreading an object keeps the order in which its fields were first set, which differs by its course. */
function inKeyOrder<T extends object>(value: T): T {
  return Object.fromEntries(
    Object.entries(value)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, field]) => [key, isPlain(field) ? inKeyOrder(field) : field]),
  ) as T;
}

function isPlain(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isTicks(value: unknown): value is { ticks: string } {
  return isPlain(value) && typeof (value as { ticks?: unknown }).ticks === "string";
}
