/**
 * How likely a kind of reason is: everything of that kind that may have happened is supposed in turn, and
 * weighed by how usual it is and how well the reading then fits. The kind is as likely as all of its ways
 * together, and is shown by the likeliest of them: so a pause, which can be of any length and fits
 * nearly every reading a little, has no advantage over the other total, which fits one number well or not at all.
 *
 * Only ways that would make the reading agree are weighed, and the likeliest whose entries would settle it
 * is shown. The weights are estimates, in floating point,
 * and are compared with each other only; volumes stay exact.
 */

import { defaultSettings } from "../../conventions/settings.js";
import { greater, lesser, minus, NOTHING, plus, type Volume, volumeOf } from "../../infusion/quantity.js";
import { MINUTE } from "../../time/instant.js";
import type { Proposal } from "../finding.js";
import type { Disagreeing, Reason, ReasonKind } from "./reason.js";
import { retold } from "./retelling.js";
import { channelOf, rateAtTheEnds } from "./span.js";

export interface Told {
  readonly sentence: string;
  readonly proposals: readonly Proposal[];
}

/** One way in which something of a kind may have happened. */
export interface Supposed {
  /** The increment as it would then be read … */
  readonly increment: Volume;
  /** … and as it would be computed. */
  readonly would: Volume;
  /** Set where it is another counter that was read, in which the minute of the reading need not count anything. */
  readonly elsewhere?: true;
  /** How usual this way is among those of its kind: the shares of one kind sum to 1 at most. */
  readonly share: number;
  readonly tell: () => Told;
}

type SupposedKind = Exclude<ReasonKind, "segments-say">;

/**
 * How usual each kind is among readings that disagree where it can have happened at all: few flows end by
 * themselves within a span, and few entries come later than a reading. Nobody has counted this at the bedside: what people
 * leave out or misread is taken to be about equally frequent, and what the ledger would mostly have asked
 * about already is taken to be rarer.
 */
const HOW_USUAL: Readonly<Record<SupposedKind, number>> = {
  "rate-change-missing": 0.16,
  "rate-change-late": 0.14,
  "pause-missing": 0.14,
  "secondary-missing": 0.12,
  "bolus-missing": 0.12,
  "bag-missing": 0.25,
  "entry-wrong": 0.4,
  "clear-missing": 0.1,
  "read-before-clear": 0.2,
  "other-total": 0.06,
  "other-channel": 0.03,
  digits: 0.17,
  "time-of-reading": 0.08,
};

/** The kind as its likeliest way that would settle the reading, or nothing where none of the likely ways would. */
export function likeliest(kind: SupposedKind, d: Disagreeing, supposed: Iterable<Supposed>): Reason[] {
  const chanceOf = chances(d);
  const wouldAgree = agreeing(d);
  let together = 0;
  const ways: { way: Supposed; chance: number }[] = [];
  for (const way of supposed) {
    if (!wouldAgree(way)) continue;
    together += way.share * chanceOf(way, remainingOf(way, d));
    ways.push({ way, chance: way.share * chanceOf(way, apart(way)) });
  }
  if (HOW_USUAL[kind] * together < BY_CHANCE) return [];
  ways.sort((a, b) => b.chance - a.chance);
  const settling = settlingIn(
    ways.slice(0, TRIED).map(({ way }) => way),
    d,
  );
  if (settling === undefined) return [];
  const { way, told, open } = settling;
  const unlikeliness = inTenthsOfBits(HOW_USUAL[kind] * together) + open * ANOTHER_FAULT;
  return [{ kind, remaining: remainingOf(way, d), unlikeliness, ...told }];
}

/** The first of the ways that settles the reading and explains the most of the others with it. */
function settlingIn(ways: readonly Supposed[], { reading, retelling }: Disagreeing) {
  let best: { way: Supposed; told: Told; open: number } | undefined;
  for (const way of ways) {
    const told = way.tell();
    const { settles, refuted, open } = retold(reading, retelling, told.proposals);
    if (!settles || refuted || (best !== undefined && best.open <= open)) continue;
    best = { way, told, open };
    if (open === 0) break;
  }
  return best;
}

/** The whole course is told again for each: where so many of the likeliest ways fail, it is for a cause they share. */
const TRIED = 8;

/**
 * A reading beside the one in question that stays unexplained takes a fault of its own: one reading in ten or
 * twenty has one, and one in five or ten of those would come to what another reason says of it.
 */
