/**
 * A chart beside the ledger without asking why: which figures differ, and by how much all together. Totals show
 * again what the figures in them show, so they only count where nothing else differs.
 */

import type { Microlitres } from "../../infusion/entry.js";
import { type ChartFigure, isWithin, keyOf, type LedgerSide } from "./chart.js";
import { recognising } from "./recognised.js";
import { sideOf } from "./side.js";

export interface ComparedFigure extends ChartFigure {
  readonly volume: Microlitres;
  /** Charted less ledger. */
  readonly difference: Microlitres;
}

export interface ComparedChart {
  /** How many figures have been compared. */
  readonly count: number;
  /** Those that differ by more than the tolerance, by the largest difference first. */
  readonly differing: readonly ComparedFigure[];
  /** The differing figures that nothing else charted adds up to, or else all of them. */
  readonly finest: readonly ComparedFigure[];
}

export function comparedWith(
  chart: readonly ChartFigure[],
  ledger: LedgerSide,
  tolerance: Microlitres,
): ComparedChart {
  const recognise = recognising(chart, ledger.inUse);
  const written = chart.flatMap((one) => (one.volume === null ? [] : [{ ...one, volume: one.volume }]));
  const differing = written
    .map((one) => ({
      ...one,
      difference: one.volume - ledger.figure(recognise(one.row).under, one.start, one.end, one.volume),
    }))
    .filter(({ difference }) => Math.abs(difference) > tolerance)
    .sort((a, b) => Math.abs(b.difference) - Math.abs(a.difference));
  const placeOf = ({ row }: ChartFigure) => {
    const { under } = recognise(row);
    return { key: keyOf(under), side: sideOf(under, ledger.items) };
  };
  const parts = written.map((one) => ({ ...one, ...placeOf(one), isSum: "sum" in one.row }));
  const isTotal = (total: ComparedFigure) => {
    const { key, side } = placeOf(total);
    return parts.some((part) => {
      if (!isWithin(part, total)) return false;
      if (part.key === key) return part.start !== total.start || part.end !== total.end;
      return "sum" in total.row && (side === "net" || (!part.isSum && part.side === side));
    });
  };
  const finest = differing.filter((one) => !isTotal(one));
  return { count: written.length, differing, finest: finest.length > 0 ? finest : differing };
}
