/**
 * Segments that ask something: those that stray by themselves, and those that follow one another and only
 * together are not what was computed of them, as if the device had told them as one. Floors are for
 * segments of some length: of one-minute segments each may count twice what flowed.
 *
 * Invariant: nothing is counted twice. Several looks at a segment are one segment, and of segments that
 * overlap and stray alike one run asks.
 */

import type { SegmentJudged } from "../infusion/evidence.js";
import { minus, NOTHING, plus, type Volume } from "../infusion/quantity.js";
import { MINUTE } from "../time/instant.js";
import { beyondShare, strayTogether } from "./together.js";

type Several = readonly [SegmentJudged, ...SegmentJudged[]];

/** Segments that follow one another and stray the same way. */
export interface SegmentRun {
  /** Those that count, in order, at least one. */
  readonly segments: Several;
  readonly more: boolean;
  readonly counted: Volume;
  readonly computed: Volume;
  /** Everything that was told of them: looks that another one took the place of, and segments told within. */
  readonly told: readonly SegmentJudged[];
}

/** The runs among segments, in order of time. */
export function segmentRuns(all: readonly SegmentJudged[]): SegmentRun[] {
  const looks = new Map<string, SegmentJudged[]>();
  for (const one of all) {
    if (one.instead !== null) looks.set(one.instead, [...(looks.get(one.instead) ?? []), one]);
  }
  const open = all.filter(({ outcome }) => ["agrees", "disputed", "waits"].includes(outcome));
  const runs = chainsOf(open).flatMap((chain) => runsIn(chain, looks));
  return outermost(runs).sort((a, b) => a.segments[0].start - b.segments[0].start);
}

/** Segments of a channel of which each begins where the one before it ends, to the minute. */
function chainsOf(segments: readonly SegmentJudged[]): SegmentJudged[][] {
  const chains: SegmentJudged[][] = [];
  const ending = new Map<string, SegmentJudged[]>();
  for (const one of [...segments].sort((a, b) => a.start - b.start || a.at - b.at)) {
    const minute = Math.round(one.start / MINUTE);
    const keys = [minute, minute - 1, minute + 1].map((at) => `${one.channel} ${at}`);
    const key = keys.find((name) => {
      const last = ending.get(name)?.at(-1);
      return last !== undefined && Math.abs(one.start - last.at) < Math.min(MINUTE, one.at - one.start);
    });
    const chain = key === undefined ? [] : ending.get(key)!;
    if (key === undefined) chains.push(chain);
    else ending.delete(key);
    chain.push(one);
    ending.set(`${one.channel} ${Math.round(one.at / MINUTE)}`, chain);
  }
  return chains;
}

function runsIn(
  chain: readonly SegmentJudged[],
  looks: ReadonlyMap<string, readonly SegmentJudged[]>,
): SegmentRun[] {
  const runs: SegmentJudged[][] = [];
  const taken = new Set<SegmentJudged>();
  for (const direction of ["more", "less"] as const) {
    for (const together of strayingTogether(chain, direction)) {
      if (together.some((one) => taken.has(one))) continue;
      runs.push(together);
      for (const one of together) taken.add(one);
    }
  }
  const alone = chain.filter((one) => one.outcome !== "agrees" && !taken.has(one)).map((one) => [one]);
  return [...runs, ...alone].map((run) => runOf(run as unknown as Several, looks));
}

function runOf(segments: Several, looks: ReadonlyMap<string, readonly SegmentJudged[]>): SegmentRun {
  const [counted, computed] = [countedIn(segments), computedIn(segments)];
  const told = segments.flatMap((one) => [one, ...(looks.get(one.entry) ?? [])]);
  return { segments, more: counted > computed, counted, computed, told };
}

/**
 * The stretches of a chain over which the excess beyond the share that a device may be off is greatest, each
 * where it is beyond the floor too, as of one segment.
 */
function strayingTogether(chain: readonly SegmentJudged[], direction: "more" | "less"): SegmentJudged[][] {
  const found: SegmentJudged[][] = [];
  let [first, peak] = [0, 0];
  let [sum, most] = [NOTHING, NOTHING];
  const settle = (next: number) => {
    const stretch = chain.slice(first, peak);
    if (most > NOTHING && strayTogether(stretch)) found.push(stretch);
    [first, peak, sum, most] = [next, next, NOTHING, NOTHING];
  };
  chain.forEach((one, i) => {
    sum = plus(sum, one.atLeast ? minus(NOTHING, sum) : beyondShare(one, direction));
    if (sum <= NOTHING) settle(i + 1);
    else if (sum > most) [most, peak] = [sum, i + 1];
  });
  settle(chain.length);
  return found;
}

/** Runs that do not lie mostly within a longer one that strays alike; what they tell is told with that. */
function outermost(runs: readonly SegmentRun[]): SegmentRun[] {
  const kept: SegmentRun[] = [];
  const lasts = ({ segments }: SegmentRun) => segments.at(-1)!.at - segments[0].start;
  for (const run of [...runs].sort((a, b) => lasts(b) - lasts(a))) {
    const place = kept.findIndex((other) => other.more === run.more && 2 * shared(other, run) >= lasts(run));
    const around = kept[place];
    if (around === undefined) kept.push(run);
    else kept[place] = { ...around, told: [...around.told, ...run.told] };
  }
  return kept;
}

function shared({ segments: a }: SegmentRun, { segments: b }: SegmentRun): number {
  if (a[0].channel !== b[0].channel) return 0;
  return Math.min(a.at(-1)!.at, b.at(-1)!.at) - Math.max(a[0].start, b[0].start);
}

function countedIn(segments: readonly SegmentJudged[]): Volume {
  return segments.map(({ value }) => value).reduce(plus, NOTHING);
}

function computedIn(segments: readonly SegmentJudged[]): Volume {
  return segments.map(({ comparison }) => comparison.computed).reduce(plus, NOTHING);
}
