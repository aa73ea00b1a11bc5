/**
 * A naive simulator of one encounter, the judge of the calculation: time goes by step by step, and
 * in every step each channel delivers for one step at its rate. Written from domain.md sections 3 to
 * 5 alone and importing nothing it judges; slow and plain on purpose. A limit reached inside a step
 * is counted as `cut`: without one, everything here is exact; with one, what follows is late by less than a step.
 */

import { bolusEnds, happens, secondaryEnds } from "./effects.js";
import { countedOnce, inTurn } from "./order.js";
import { type Channel, capacity, delivering, feeding, type Report, type Source, type Ward } from "./ward.js";

export interface SimulatorAsked {
  readonly from: number;
  readonly until: number;
  /** Milliseconds of a step: 1,000, or 1 to look at a few seconds closely. All entries fall on whole steps. */
  readonly step: number;
  /** The overfill allowance in thousandths of the label. */
  readonly overfill: number;
}

/** A run of steps in which a row got the same volume in each. */
interface Run {
  readonly start: number;
  end: number;
  readonly each: number;
}

export interface Simulated {
  /** Ticks per row, named by `rowName`, between two whole steps. */
  between(start: number, end: number): Map<string, number>;
  /** What each running total should show and how much of that nobody wrote down, named `channel/total`, in ticks. */
  readonly totals: ReadonlyMap<string, { expected: number; atRisk: number }>;
  /** When flows ended by themselves, bags running empty and volumes to infuse reached among them. */
  readonly ends: readonly number[];
  /** How many of those fell inside a step. */
  readonly cut: number;
}

export function rowName(channel: string, line: string | null, bag: string | null, role: string): string {
  return [channel, line ?? "-", bag ?? "-", role].join(" ");
}

/** Plays the reports (in any order) from `from` up to and including `until`. */
export function simulate(reports: readonly Report[], asked: SimulatorAsked): Simulated {
  const { from, until, step } = asked;
  const ward: Ward = {
    overfill: asked.overfill,
    channels: new Map(),
    bags: new Map(),
    awayUnknown: false,
    discharged: false,
  };
  const runs = new Map<string, Run[]>();
  const course = { ends: [] as number[], cut: 0 };
  const turns = countedOnce(inTurn(reports));
  let turn = 0;
  for (let now = from; ; now += step) {
    if (turns[turn]?.entry.at === now) {
      for (const channel of ward.channels.values()) finishes(ward, channel, now, course);
    }
    for (; turn < turns.length && turns[turn]!.entry.at === now; turn++) {
      happens(ward, turns[turn]!.entry);
    }
    if (now >= until) break;
    for (const channel of ward.channels.values()) {
      endsByItself(ward, channel, now, course);
      pour(ward, channel, now, step, runs, course);
    }
  }
  return { ...course, between: (start, end) => between(runs, step, start, end), totals: totalsOf(ward) };
}

type Course = { ends: number[]; cut: number };

/** One step of one channel. */
function pour(
  ward: Ward,
  channel: Channel,
  now: number,
  step: number,
  runs: Map<string, Run[]>,
  course: Course,
): void {
  const source = delivering(ward, channel);
  if (source === null) return;
  const programme = channel[source]!;
  if (programme.rate === null || ward.awayUnknown) return;
  const bag = feeding(channel, source);
  const rate = programme.keepingOpen ? Math.min(programme.rate, programme.keepOpen!) : programme.rate;
  const limits = [
    rate * step,
    programme.keepingOpen ? null : programme.left,
    bag === null ? null : capacity(bag),
  ];
  const given = Math.min(...limits.filter((limit) => limit !== null));
  if (given < rate * step) course.cut++;
  if (bag !== null) bag.holds -= given;
  if (programme.left !== null) programme.left -= given;
  if (source === "bolus" && channel.primary !== null && channel.primary.left !== null) {
    channel.primary.left -= given;
  }
  const counter = channel.counters.get(countedIn(channel, source));
  if (counter !== undefined) counter.since += given;
  const role = programme.keepingOpen ? "keep-open" : source;
  record(runs, rowName(channel.key, channel.line, bag?.key ?? null, role), now, now + step, given);
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

/** Whatever has reached its limit ends, one after another, until nothing more does. */
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

function record(runs: Map<string, Run[]>, row: string, start: number, end: number, each: number): void {
  const known = runs.get(row) ?? [];
  runs.set(row, known);
  const last = known.at(-1);
  if (last !== undefined && last.end === start && last.each === each) last.end = end;
  else known.push({ start, end, each });
}

function between(runs: ReadonlyMap<string, Run[]>, step: number, start: number, end: number): Map<string, number> {
  const sums = new Map<string, number>();
  for (const [row, known] of runs) {
    let sum = 0;
    for (const run of known) {
      sum += (Math.max(0, Math.min(run.end, end) - Math.max(run.start, start)) / step) * run.each;
    }
    if (sum > 0) sums.set(row, sum);
  }
  return sums;
}

function totalsOf(ward: Ward): Map<string, { expected: number; atRisk: number }> {
  const totals = new Map<string, { expected: number; atRisk: number }>();
  for (const channel of ward.channels.values()) {
    for (const [total, { shown, since }] of channel.counters) {
      totals.set(`${channel.key}/${total}`, { expected: shown + since, atRisk: since });
    }
  }
  return totals;
}
