/** What a device counted over a segment of its own is not what was computed of it. */

import type { Placed, SegmentRead } from "../../infusion/entry.js";
import { deliveredBy } from "../../infusion/flow.js";
import { greater, minus, NOTHING, percentOf, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import type { Evidence, Found, Rule } from "../finding.js";

export const segmentDisagrees: Rule = {
  code: "reading-disagrees",
  runs: "asking",
  find: (evidence) =>
    evidence.entries.flatMap(({ placed }) =>
      placed.entry.kind === "segment-read" ? found(placed as Placed<SegmentRead>, evidence) : [],
    ),
};

function found({ id, entry }: Placed<SegmentRead>, evidence: Evidence): Found[] {
  const { channel, start, at: end } = entry;
  const { words } = evidence;
  if (isUnknown(entry, evidence)) return [];
  const computed = evidence.collected.flows
    .filter((flow) => flow.channel === channel)
    .reduce((sum, flow) => plus(sum, minus(deliveredBy(flow, end), deliveredBy(flow, start))), NOTHING);
  const counted = volumeOf(entry.volume);
  const apart = counted > computed ? minus(counted, computed) : minus(computed, counted);
  if (apart <= tolerance(entry, computed, evidence)) return [];
  return [
    {
      code: "reading-disagrees",
      severity: "question",
      subject: id,
      channel,
      start,
      end,
      entries: [id],
      volume: apart,
      sentence:
        `${channel} says that it gave ${words.volume(counted)} from ${words.time(start)} to ` +
        `${words.time(end)}, and ${words.volume(computed)} was computed: ${words.volume(apart)} ` +
        `${counted > computed ? "more" : "less"}.`,
      settledBy: [
        { text: "An entry that explains it, late or amended." },
        { text: "A void or an amendment of the segment, if it is wrong." },
      ],
    },
  ];
}

/** Where nobody knew what flowed, the segment is how it is known. */
function isUnknown({ channel, start, at }: SegmentRead, { collected }: Evidence): boolean {
  return collected.unknown.some((span) => span.channel === channel && span.start < at && span.end > start);
}

/** As of a reading: a share of what was computed, and a floor by the kind of device. */
function tolerance({ channel, at }: SegmentRead, computed: Volume, { settingsAt, state }: Evidence): Volume {
  const { percent, pump, syringe } = settingsAt(at).readingTolerance;
  const floor = state.channels.get(channel)?.type === "syringe" ? syringe : pump;
  return greater(percentOf(computed, percent), volumeOf(floor));
}
