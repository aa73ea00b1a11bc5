/**
 * A naive simulator of one encounter, the judge of the calculation: time goes by step by step, and in
 * every step each channel delivers for one step at its rate. Written from the specification alone and
 * importing nothing it judges; slow and plain on purpose. A limit reached inside a step is counted as
 * `cut`: without one, everything here is exact; with one, what follows is late by less than a step.
 */

import { happens } from "./effects.js";
import { bolusEnds, secondaryEnds } from "./ends.js";
import { countedOnce, inTurn } from "./order.js";
import { Pours } from "./pours.js";
import { type Channel, capacity, delivering, feeding, type Report, type Source, type Ward } from "./ward.js";

export interface SimulatorAsked {
  readonly from: number;
  readonly until: number;
  /** Milliseconds of a step: 1,000, or 1 to look at a few seconds closely. Entries fall on whole steps. */
  readonly step: number;
  /** The overfill allowance in thousandths of the label. */
  readonly overfill: number;
}

export interface Total {
  readonly expected: number;
  readonly atRisk: number;
  /** Milliseconds for which it counted since somebody wrote it down, and whether a bolus was among it. */
  readonly flowing: number;
  readonly bolus: boolean;
}

export interface Simulated {
  /** Ticks per row, named by `rowName`, between two whole steps. */
  between(start: number, end: number): Map<string, number>;
  /** What each total should show and how much of it nobody wrote down, in ticks, named `channel/total`. */
  readonly totals: ReadonlyMap<string, Total>;
  /** When a volume was reached, a bag empty or something ended by itself; an instant may be named twice. */
  readonly ends: readonly number[];
  /** How many steps a limit cut short. */
  readonly cut: number;
}

/**
 * A flow that reaches its limit at the instant of an entry is over for these; for others it is not yet, so
 * that a bag hung in the minute in which the last one is empty finds the flow running.
 */
const ASKS_WHAT_FLOWS = ["flow-paused", "flow-resumed", "rate-changed"];

/** What happened by itself so far. */
interface Course {
  readonly ends: number[];
  cut: number;
}

/** Plays the reports (in any order) from `from` up to and including `until`. */
export function simulate(reports: readonly Report[], asked: SimulatorAsked): Simulated {
  const { from, until, step, overfill } = asked;
  const ward: Ward = {
    overfill,
    channels: new Map(),
    bags: new Map(),
    awayUnknown: false,
    discharged: false,
  };
  const [course, pours]: [Course, Pours] = [{ ends: [], cut: 0 }, new Pours(step)];
  const turns = countedOnce(inTurn(reports));
  let turn = 0;
  for (let now = from; ; now += step) {
    if (turns[turn]?.entry.at === now) {
      for (const channel of ward.channels.values()) finishes(ward, channel, now, course);
    }
    for (; turns[turn]?.entry.at === now; turn++) {
      const { entry } = turns[turn]!;
      const asking = ASKS_WHAT_FLOWS.includes(entry.kind) ? ward.channels.get(entry.channel!) : undefined;
      if (asking !== undefined) endsByItself(ward, asking, now, course);
      happens(ward, entry);
    }
    if (now >= until) break;
    for (const channel of ward.channels.values()) {
      endsByItself(ward, channel, now, course);
      pour(ward, channel, now, step, pours, course);
    }
  }
  const between = (start: number, end: number) => pours.between(start, end);
  return { ...course, between, totals: totalsOf(ward) };
}

/** One step of one channel. */
function pour(ward: Ward, channel: Channel, now: number, step: number, pours: Pours, course: Course): void {
  const source = delivering(ward, channel);
  if (source === null || ward.awayUnknown) return;
  const programme = channel[source]!;
  if (programme.rate === null) return;
  const bag = feeding(channel, source);
  const rate = programme.keepingOpen ? Math.min(programme.rate, programme.keepOpen!) : programme.rate;
  const left = programme.keepingOpen ? null : programme.left;
  const limit = Math.min(
    left ?? Number.POSITIVE_INFINITY,
    bag === null ? Number.POSITIVE_INFINITY : capacity(bag),
  );
  const given = Math.min(rate * step, limit);
  if (given === limit) course.ends.push(now + step);
  if (given < rate * step) course.cut++;
  if (bag !== null) bag.holds -= given;
  if (programme.left !== null) programme.left -= given;
  const counted = channel.primary;
  if (source === "bolus" && counted !== null && counted.left !== null) counted.left -= given;
  const counter = channel.counters.get(countedIn(channel, source));
  if (counter !== undefined && given > 0) {
    counter.since += given;
    counter.flowing += step;
    counter.bolus ||= source === "bolus";
  }
  pours.record(channel, bag, programme.keepingOpen ? "keep-open" : source, now, given);
}

function countedIn(channel: Channel, source: Source): string {
  if (channel.totals === "combined") return "combined";
  return source === "secondary" ? "secondary" : "primary";
}

/**
 * A bolus or secondary that has its volume is done before the entries of that instant: what follows it
 * starts at that millisecond, so a channel that then waits can be resumed by them.
 */
function finishes(ward: Ward, channel: Channel, now: number, course: Course): void {
  for (const source of ["bolus", "secondary"] as const) {
    if (delivering(ward, channel) !== source || (channel[source]!.left ?? 1) > 0) continue;
    if (source === "bolus") bolusEnds(channel);
    else secondaryEnds(channel);
    course.ends.push(now);
  }
}

/** What delivers and has reached its limit ends, one after another, until nothing more does. */
function endsByItself(ward: Ward, channel: Channel, now: number, course: Course): void {
  for (;;) {
    const source = delivering(ward, channel);
    if (source === null) return;
    const programme = channel[source]!;
    const bag = feeding(channel, source);
    const done = programme.left !== null && programme.left <= 0 && !programme.keepingOpen;
    if (!done && (bag === null || capacity(bag) > 0)) return;
    if (source === "bolus") bolusEnds(channel);
    else if (source === "secondary") secondaryEnds(channel);
    else if (done && programme.keepOpen !== null) programme.keepingOpen = true;
    else channel.primary = null;
    course.ends.push(now);
  }
}

function totalsOf(ward: Ward): Map<string, Total> {
  const totals = new Map<string, Total>();
  for (const channel of ward.channels.values()) {
    for (const [total, { shown, since, flowing, bolus }] of channel.counters) {
      totals.set(`${channel.key}/${total}`, { expected: shown + since, atRisk: since, flowing, bolus });
    }
  }
  return totals;
}
