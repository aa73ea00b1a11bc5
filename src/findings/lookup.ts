/**
 * What rules look up again and again, made once of the evidence and kept as long as that: a long stay has
 * tens of thousands of flows and entries, and a rule that goes through all of them for each takes seconds.
 */

import type { Collected } from "../infusion/collected.js";
import type { TotalJudged } from "../infusion/evidence.js";
import type { Flow } from "../infusion/flow.js";
import type { Evidence, Reported } from "./finding.js";

/** The flows of a channel, in order of time; they follow one another without overlapping. */
export function flowsOn({ flows }: Pick<Collected, "flows">, channel: string): readonly Flow[] {
  return flowsByChannel(flows).get(channel) ?? [];
}

/** The readings of a channel's totals, in order of time. */
export function readingsOn(
  { readings }: Pick<Collected, "readings">,
  channel: string,
): readonly TotalJudged[] {
  return readingsByChannel(readings).get(channel) ?? [];
}

/** The entry of an id, if it is among the evidence. */
export function reportedAs({ entries }: Pick<Evidence, "entries">, id: string): Reported | undefined {
  return entriesById(entries).get(id);
}

const flowsByChannel = onceOf((flows: readonly Flow[]) => grouped(flows));
const readingsByChannel = onceOf((readings: readonly TotalJudged[]) => grouped(readings));
const entriesById = onceOf(
  (entries: readonly Reported[]) => new Map(entries.map((one) => [one.placed.id, one])),
);

function grouped<T extends { readonly channel: string }>(all: readonly T[]): Map<string, T[]> {
  const byChannel = new Map<string, T[]>();
  for (const one of all) {
    const own = byChannel.get(one.channel);
    if (own === undefined) byChannel.set(one.channel, [one]);
    else own.push(one);
  }
  return byChannel;
}

/** A function of something that never changes, such as a list of evidence, worked out once for each. */
export function onceOf<T extends object, R>(make: (list: T) => R): (list: T) => R {
  const made = new WeakMap<T, R>();
  return (list) => {
    const known = made.get(list);
    if (known !== undefined) return known;
    const fresh = make(list);
    made.set(list, fresh);
    return fresh;
  };
}
