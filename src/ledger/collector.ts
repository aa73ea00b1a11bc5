/** Where the flows of an answer are collected, and one that nothing interrupted is told as one. */

import type { Flow, Note, Sink, UnknownSpan } from "../infusion/flow.js";
import { delivered, plus } from "../infusion/quantity.js";

/**
 * A sink that keeps what it is given. An entry that changes no flow (a reading, say) still cuts it; the
 * parts are kept as one, since nothing happened between them.
 */
export function collector() {
  const [flows, unknown, notes]: [Flow[], UnknownSpan[], Note[]] = [[], [], []];
  const lastOf = new Map<string, number>();
  const sink: Sink = {
    flow(flow) {
      const place = lastOf.get(flow.channel);
      const before = place === undefined ? undefined : flows[place];
      if (before !== undefined && goesOn(before, flow)) {
        flows[place!] = { ...before, end: flow.end, volume: plus(before.volume, flow.volume) };
        return;
      }
      lastOf.set(flow.channel, flows.length);
      flows.push(flow);
    },
    unknown: (span) => unknown.push(span),
    note: (note) => notes.push(note),
  };
  return { sink, flows, unknown, notes };
}

/** Whether a flow is the same one going on; one that reached a limit in its last millisecond has ended. */
function goesOn(before: Flow, flow: Flow): boolean {
  return (
    before.end === flow.start &&
    before.rate === flow.rate &&
    before.bag === flow.bag &&
    before.role === flow.role &&
    before.line === flow.line &&
    before.total === flow.total &&
    before.volume === delivered(before.rate, before.end - before.start)
  );
}
