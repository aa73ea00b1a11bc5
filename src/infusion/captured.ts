/**
 * What a device's own segments captured of what its channel delivered since its totals were read or cleared:
 * that much is written down, though nobody read a total.
 */

import { earliest, type Instant } from "../time/instant.js";
import { apportioned } from "./apportion.js";
import type { Collected } from "./collected.js";
import { computedOf, givenBy } from "./delivery.js";
import type { SegmentJudged } from "./evidence.js";
import { minus, NOTHING, plus, type Volume } from "./quantity.js";
import { segmentsJudged } from "./segment.js";

export interface Captured {
  readonly channel: string;
  readonly since: Instant;
  /** In the order in which they ended, at least one. */
  readonly segments: readonly SegmentJudged[];
  /** What those that count say was delivered since. */
  readonly captured: Volume;
  /** What was computed of the time since that none of those covers. */
  readonly untold: Volume;
}

/** Of every channel whose device told segments since an instant of its own; the course reaches back to where they began. */
export function capturedBy(
  course: Collected,
  sinceOf: (channel: string) => Instant | undefined,
  until: Instant,
): Captured[] {
  const channels = [...new Set(course.segments.map(({ channel }) => channel))].sort();
  return channels.flatMap((channel): Captured[] => {
    const since = sinceOf(channel);
    if (since === undefined) return [];
    const its = <T extends { readonly channel: string }>(all: readonly T[]) =>
      all.filter((one) => one.channel === channel);
    const alone = {
      ...course,
      flows: its(course.flows),
      segments: its(course.segments),
      readings: [],
      levels: [],
    };
    const segments = segmentsJudged(alone).filter(({ at }) => since < at);
    if (segments.length === 0) return [];
    const { deliveries, unattributed } = apportioned(alone);
    const within = deliveries.filter(({ end }) => since < end);
    const told = within.filter(({ anchor }) => anchor !== null);
    const amounts = unattributed.filter(({ at }) => since < at).map(({ volume }) => volume);
    const given = told.map((one) => minus(givenBy(one, until), givenBy(one, since)));
    const untold = within
      .filter(({ anchor }) => anchor === null)
      .map((one) => minus(computedOf(one, until), computedOf(one, since)));
    return [{ channel, since, segments, captured: sum([...given, ...amounts]), untold: sum(untold) }];
  });
}

/** When the earliest segment began; an instant where that is earlier. */
export function begunBy({ segments }: Pick<Collected, "segments">, at: Instant): Instant {
  return earliest(at, ...segments.map(({ start }) => start));
}

function sum(volumes: readonly Volume[]): Volume {
  return volumes.reduce(plus, NOTHING);
}
