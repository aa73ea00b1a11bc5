/**
 * Which explanation comes first: the one with which the fewest slips explain the figures that hang together, then
 * the one that is seen more often. What cannot be told apart by that shares a place, and says so.
 *
 * Where nothing stands out, because all that fits may be chance or too much fits as well, everything that does is
 * one tie, and hedged.
 */

import { type Figure, isBareSum } from "./figure.js";
import { isSame } from "./slip.js";
import { shownIn, type Way } from "./way.js";

export interface Ranked {
  readonly place: number;
  readonly tied: boolean;
  /** None of the figure's stands out: each would fit, and none is claimed. */
  readonly hedged: boolean;
  /** With the slips that show in the figure, and no others. */
  readonly way: Way;
}

/** Rarities this close say nothing: they are estimates. */
const COMPARABLE = 4;
const SHOWN = 6;
/** What nothing explains takes more than two slips. */
const UNEXPLAINED = 3;
/** Of so many equally good explanations none stands out. */
const MOST_TIED = 12;

/** The ways of a figure in order, with the ways of all figures that differ to judge them by; none stands twice. */
export function ranked(figure: Figure, ways: ReadonlyMap<Figure, readonly Way[]>): Ranked[] {
  const own = ways.get(figure) ?? [];
  // A row of a name that is not in use is told as that, whatever else may be: it leaves nothing open.
  const linked = new Set(own.flatMap(({ settles }) => settles.filter(({ instead }) => instead === null)));
  const weighed = own
    .map((way) => ({ way: shownIn(figure, way), slips: slipsNeeded(way, linked, figure, ways) }))
    .sort((a, b) => a.slips - b.slips || a.way.rarity - b.way.rarity);
  const once = weighed.filter(({ way }, i) => weighed.findIndex((other) => areSame(other.way, way)) === i);
  if (!standsOut(figure, own)) return tie(once);
  const placed: { place: number; way: Way; slips: number }[] = [];
  let first = once[0];
  let place = 1;
  for (const [i, { way, slips }] of once.entries()) {
    if (slips > first!.slips || way.rarity > first!.way.rarity + COMPARABLE) {
      first = once[i];
      place = i + 1;
    }
    placed.push({ place, way, slips });
  }
  const best = placed.filter((one) => one.place === 1).length;
  if (best > MOST_TIED) return tie(once);
  return placed
    .filter(({ slips }) => slips <= once[0]!.slips + 1)
    .slice(0, Math.max(SHOWN, best))
    .map(({ place, way }) => ({
      place,
      way,
      tied: placed.filter((one) => one.place === place).length > 1,
      hedged: false,
    }));
}

/** In a sum of which nothing else is charted, what fits by chance casts doubt on what fits by more. */
function standsOut(figure: Figure, ways: readonly Way[]): boolean {
  const sure = ways.filter(({ byChance }) => byChance === undefined);
  if (sure.length === 0) return false;
  const isCertain = sure.some(
    ({ slips, settles }) => settles.length > 0 || slips.some(({ certain }) => certain),
  );
  return isCertain || sure.length === ways.length || !isBareSum(figure);
}

function tie(ways: readonly { readonly way: Way }[]): Ranked[] {
  return ways.map(({ way }) => ({ place: 1, way, tied: ways.length > 1, hedged: true }));
}

function areSame({ slips }: Way, other: Way): boolean {
  return (
    slips.length === other.slips.length && slips.every((slip) => other.slips.some((one) => isSame(slip, one)))
  );
}

/** Its own slips, and those that the figures it leaves open would need. */
function slipsNeeded(
  { slips, settles }: Way,
  linked: ReadonlySet<Figure>,
  figure: Figure,
  ways: ReadonlyMap<Figure, readonly Way[]>,
): number {
  const open = [...linked].filter((other) => !settles.includes(other));
  return open.reduce((sum, other) => sum + fewest(other, figure, ways), slips.length);
}

/** The fewest slips that explain a figure without touching another. */
function fewest(figure: Figure, apart: Figure, ways: ReadonlyMap<Figure, readonly Way[]>): number {
  const own = (ways.get(figure) ?? []).filter(
    ({ slips, byChance }) => byChance === undefined && !slips.some(({ effects }) => effects.has(apart)),
  );
  return Math.min(UNEXPLAINED, ...own.map(({ slips }) => slips.length));
}
