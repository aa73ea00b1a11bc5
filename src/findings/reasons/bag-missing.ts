/**
 * A flow came to an end by itself, and the device shows that it went on: the next bag, or a new volume to
 * infuse, is not charted; or it was started again some time later, or had more to infuse from the start.
 */

import { stepOf } from "../../conventions/settings.js";
import type { BagHung, Entry } from "../../infusion/entry.js";
import type { Flow } from "../../infusion/flow.js";
import { delivered, lesser, minus, NOTHING, plus, shownAs, volumeOf } from "../../infusion/quantity.js";
import { type Instant, instant } from "../../time/instant.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { largerVolumes, restarts } from "./restarted.js";
import {
  atReading,
  countedFlows,
  deliveredBetween,
  endedByItself,
  freeKey,
  onChannel,
  wholeMinuteBefore,
} from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";

/** How often a flow that ended goes on at once, is started again later, or had more to infuse than charted. */
const AT_ONCE = 0.5;
const RESTARTED = 0.3;
const LARGER = 0.2;

export function bagMissing(d: Disagreeing): Reason[] {
  return likeliest("bag-missing", d, wentOn(d));
}

function* wentOn(d: Disagreeing): Iterable<Supposed> {
  const flows = countedFlows(d);
  const ends = flows.filter((flow) => flow.role === "primary" && endedByItself(d, flow));
  for (const flow of ends) {
    const until = endOfWait(d, flow.end);
    const end = { flow, until, bag: nextBag(d, flow) };
    const shared = (share: number) => (one: Supposed) => ({
      ...one,
      share: (share * one.share) / ends.length,
    });
    yield* restarts(d, end).map(shared(RESTARTED));
    yield* largerVolumes(d, end).map(shared(LARGER));
    const entry = end.bag ?? noLimit(flow);
    const flowed = delivered(flow.rate, until - flow.end);
    const onwards = entry.kind === "bag-hung" ? lesser(flowed, volumeOf(entry.volume)) : flowed;
    const keptOpen = deliveredBetween(
      flows.filter(({ role }) => role === "keep-open"),
      flow.end,
      until,
    );
    const { increment, computed } = d.reading.comparison;
    const what = entry.kind === "bag-hung" ? "the next bag" : "a new volume to infuse";
    const tell = () => ({
      sentence:
        `By what is charted the flow ended at ${d.words.time(flow.end)}; had it gone on at ` +
        `${d.words.rate(flow.rate)}, with ${what}, the reading would agree.`,
      proposals: [record(entry)],
    });
    yield { increment, would: minus(plus(computed, onwards), keptOpen), share: AT_ONCE / ends.length, tell };
  }
}

const SETS = ["flow-started", "flow-stopped", "flow-paused", "therapy-changed", "secondary-started"];

/** Until something that sets or ends what flows is charted, or the reading. */
function endOfWait(d: Disagreeing, from: Instant): Instant {
  const next = onChannel(d).find(({ placed: { entry } }) => entry.at >= from && SETS.includes(entry.kind));
  return instant(Math.min(d.reading.at, next?.placed.entry.at ?? d.reading.at));
}

/** Another of the bag that is empty, hung in the minute before; none where the bag still holds something. */
function nextBag(d: Disagreeing, { bag: key, channel, end }: Flow): BagHung | null {
  const state = atReading(d);
  const bag = key === null ? undefined : state.bags.get(key);
  if (bag === undefined || bag.holds > NOTHING) return null;
  return {
    kind: "bag-hung",
    at: wholeMinuteBefore(end),
    channel,
    role: "primary",
    bag: freeKey(state, bag.bag),
    fluid: bag.fluid,
    volume: shownAs(bag.label, stepOf(1)),
    ...(bag.contents === null ? {} : { additives: bag.contents.additives }),
  };
}

function noLimit({ channel, end }: Flow): Entry {
  const at = wholeMinuteBefore(end);
  return { kind: "volume-to-infuse-set", at, channel, role: "primary", volumeToInfuse: "none" };
}
