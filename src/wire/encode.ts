/**
 * From an entry as the calculation sees it to one ready to be posted: what the ledger proposes to a person
 * is told in the same notation in which people chart. Defaults are left out, as a person would.
 */

import type { Entry, FlowRate, VolumeToInfuse } from "../infusion/entry.js";
import { formatInstant } from "../time/zone.js";
import type { PostedFact } from "./entries/facts.js";
import { millilitres } from "./quantity.js";

/** The kinds that are ever proposed. */
type Proposed = Extract<
  Entry,
  {
    kind:
      | "total-read"
      | "totals-reset"
      | "therapy-changed"
      | "rate-changed"
      | "flow-started"
      | "flow-paused"
      | "flow-resumed"
      | "flow-stopped"
      | "volume-to-infuse-set"
      | "secondary-started"
      | "secondary-ended"
      | "bolus-started"
      | "bolus-stopped"
      | "bag-hung"
      | "bag-taken-down"
      | "bag-level-read"
      | "channel-disconnected"
      | "variance-settled";
  }
>;

/**
 * The entry with the clocks of a zone; undefined for a kind that is never proposed. A decision is without its
 * reason, which only the person who takes it can give.
 */
export function encodeEntry(entry: Entry, zone: string): PostedFact | undefined {
  const fields = fieldsOf(entry as Proposed);
  if (fields === undefined) return undefined;
  const order = entry.order === undefined ? {} : { order: entry.order };
  return { kind: entry.kind, at: formatInstant(entry.at, zone), ...order, ...fields } as PostedFact;
}

function fieldsOf(entry: Proposed): object | undefined {
  switch (entry.kind) {
    case "total-read":
      return {
        channel: entry.channel,
        total: entry.total,
        volume: millilitres(entry.volume),
        ...given("position", entry.position),
      };
    case "totals-reset":
      // Proposed is only a clear that has been, so what it left unread cannot be read any more.
      return {
        channel: entry.channel,
        totals: [...entry.totals],
        ...(entry.leaveUncaptured === true && { leaveUncaptured: { reason: "already-cleared" } }),
      };
    case "flow-started":
      return {
        channel: entry.channel,
        rate: speed(entry.rate),
        ...limited(entry.volumeToInfuse),
        ...given("keepOpenRate", entry.keepOpenRate, millilitres),
      };
    case "rate-changed":
      return { channel: entry.channel, role: entry.role, rate: speed(entry.rate) };
    case "volume-to-infuse-set":
      return { channel: entry.channel, role: entry.role, ...limited(entry.volumeToInfuse) };
    case "secondary-started":
      return {
        channel: entry.channel,
        rate: speed(entry.rate),
        ...limited(entry.volumeToInfuse),
        whenDone: entry.whenDone,
      };
    case "bolus-started":
      return {
        channel: entry.channel,
        volume: millilitres(entry.volume),
        rate: millilitres(entry.rate),
        whenDone: entry.whenDone,
      };
    case "bag-hung":
      return {
        channel: entry.channel,
        bag: entry.bag,
        role: entry.role,
        fluid: entry.fluid,
        volume: millilitres(entry.volume),
        ...given("remaining", entry.remaining, millilitres),
        ...given("additives", entry.additives, (additives) =>
          additives.map(({ name, amount, unit }) => ({ name, amount: amount / 1_000_000, unit })),
        ),
      };
    case "bag-taken-down":
      return { bag: entry.bag, ...given("remaining", entry.remaining, millilitres) };
    case "bag-level-read":
      return {
        bag: entry.bag,
        remaining: millilitres(entry.remaining),
        ...given("method", entry.method),
      };
    case "variance-settled":
      return { reading: entry.reading, use: entry.use };
    case "therapy-changed":
    case "flow-paused":
    case "flow-resumed":
    case "flow-stopped":
    case "secondary-ended":
    case "bolus-stopped":
    case "channel-disconnected":
      return { channel: entry.channel };
    default:
      entry satisfies never;
      return undefined;
  }
}

function speed(rate: FlowRate): number | "unknown" {
  return rate === "unknown" ? rate : millilitres(rate);
}

function limited(volume: VolumeToInfuse): object {
  if (volume === "bag") return {};
  return { volumeToInfuse: volume === "none" ? volume : millilitres(volume) };
}

function given<T, U>(name: string, value: T | undefined, convert?: (value: T) => U): object {
  if (value === undefined) return {};
  return { [name]: convert === undefined ? value : convert(value) };
}
