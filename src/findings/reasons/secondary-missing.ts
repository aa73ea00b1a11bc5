/** Nobody charted a secondary infusion: the primary waited meanwhile, and the secondary total counted it. */

import type { Entry, Microlitres } from "../../infusion/entry.js";
import type { Flow } from "../../infusion/flow.js";
import {
  delivered,
  greater,
  minus,
  NOTHING,
  plus,
  type Rate,
  timeToDeliver,
  type Volume,
  volumeOf,
} from "../../infusion/quantity.js";
import type { State } from "../../infusion/state.js";
import { type Instant, later, latest } from "../../time/instant.js";
import { record } from "./proposing.js";
import type { Disagreeing, Reason } from "./reason.js";
import { byWhatWasRead, OTHER_VOLUMES, readingsOfOther } from "./secondary-read.js";
import { channelOf, endedByItself, freeKey, midway } from "./span.js";
import { likeliest, type Supposed } from "./supposed.js";
import { SECONDARIES, timesWithin } from "./usual.js";

export function secondaryMissing(d: Disagreeing): Reason[] {
  return likeliest("secondary-missing", d, secondaries(d));
}

/** Whether the secondary is over by the reading, or still runs then. */
const OVER = 0.7;

/** In the middle of each flow of the primary, since nothing tells when; or running at the reading. */
function* secondaries(d: Disagreeing): Iterable<Supposed> {
  const { channel, over, at: read } = d.reading;
  const flows = d.collected.flows
    .filter((flow) => flow.channel === channel && flow.role === "primary" && flow.end > over.from)
    .filter((flow) => !endedByItself(d, flow))
    .map((flow) => ({ ...flow, start: latest(flow.start, over.from) }));
  const labelled = SECONDARIES.map((one) => ({ ...one, share: (1 - OTHER_VOLUMES) * one.share }));
  const programmes = [...labelled, ...byWhatWasRead(d, flows)];
  for (const flow of flows) {
    for (const { volume, rate, share } of programmes) {
      const lasts = timeToDeliver(rate, volumeOf(volume));
      const start = midway(flow, lasts);
      if (start === null) continue;
      const whole = { volume, rate, start, lasts, ran: lasts, given: volumeOf(volume) };
      yield supposed(d, flow, whole, (OVER * share) / flows.length);
    }
  }
  const last = flows.at(-1);
  if (last === undefined || last.end < read) return;
  for (const { volume, rate, share } of SECONDARIES) {
    const lasts = timeToDeliver(rate, volumeOf(volume));
    const starts = timesWithin(latest(last.start, later(read, -lasts)), read, new Set());
    for (const { at: start, share: ofStart } of starts) {
      const ran = read - start;
      const running = { volume, rate, start, lasts, ran, given: delivered(rate, ran) };
      yield supposed(d, last, running, (1 - OVER) * share * ofStart);
    }
  }
}

/** A secondary as supposed: of what it is to give it has given so much, in so many milliseconds. */
interface Secondary {
  readonly volume: Microlitres;
  readonly rate: Rate;
  readonly start: Instant;
  readonly lasts: number;
  readonly ran: number;
  readonly given: Volume;
}

function supposed(d: Disagreeing, primary: Flow, secondary: Secondary, share: number): Supposed {
  const { total, checkOnly, comparison, value } = d.reading;
  const { given, ran } = secondary;
  // A new secondary may clear the total it counts in: then that shows nothing else.
  const clears = total === "secondary" && channelOf(d)?.clearsOn.includes("new-secondary") === true;
  const gained = checkOnly || total !== "primary" ? given : NOTHING;
  const waited = total === "secondary" ? NOTHING : delivered(primary.rate, ran);
  return {
    increment: clears ? value : comparison.increment,
    would: clears ? gained : minus(plus(comparison.computed, gained), waited),
    share: share * testimony(d, secondary),
    tell: () => told(d, secondary),
  };
}

function told(d: Disagreeing, { volume, rate, start, lasts, ran }: Secondary) {
  const { channel, total } = d.reading;
  const [time, mL] = [d.words.time(start), d.words.volume(volumeOf(volume))];
  const what =
    total === "primary"
      ? `A secondary infusion of ${d.words.duration(lasts)}, in which the primary waited,`
      : `A secondary infusion of ${mL}`;
  return {
    sentence:
      ran < lasts
        ? `A secondary infusion may be running since about ${time} that nobody charted; ${mL} is a guess.`
        : `${what} may not have been charted; when it was is not known, ${time} is a guess.`,
    proposals: [
      ...bagFor(d.state, channel, volume, start).map(record),
      record({
        kind: "secondary-started",
        at: start,
        channel,
        rate,
        volumeToInfuse: volume,
        whenDone: "resume-primary",
      }),
    ],
  };
}

/** The bag it came from, if none hangs that holds so much: without one it would be drawn from the primary's. */
function bagFor(state: State, channel: string, volume: Microlitres, at: Instant): Entry[] {
  const hook = state.channels.get(channel)?.secondaryBag ?? null;
  const hanging = hook === null ? undefined : state.bags.get(hook);
  if (hanging !== undefined && hanging.holds >= volumeOf(volume)) return [];
  const fluid = { name: "secondary infusion, not named", category: "iv-medication" } as const;
  const bag = freeKey(state, "secondary");
  return [{ kind: "bag-hung", at, channel, bag, role: "secondary", fluid, volume }];
}

/** How much likelier a secondary of that volume is by what was read of the secondary total after it. */
const BORNE_OUT = 6;
const NOT_BORNE_OUT = 0.05;

function testimony(d: Disagreeing, { start, ran, given }: Secondary): number {
  const after = readingsOfOther(d).findLast(({ at }) => at >= start + ran);
  if (after === undefined || d.reading.total !== "primary") return 1;
  const { increment, most, tolerance } = after.comparison;
  const off = minus(increment, plus(most, given));
  const near = greater(tolerance, ((given * 5n) / 100n) as Volume);
  return off <= near && -off <= near ? BORNE_OUT : NOT_BORNE_OUT;
}
