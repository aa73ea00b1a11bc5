/**
 * The ways to explain one difference. What one slip explains is not explained by two, unless the second explains
 * another figure as well.
 */

import { chanceIn, mostByChance, type Possible } from "./chance.js";
import type { Figure } from "./figure.js";
import { slipsOf } from "./kinds.js";
import { type Judged, mending, type Pair, pairsAcross, pairsOf } from "./pairs.js";
import type { Sheet } from "./sheet.js";
import type { Slip } from "./slip.js";
import { effectOn, elsewhere, fits, rarityOf, type Way, wayOf } from "./way.js";

/**
 * The ways to explain the difference of a figure. What one slip explains by chance is among them and says so: it
 * would fit, and who looks for the reason has to be told. Two that fit by chance are not.
 */
export function waysFor(figure: Figure, sheet: Sheet): Way[] {
  if (figure.instead !== null) return [];
  const judged: Judged[] = slipsOf(figure, sheet).map((slip) => ({
    slip,
    ...elsewhere(figure, [slip], sheet),
  }));
  const most = mostByChance(figure);
  const possible = judged.filter(({ contradicts }) => contradicts.length === 0);
  const singles = possible
    .filter(({ slip }) => fits(figure, [slip]))
    .map(({ slip, settles }) => wayOf(figure, [slip], settles));
  const alone = possible.map(({ slip }) => possibleOf(figure, [slip]));
  const told = likely(figure, singles, alone, most.alone).filter(
    ({ slips, settles }) => settles.length > 0 || !slips.some(({ doubtful }) => doubtful),
  );
  const byChance = singles.filter((way) => !told.includes(way));

  const slips = possible.map(({ slip }) => slip);
  const fitting = [
    ...fittingIn(figure, pairsOf(figure, slips, sheet)),
    ...fittingIn(figure, pairsAcross(judged, sheet)),
  ];
  const pairs = fitting
    .map((pair) => ({ slips: pair, ...elsewhere(figure, pair, sheet) }))
    .filter(
      ({ contradicts, settles }) =>
        contradicts.length === 0 && (singles.length === 0 || settles.some(({ instead }) => instead === null)),
    )
    .map(({ slips, settles }) => wayOf(figure, slips, settles));
  // Two slips are as likely by chance as there are twos; they are many, and only gone through where some fit.
  const both =
    pairs.length === 0 ? [] : [...pairsOf(figure, slips, sheet)].map((two) => possibleOf(figure, two));
  const toldTogether = likely(figure, pairs, [...alone, ...both], most.together);

  const mended = judged
    .filter(({ slip, contradicts }) => contradicts.length === 1 && fits(figure, [slip]))
    .flatMap(({ slip, contradicts }) => mending(figure, slip, contradicts[0]!, sheet));
  return [...told, ...toldTogether, ...mended, ...byChance.map((way): Way => ({ ...way, byChance: true }))];
}

function* fittingIn(figure: Figure, pairs: Iterable<Pair>): Iterable<Pair> {
  for (const pair of pairs) if (fits(figure, pair)) yield pair;
}

function possibleOf(figure: Figure, slips: readonly Slip[]): Possible {
  return { effect: effectOn(figure, slips), rarity: rarityOf(slips) };
}

/** Those that fit by more than chance, or that the chart's own figures show. */
function likely(figure: Figure, ways: readonly Way[], possible: readonly Possible[], most: number): Way[] {
  if (ways.length === 0) return [];
  const chance = chanceIn(figure, possible);
  return ways.filter(
    ({ slips, rarity, settles }) =>
      slips.some(({ certain }) => certain) || chance(rarity, settles.length) <= most,
  );
}