const ANOTHER_FAULT = 66;

/** What is less likely than one case in a hundred of any difference up to a litre explains nothing. */
const BY_CHANCE = 0.01 / Number(volumeOf(1_000_000));

/** Ten more is half as likely. */
function inTenthsOfBits(chance: number): number {
  return Math.round(-10 * Math.log2(chance));
}

/** How far the reading would still lie outside of what the charted times can stand for. */
function remainingOf(way: Supposed, d: Disagreeing): Volume {
  const { increment } = way;
  const nearest = nearestTo(way, d);
  return increment < nearest ? minus(nearest, increment) : minus(increment, nearest);
}

/** How far it would lie from what is computed at the charted times themselves: of ways that fit alike the plainest. */
function apart({ increment, would }: Supposed): Volume {
  return increment < would ? minus(would, increment) : minus(increment, would);
}

/**
 * The computed volume nearest to an increment within what the charted times stand for. Had less flowed, less
 * would have flowed in those minutes too; from another mark they count as they are, on another counter not.
 */
function nearestTo(
  { increment, would, elsewhere }: Omit<Supposed, "share" | "tell">,
  { reading }: Disagreeing,
): Volume {
  const { computed, least, most, increment: charted } = reading.comparison;
  if (elsewhere) return would;
  const slower = increment === charted && would < computed && computed > NOTHING;
  const grain = (volume: Volume) => (slower ? (((volume * would) / computed) as Volume) : volume);
  const from = greater(NOTHING, minus(would, grain(minus(computed, least))));
  return greater(from, lesser(plus(would, grain(minus(most, computed))), increment));
}

/**
 * Whether the reading would agree. Only the tolerance that it had is known, the larger of a share and a
 * floor; of another volume it is taken to be what units have that decide nothing, and not beyond what it had.
 */
function agreeing(d: Disagreeing): (way: Supposed) => boolean {
  const { readingTolerance: usual } = defaultSettings;
  const { tolerance, increment, computed } = d.reading.comparison;
  const before = nearestTo({ increment, would: computed }, d);
  const floor = lesser(tolerance, volumeOf(channelOf(d)?.type === "syringe" ? usual.syringe : usual.pump));
  return (way) => {
    if (way.increment < NOTHING || way.would < NOTHING) return false;
    const after = nearestTo(way, d);
    if (after < way.increment && countsUnknown(d)) return true;
    const share = ((after * BigInt(usual.percent)) / 100n) as Volume;
    const known = before > NOTHING ? lesser(share, ((tolerance * after) / before) as Volume) : share;
    return remainingOf(way, d) <= greater(known, floor);
  };
}

/** Whether the total counts at a rate that nobody knows, so that what is computed is the least it can be. */
function countsUnknown(d: Disagreeing): boolean {
  const type = channelOf(d)?.type;
  return d.reading.over.atLeast || type === "metered" || type === "gravity";
}

/** Of what flows at a rate nobody knows, up to a litre is as likely as any. */
const ANY_VOLUME = 1 / Number(volumeOf(1_000_000));

/** What a volumetric device is usually off by, as a share; twice that is rare. */
const DEVICE = 0.02;
/** A tenth of a millilitre, the last digit most displays show. */
const LAST_DIGIT = Number(volumeOf(100));
/** Now and then a reading is charted some minutes from when it was taken, at either end of the span. */
const MINUTES_OFF = 3;
const OFTEN_OFF = 0.2;

/** The density, per tick, of what remains between the reading and what would be computed. */
function chances(d: Disagreeing): (way: Supposed, rest: Volume) => number {
  const off = rateAtTheEnds(d) * MINUTES_OFF * MINUTE;
  const unknown = countsUnknown(d);
  return (way, rest) => {
    if (unknown && way.increment > way.would) return ANY_VOLUME;
    const remaining = Number(rest);
    const spread = Math.hypot(DEVICE * Number(way.would), LAST_DIGIT);
    return (
      (1 - OFTEN_OFF) * normal(remaining, spread) + OFTEN_OFF * normal(remaining, Math.hypot(spread, off))
    );
  };
}

/** The density of the normal distribution; also how usual a ratio is, of its logarithm. */
export function normal(off: number, spread: number): number {
  return Math.exp(-((off / spread) ** 2) / 2) / (spread * Math.sqrt(2 * Math.PI));
}
