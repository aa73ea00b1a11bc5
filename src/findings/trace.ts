/**
 * What rules trace back: from a flow to the entry that started it, from an instant to what flowed before.
 * Whatever is returned as the id of an entry is that of an original, so a finding can hang on it.
 */

import type { Collected } from "../infusion/collected.js";
import { firstFrom } from "../infusion/cuts.js";
import type { Entry, TotalName } from "../infusion/entry.js";
import { deliveredBy, type Flow } from "../infusion/flow.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import type { FlowSource } from "../infusion/state.js";
import { type Instant, later, type Period } from "../time/instant.js";
import { flowsOn } from "./lookup.js";

/**
 * The id of the entry that started what was programmed. A programme is named after it, and goes on after
 * a slash where each bag, or the keep-open rate, is one of its own; ids hold no slash.
 */
export function startOf({ programme }: { readonly programme: string }): string {
  return programme.split("/", 1)[0]!;
}

/** The flow of a channel that ended last, at or before an instant. */
export function lastFlow(collected: Collected, channel: string, by: Instant): Flow | undefined {
  return flowsOn(collected, channel).findLast((flow) => flow.end <= by);
}

/** What a running total counted within a period. */
export function countedWithin(
  collected: Collected,
  channel: string,
  total: TotalName,
  { start, end }: Period,
): Volume {
  const flows = flowsOn(collected, channel);
  // One flow at a time runs on a channel, so they end in the order in which they begin.
  const first = firstFrom(flows, later(start, 1), (flow) => flow.end);
  const last = firstFrom(flows, end, (flow) => flow.start);
  return flows
    .slice(first, last)
    .filter((flow) => flow.total === total)
    .reduce((sum, flow) => plus(sum, minus(deliveredBy(flow, end), deliveredBy(flow, start))), NOTHING);
}

/** The ids of entries that changed nothing: what they say is no part of the course. */
export function withoutEffect({ notes }: Collected): ReadonlySet<string> {
  const codes = ["entry-without-effect", "reported-twice"];
  return new Set(notes.filter(({ code }) => codes.includes(code)).map(({ entry }) => entry));
}

/** The entry that says what a source delivered has ended. */
export function ending(source: FlowSource, channel: string, at: Instant): Entry {
  switch (source) {
    case "primary":
      return { kind: "flow-stopped", at, channel };
    case "secondary":
      return { kind: "secondary-ended", at, channel };
    case "bolus":
      return { kind: "bolus-stopped", at, channel };
    default:
      return source satisfies never;
  }
}
