/** What a device tells of a segment of its own: it moves nothing, and is handed out to be judged by what flowed in it. */

import { mustBeKnown } from "./connection-steps.js";
import type { SegmentRead, TotalName } from "./entry.js";
import { looseUntil } from "./mark.js";
import { NOTHING, plus, volumeOf } from "./quantity.js";
import { flowedBefore } from "./recent.js";
import { evident, type Step } from "./step.js";
import { flowsWithinGrain, toleranceAt } from "./total-steps.js";

/** All that a segment needs to be judged but the flows of its span, which no state can hold. */
export function tell(run: Step, { channel: key, start, volume, confirmed, settled }: SegmentRead): void {
  if (!mustBeKnown(run, key)) return;
  const channel = run.draft.channel(key)!;
  const { chartingGrain } = run.settingsAt(run.at);
  const behind = Object.values(channel.counters)
    .map((counter) => flowedBefore(counter, run.at, chartingGrain))
    .reduce(plus, NOTHING);
  const ahead = flowsWithinGrain(run, channel, Object.keys(channel.counters) as TotalName[]);
  run.sink.segment(
    evident(run, channel, {
      start,
      value: volumeOf(volume),
      looseUntil: looseUntil(start, chartingGrain),
      around: { behind, ahead },
      tolerance: toleranceAt(run),
      confirmed: confirmed === true,
      settled,
    }),
  );
}
