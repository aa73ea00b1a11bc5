/** All that a course hands out over a span of time, kept in the order in which it came. */

import type {
  BagGone,
  CameOut,
  Drained,
  Finished,
  LevelJudged,
  SegmentTold,
  TotalCleared,
  TotalJudged,
} from "./evidence.js";
import { type Flow, flowWith, type Note, type Sink, type UnknownSpan } from "./flow.js";
import { delivered, plus } from "./quantity.js";

export interface Collected {
  readonly flows: readonly Flow[];
  readonly unknown: readonly UnknownSpan[];
  readonly notes: readonly Note[];
  readonly finished: readonly Finished[];
  readonly readings: readonly TotalJudged[];
  readonly segments: readonly SegmentTold[];
  readonly clears: readonly TotalCleared[];
  readonly levels: readonly LevelJudged[];
  readonly gone: readonly BagGone[];
  readonly drained: readonly Drained[];
  readonly outputs: readonly CameOut[];
}

/**
 * A sink that keeps what it is given. An entry that changes no flow (a reading, say) still cuts it; the
 * parts are kept as one, since nothing happened between them.
 */
export function collector(): Collected & { readonly sink: Sink } {
  const flows: Flow[] = [];
  const unknown: UnknownSpan[] = [];
  const notes: Note[] = [];
  const finished: Finished[] = [];
  const readings: TotalJudged[] = [];
  const segments: SegmentTold[] = [];
  const clears: TotalCleared[] = [];
  const levels: LevelJudged[] = [];
  const gone: BagGone[] = [];
  const drained: Drained[] = [];
  const outputs: CameOut[] = [];
  const lastOf = new Map<string, number>();
  const sink: Sink = {
    flow(flow) {
      const place = lastOf.get(flow.channel);
      const before = place === undefined ? undefined : flows[place];
      if (before !== undefined && goesOn(before, flow)) {
        flows[place!] = flowWith(before, before.start, flow.end, plus(before.volume, flow.volume));
        return;
      }
      lastOf.set(flow.channel, flows.length);
      flows.push(flow);
    },
    unknown: (span) => unknown.push(span),
    note: (note) => notes.push(note),
    finished: (end) => finished.push(end),
    read: (reading) => readings.push(reading),
    segment: (segment) => segments.push(segment),
    cleared: (clear) => clears.push(clear),
    level: (level) => levels.push(level),
    gone: (bag) => gone.push(bag),
    drained: (chamber) => drained.push(chamber),
    output: (output) => outputs.push(output),
  };
  const looks = { readings, segments, clears, levels, gone, drained, outputs };
  return { sink, flows, unknown, notes, finished, ...looks };
}

/** Whether a flow is the same one going on; one that reached a limit in its last millisecond has ended. */
function goesOn(before: Flow, flow: Flow): boolean {
  return (
    before.end === flow.start &&
    before.rate === flow.rate &&
    before.bag === flow.bag &&
    before.contents === flow.contents &&
    before.role === flow.role &&
    before.line === flow.line &&
    before.total === flow.total &&
    before.programme === flow.programme &&
    before.volume === delivered(before.rate, before.end - before.start)
  );
}
