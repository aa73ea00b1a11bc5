/** What is still to be explained about a total once the figures in it are. */

import type { Microlitres } from "../../infusion/entry.js";
import type { Counted, Figure } from "./figure.js";
import type { Sheet } from "./sheet.js";
import { type Addition, addedBy, isPart, signIn } from "./totals.js";

/**
 * Why a total is not what stands above it and what has no row come to; null where it is, or where it is that without
 * what was left empty. What is left beside figures that differ themselves is only asked about if it would be a
 * difference alone.
 */
export function questionOf(
  total: Figure,
  addition: Addition,
  empty: readonly Figure[],
  tolerance: Microlitres,
): Figure | null {
  const { parts, sum, uncovered, uncoveredVolume, fit } = addition;
  const difference = total.charted - sum - uncoveredVolume;
  if (Math.abs(difference) <= fit || leftEmptyIn(total, addition, empty).length > 0) return null;
  const follows = parts.some((part) => Math.abs(part.difference) > tolerance);
  if (follows && Math.abs(difference) <= tolerance) return null;
  const adding = {
    parts: parts.map((part) => {
      const { row, start, end, under } = part;
      return { row, start, end, under, volume: addedBy(total, part) };
    }),
    uncovered: uncoveredVolume,
  };
  return { ...total, difference, counted: uncovered, fit, adding };
}

/** The figures in a total that were left empty, where it comes to what it is charted as without them. */
export function leftEmptyIn(
  total: Figure,
  { sum, uncovered, uncoveredVolume, fit }: Addition,
  empty: readonly Figure[],
): Figure[] {
  const inside = empty.filter((figure) => figure.ledger !== 0 && isPart(figure, total));
  const isEmpty = ({ item }: Counted) =>
    inside.some(({ counted }) => counted.some((one) => one.item === item));
  const left = uncovered.filter(isEmpty);
  const volume = left.reduce((sum, one) => sum + one.volume, 0);
  if (Math.abs(volume) <= fit) return [];
  if (Math.abs(total.charted - sum - (uncoveredVolume - volume)) > fit) return [];
  // Of what was left empty twice, in its row and in a total of it, the finest says it.
  const finest = inside.filter((one) => !inside.some((other) => other !== one && isPart(other, one)));
  return finest.filter(({ counted }) => counted.some(({ item }) => left.some((one) => one.item === item)));
}

/** What parts that each match come to, where that is too much for the total; null where it is not. */
export function leftOverOf(
  total: Figure,
  { parts, fit }: Addition,
  tolerance: Microlitres,
): { figure: Figure; parts: readonly Figure[] } | null {
  const small = parts.filter(({ difference }) => Math.abs(difference) <= tolerance);
  const difference = small.reduce((sum, part) => sum + signIn(total, part) * part.difference, 0);
  if (Math.abs(difference) <= tolerance) return null;
  const counted = small.flatMap((part): readonly Counted[] => part.counted);
  return { figure: { ...total, difference, counted, fit }, parts: small };
}

/** The figures that a total differs for, down to those that do not follow from others themselves. */
export function followsOf(total: Figure, sheet: Sheet): Figure[] {
  const addition = sheet.totals.get(total)!;
  const parts = addition.parts.filter(({ difference }) => Math.abs(difference) > sheet.tolerance);
  const deeper = parts.flatMap((part) => {
    if (!sheet.totals.has(part) || sheet.asked.has(part)) return [part];
    const within = followsOf(part, sheet);
    return within.length === 0 ? [part] : within;
  });
  return [...new Set([...deeper, ...leftEmptyIn(total, addition, sheet.empty)])];
}
