/**
 * What irrigation lines give: it is delivered like anything else, and stands at the site of its line until
 * that is emptied. What flowed by rate and time counts, put right wherever it was read.
 */

import type { Sink } from "./flow.js";
import { minus, NOTHING, plus, type Volume } from "./quantity.js";
import type { Draft } from "./state.js";

/** A sink that adds what irrigates to its site, besides handing on everything. */
export function irrigating(draft: Draft, sink: Sink): Sink {
  if (draft.irrigating.size === 0) return sink;
  const at = (line: string | null) => (line === null ? undefined : draft.irrigating.get(line));
  const add = (line: string | null, volume: Volume, unsure?: boolean) => {
    const key = at(line);
    if (key === undefined) return;
    const site = draft.site(key);
    draft.putSite({ ...site, instilled: plus(site.instilled, volume), unsure: unsure ?? site.unsure });
  };
  return {
    ...sink,
    flow(flow) {
      add(flow.line, flow.volume);
      sink.flow(flow);
    },
    unknown(span) {
      add(span.line, NOTHING, true);
      sink.unknown(span);
    },
    level(level) {
      if (level.anchors) add(level.line, minus(level.expected, level.level), false);
      sink.level(level);
    },
    read(reading) {
      const { outcome, checkOnly, comparison } = reading;
      const counts = outcome === "agrees" || outcome === "settled" || outcome === "disputed";
      if (counts && !checkOnly && comparison.increment >= NOTHING) {
        add(reading.line, minus(comparison.increment, comparison.computed), false);
      }
      sink.read(reading);
    },
  };
}
