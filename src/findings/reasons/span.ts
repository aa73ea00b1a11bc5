/**
 * The span that a reading disagrees over: what was computed to flow into the total that was read, and
 * where something nobody charted would have room. Nothing here supposes anything.
 */

import { feeding } from "../../infusion/advance.js";
import { collector } from "../../infusion/collected.js";
import { comeUpTo, followAll } from "../../infusion/course.js";
import type { Role } from "../../infusion/entry.js";
import { deliveredBy, type Flow, NOWHERE } from "../../infusion/flow.js";
import { minus, NOTHING, plus, type Rate, type Volume } from "../../infusion/quantity.js";
import { flowsCountedIn } from "../../infusion/running.js";
import { type Channel, Draft, type State } from "../../infusion/state.js";
import { type Instant, instant, later, latest, MINUTE } from "../../time/instant.js";
import type { Reported } from "../finding.js";
import type { Disagreeing } from "./reason.js";

/** The flows that the total which was read has counted since the mark, cut there. A sum counts those of both totals. */
export function countedFlows({ reading, collected }: Disagreeing): Flow[] {
  const { channel, over } = reading;
  const totals = reading.checkOnly ? (["primary", "secondary"] as const) : [reading.total];
  return totals
    .flatMap((total) => flowsCountedIn(collected.flows, channel, total, over.from))
    .sort((a, b) => a.start - b.start);
}

/** How things are at the reading, worked out up to its time. */
export function atReading({ reading, state }: Disagreeing): State {
  return comeUpTo(state, reading.at, NOWHERE);
}

/** The channel as it is at the reading. */
export function channelOf(d: Disagreeing): Channel | undefined {
  return atReading(d).channels.get(d.reading.channel);
}

/** What flows delivered from `start` to `end`. */
export function deliveredBetween(flows: readonly Flow[], start: Instant, end: Instant): Volume {
  return flows.reduce(
    (sum, flow) => plus(sum, minus(deliveredBy(flow, end), deliveredBy(flow, start))),
    NOTHING,
  );
}

/** How long flows ran between two instants, in milliseconds. */
export function flowingBetween(flows: readonly Flow[], start: Instant, end: Instant): number {
  return flows.reduce(
    (sum, flow) => sum + Math.max(0, Math.min(flow.end, end) - Math.max(flow.start, start)),
    0,
  );
}

/** Whether a flow came to its limit by itself: then an interruption would have moved its end, not its volume. */
export function endedByItself({ collected }: Disagreeing, flow: Flow): boolean {
  return collected.finished.some(
    ({ channel, programme, at }) =>
      channel === flow.channel && programme === flow.programme && at === flow.end,
  );
}

/**
 * Counted flows that something uncharted may have interrupted, or run in the place of. Going on that is charted
 * while it flows anyway would end an interruption, so none spans it.
 */
export function interruptible(d: Disagreeing): Flow[] {
  const goingOn = onChannel(d)
    .filter(({ placed }) => placed.entry.kind === "flow-resumed")
    .map(({ placed }) => placed.entry.at);
  return countedFlows(d)
    .filter((flow) => flow.role !== "bolus" && !endedByItself(d, flow))
    .flatMap((flow) => cutAt(flow, goingOn));
}

/** A flow in parts, from one of the instants that lie within it to the next. */
function cutAt(flow: Flow, instants: readonly Instant[]): Flow[] {
  const within = [...new Set(instants)].filter((at) => flow.start < at && at < flow.end);
  const starts = [flow.start, ...within];
  return starts.map((start, i) => {
    const end = starts[i + 1] ?? flow.end;
    return { ...flow, start, end, volume: minus(deliveredBy(flow, end), deliveredBy(flow, start)) };
  });
}

/**
 * The whole minute at which something of a duration lies in the middle of a flow, a minute clear of what
 * started and ended that; null where it has no room.
 */
export function midway(flow: Flow, milliseconds: number): Instant | null {
  const first = later(wholeMinuteBefore(flow.start), MINUTE);
  const middle = wholeMinuteBefore(instant(Math.floor((flow.start + flow.end - milliseconds) / 2)));
  const start = latest(first, middle);
  return start + milliseconds <= flow.end - MINUTE ? start : null;
}

/** The flows that the total which was read counts from the reading up to an instant, by what is charted there. */
export function flowsAfter(d: Disagreeing, until: Instant): Flow[] {
  const { entry, channel, total, checkOnly, at } = d.reading;
  const { sink, flows } = collector();
  const after = d.retelling.entries.filter(
    (one) => one.id !== entry && at <= one.entry.at && one.entry.at <= until,
  );
  const { settingsAt } = d.retelling;
  comeUpTo(followAll(atReading(d), after, settingsAt, sink), until, sink);
  return flows.filter(
    (flow) => flow.channel === channel && (checkOnly ? flow.total !== null : flow.total === total),
  );
}

/** The fastest that the total counted at either end of the span, in microlitres per hour: a minute there is so much. */
export function rateAtTheEnds(d: Disagreeing): Rate | 0 {
  const { at, over } = d.reading;
  const edges = countedFlows(d).filter(({ start, end }) => start <= over.from || end >= at);
  return Math.max(0, ...edges.map(({ rate }) => rate)) as Rate | 0;
}

export function wholeMinuteBefore(at: Instant): Instant {
  return instant(Math.floor(at / MINUTE) * MINUTE);
}

/** How much less or more was read than computed. */
export function missing({ reading }: Disagreeing): Volume {
  return minus(reading.comparison.increment, reading.comparison.computed);
}

/** What counts on the channel that was read, in order. */
export function onChannel({ entries, reading }: Disagreeing): Reported[] {
  return entries.filter(
    ({ placed: { id, entry } }) =>
      "channel" in entry && entry.channel === reading.channel && id !== reading.entry,
  );
}

/** What people charted on the channel after the reading was recorded. */
export function saidSince(d: Disagreeing): Reported[] {
  return onChannel(d).filter(
    ({ placed: { sequence, source } }) => sequence > d.reading.sequence && source === "person",
  );
}

/** What more could have come out of what is programmed and the bag, by now; null without a limit. */
export function room(d: Disagreeing, role: Role): Volume | null {
  const state = atReading(d);
  const channel = state.channels.get(d.reading.channel);
  const programme = channel?.[role] ?? null;
  if (channel === undefined || programme === null) return null;
  const bag = feeding(new Draft(state), channel, role);
  const limits = [programme.left, bag === undefined ? null : plus(bag.holds, bag.overfill)];
  return limits.reduce<Volume | null>(
    (least, one) => (one === null || (least !== null && least < one) ? least : one),
    null,
  );
}

/** A key for a bag that no bag of the encounter has had, such as `saline-2`. */
export function freeKey({ bags, shelf }: State, stem: string): string {
  let count = 1;
  while (bags.has(`${stem}-${count}`) || shelf.has(`${stem}-${count}`)) count++;
  return `${stem}-${count}`;
}
