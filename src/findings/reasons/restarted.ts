/**
 * A flow that came to its end by itself ran again: somebody started it anew some time later, or it had more to
 * infuse than is charted, and so ended later.
 */

import { stepOf } from "../../conventions/settings.js";
import type { BagHung } from "../../infusion/entry.js";
import type { Flow } from "../../infusion/flow.js";
import {
  delivered,
  minus,
  NOTHING,
  plus,
  shownAs,
  timeToDeliver,
  type Volume,
  volumeOf,
} from "../../infusion/quantity.js";
import { type Instant, later, latest, MINUTE } from "../../time/instant.js";
import { record } from "./proposing.js";
import type { Disagreeing } from "./reason.js";
import { countedFlows, deliveredBetween, missing, wholeMinuteBefore } from "./span.js";
import type { Supposed } from "./supposed.js";

/** A flow that ended by itself, until when nothing else set what flows, and the bag that it takes to go on. */
interface Ended {
  readonly flow: Flow;
  readonly until: Instant;
  readonly bag: BagHung | null;
}

/** Started again at any minute after its end, at the rate it had. */
export function restarts(d: Disagreeing, { flow, until, bag }: Ended): Supposed[] {
  const { channel, rate } = flow;
  const first = later(wholeMinuteBefore(flow.end), MINUTE);
  const minutes = Math.max(0, Math.ceil((until - first) / MINUTE));
  return Array.from({ length: minutes }, (_, i): Supposed => {
    const at = later(first, i * MINUTE);
    const more = minus(delivered(rate, until - at), keptOpen(d, at, until));
    const { increment, computed } = d.reading.comparison;
    const tell = () => ({
      sentence:
        `By what is charted the flow ended at ${d.words.time(flow.end)}; had it been started again at ` +
        `${d.words.time(at)}, at ${d.words.rate(rate)}, the reading would agree.`,
      proposals: [
        ...(bag === null ? [] : [record({ ...bag, at })]),
        record({ kind: "flow-started", at, channel, rate, volumeToInfuse: "none" }),
      ],
    });
    return { increment, would: plus(computed, more), share: 1 / minutes, tell };
  });
}

/** How often a volume to infuse is a multiple of so many microlitres; larger ones than a litre are rare. */
const ROUND_VOLUMES = [
  { step: 50_000, often: 0.5 },
  { step: 10_000, often: 0.3 },
  { step: 1_000, often: 0.2 },
];
const UP_TO = 1_000_000;

/** A larger volume to infuse since the flow began, or since the mark: a round one near what it would take. */
export function largerVolumes(d: Disagreeing, { flow, until, bag }: Ended): Supposed[] {
  const own = countedFlows(d).filter(({ programme, end }) => programme === flow.programme && end <= flow.end);
  const since = latest(own[0]!.start, d.reading.over.from);
  const had = own.reduce((sum, { volume }) => plus(sum, volume), NOTHING);
  const wanted = plus(had, missing(d));
  if (bag !== null || wanted <= had) return [];
  return ROUND_VOLUMES.flatMap(({ step, often }) => {
    const below = Number(wanted / volumeOf(step)) * step;
    return [below, below + step].map((volume) => ({ volume, share: (often * step) / UP_TO }));
  })
    .filter(({ volume }) => volumeOf(volume) > had)
    .map(({ volume, share }) => largerBy(d, { flow, until, since, had }, volume, share));
}

function largerBy(
  d: Disagreeing,
  { flow, until, since, had }: { flow: Flow; until: Instant; since: Instant; had: Volume },
  volume: number,
  share: number,
): Supposed {
  const { channel, rate, end } = flow;
  const rest = minus(volumeOf(volume), had);
  const longer = Math.min(until - end, timeToDeliver(rate, rest));
  const flowed = longer < until - end ? rest : delivered(rate, longer);
  const more = minus(flowed, keptOpen(d, end, later(end, longer)));
  const { increment, computed } = d.reading.comparison;
  const tell = () => ({
    sentence:
      `By what is charted the flow ended at ${d.words.time(end)}, after ${d.words.volume(had)}; had it had ` +
      `${d.words.volume(volumeOf(volume))} to infuse, the reading would agree.`,
    proposals: [
      record({
        kind: "volume-to-infuse-set",
        at: since,
        channel,
        role: "primary",
        volumeToInfuse: shownAs(volumeOf(volume), stepOf(1)),
      }),
    ],
  });
  return { increment, would: plus(computed, more), share, tell };
}

/** What the keep-open rate gave in a time in which something else would have run. */
function keptOpen(d: Disagreeing, from: Instant, to: Instant): Volume {
  return deliveredBetween(
    countedFlows(d).filter(({ role }) => role === "keep-open"),
    from,
    to,
  );
}
