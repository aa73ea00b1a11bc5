/** What is still to be explained about a total once the figures in it are. */

import type { Microlitres } from "../../infusion/entry.js";
import type { Counted, Figure } from "./figure.js";
import type { Sheet } from "./sheet.js";
import { type Addition, signIn } from "./totals.js";

/** Why a total is not what stands above it and what has no row come to; null where it is. */
export function questionOf(total: Figure, addition: Addition): Figure | null {
  const { parts, sum, uncovered, uncoveredVolume, fit } = addition;
  const difference = total.charted - sum - uncoveredVolume;
  if (Math.abs(difference) <= fit) return null;
  const adding = {
    parts: parts.map((part) => ({ row: part.row, volume: signIn(total, part) * part.charted })),
    uncovered: uncoveredVolume,
  };
  return { ...total, difference, counted: uncovered, fit, adding };
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
  const parts = sheet.totals
    .get(total)!
    .parts.filter(({ difference }) => Math.abs(difference) > sheet.tolerance);
  return parts.flatMap((part) => {
    const addition = sheet.totals.get(part);
    if (addition === undefined || questionOf(part, addition) !== null) return [part];
    const deeper = followsOf(part, sheet);
    return deeper.length === 0 ? [part] : deeper;
  });
}
