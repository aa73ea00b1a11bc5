/**
 * The secondary that two totals point to: what the secondary total has more is its volume, and what the
 * primary lacks meanwhile tells how long it ran, since the primary waited. Of the secondary total alone only the
 * volume is told.
 */

import type { Microlitres } from "../../infusion/entry.js";
import type { TotalJudged } from "../../infusion/evidence.js";
import type { Flow } from "../../infusion/flow.js";
import {
  minus,
  NOTHING,
  type Rate,
  rateOf,
  timeToDeliver,
  type Volume,
  volumeOf,
} from "../../infusion/quantity.js";
import { MINUTE } from "../../time/instant.js";
import type { Disagreeing } from "./reason.js";
import { asItIs } from "./retelling.js";
import { missing } from "./span.js";

/** How many secondaries are of a volume that no bag is labelled with. */
export const OTHER_VOLUMES = 0.3;
/** Which whole microlitres those are. */
const ROUND = [
  { step: 10_000, often: 0.5 },
  { step: 5_000, often: 0.3 },
  { step: 1_000, often: 0.2 },
];
const LARGEST = 300_000;
/** As fast as pumps go, in microlitres per hour. */
const FASTEST = 1_000_000;
/** How long they run, where nothing tells. */
const USUAL_MINUTES = [30, 60, 20, 120];

interface Programme {
  readonly volume: Microlitres;
  readonly rate: Rate;
  readonly share: number;
}

/** Programmes that give what the secondary total has more, in the time that the primary lacks; none where it is not read. */
export function byWhatWasRead(d: Disagreeing, primaries: readonly Flow[]): Programme[] {
  const more = gained(d);
  if (more === null || more <= NOTHING) return [];
  const times = minutesLacking(d, primaries);
  return volumesAbout(more).flatMap(({ volume, share }) =>
    times.flatMap((minutes): Programme[] => {
      const rate = Math.round((volume * 60) / minutes / 1_000) * 1_000;
      return rate <= 0 || rate > FASTEST ? [] : [{ volume, rate: rateOf(rate), share: share / times.length }];
    }),
  );
}

/** What the secondary total shows beyond what is computed; null where nobody read it at the time of the reading. */
function gained(d: Disagreeing): Volume | null {
  const { total, checkOnly } = d.reading;
  if (total === "secondary") return missing(d);
  if (total !== "primary" || checkOnly) return null;
  const other = besides(d);
  return other === undefined ? null : excess(other);
}

/** How long the primary's flows take to give what its total lacks; usual times where nobody read that. */
function minutesLacking(d: Disagreeing, primaries: readonly Flow[]): number[] {
  const primary = d.reading.total === "primary" ? d.reading : besides(d);
  if (primary === undefined) return USUAL_MINUTES;
  const lacks = minus(NOTHING, excess(primary));
  if (lacks <= NOTHING) return [];
  const exact = primaries.map(({ rate }) => timeToDeliver(rate, lacks) / MINUTE);
  const round = exact.flatMap((minutes) => [Math.round(minutes), Math.round(minutes / 5) * 5]);
  return [...new Set(round)].filter((minutes) => minutes > 0);
}

/** The channel's other total, read within some minutes of the reading. */
function besides(d: Disagreeing): TotalJudged | undefined {
  return readingsOfOther(d).find(({ at }) => Math.abs(at - d.reading.at) <= NEAR);
}
const NEAR = 5 * MINUTE;

/** The readings of the channel's other total, as far as they are known, in order. */
export function readingsOfOther({ reading, retelling }: Disagreeing): TotalJudged[] {
  const other = reading.total === "secondary" ? "primary" : "secondary";
  return asItIs(retelling).all.filter(({ channel, total }) => channel === reading.channel && total === other);
}

function excess({ comparison }: TotalJudged): Volume {
  return minus(comparison.increment, comparison.computed);
}

/** The whole millilitres on either side of a volume. */
function volumesAbout(volume: Volume): { volume: Microlitres; share: number }[] {
  return ROUND.flatMap(({ step, often }) => {
    const below = Number(volume / volumeOf(step)) * step;
    return [below, below + step]
      .filter((one) => one > 0)
      .map((one) => ({ volume: one, share: (OTHER_VOLUMES * often * step) / LARGEST }));
  });
}
