/**
 * What an entry brings to light beside its flows, kept in a list: notes, readings and levels judged, totals
 * cleared, spans of which nobody knows. Flows are left out, since they are worked out again wherever they
 * are asked for.
 */

import type { Collected } from "./collected.js";
import type {
  BagGone,
  CameOut,
  Drained,
  LevelJudged,
  SegmentTold,
  TotalCleared,
  TotalJudged,
} from "./evidence.js";
import { NOWHERE, type Note, type Sink, type UnknownSpan } from "./flow.js";

export type Event =
  | { readonly event: "note"; readonly what: Note }
  | { readonly event: "read"; readonly what: TotalJudged }
  | { readonly event: "segment"; readonly what: SegmentTold }
  | { readonly event: "cleared"; readonly what: TotalCleared }
  | { readonly event: "level"; readonly what: LevelJudged }
  | { readonly event: "gone"; readonly what: BagGone }
  | { readonly event: "drained"; readonly what: Drained }
  | { readonly event: "output"; readonly what: CameOut }
  | { readonly event: "unknown"; readonly what: UnknownSpan };

/** A sink that adds to a list. */
export function listing(events: Event[]): Sink {
  return {
    ...NOWHERE,
    note: (what) => events.push({ event: "note", what }),
    read: (what) => events.push({ event: "read", what }),
    segment: (what) => events.push({ event: "segment", what }),
    cleared: (what) => events.push({ event: "cleared", what }),
    level: (what) => events.push({ event: "level", what }),
    gone: (what) => events.push({ event: "gone", what }),
    drained: (what) => events.push({ event: "drained", what }),
    output: (what) => events.push({ event: "output", what }),
    unknown: (what) => events.push({ event: "unknown", what }),
  };
}

/** Most entries bring nothing to light beside their flows. */
const NOTHING_COLLECTED: Collected = {
  flows: [],
  finished: [],
  unknown: [],
  notes: [],
  readings: [],
  segments: [],
  clears: [],
  levels: [],
  gone: [],
  drained: [],
  outputs: [],
};

/** The events by their kind, with no flows. */
export function eventsCollected(events: readonly Event[]): Collected {
  if (events.length === 0) return NOTHING_COLLECTED;
  const of = <K extends Event["event"]>(kind: K) =>
    events.flatMap((one) => (one.event === kind ? [one.what as Extract<Event, { event: K }>["what"]] : []));
  return {
    flows: [],
    finished: [],
    unknown: of("unknown"),
    notes: of("note"),
    readings: of("read"),
    segments: of("segment"),
    clears: of("cleared"),
    levels: of("level"),
    gone: of("gone"),
    drained: of("drained"),
    outputs: of("output"),
  };
}
