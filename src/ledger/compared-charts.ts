/** The charts that were kept beside the ledger: of each span the last one, as far as its intervals have ended. */

import { ledgerOf } from "../balance/charts/chart.js";
import { comparedWith } from "../balance/charts/compared.js";
import type { ChartCompared } from "../findings/finding.js";
import type { Inquiry } from "../store/store.js";
import type { Period } from "../time/instant.js";
import { type ShiftSpan, shiftAt } from "../time/shifts.js";
import { chartSide } from "./chart-side.js";
import type { Moment } from "./coordinates.js";
import { chartsKept } from "./kept-charts.js";

/** Those that a span touches, or every one. All in one, since charts of a stay mostly follow one another. */
export function* chartsCompared(at: Moment, touching?: Period): Inquiry<ChartCompared[]> {
  const { conventions } = at.facts;
  const charts = (yield* chartsKept(at.known))
    .filter(({ latest }) => latest)
    .filter(({ start, end }) => touching === undefined || (start < touching.end && touching.start <= end))
    .map((chart) => ({
      ...chart,
      figures: chart.figures.filter(({ end, volume }) => volume !== null && end <= at.until),
    }));
  const figures = charts.flatMap((chart) => chart.figures);
  if (figures.length === 0) return [];
  const { items, outside, inUse } = yield* chartSide(at, figures);
  return charts.map(({ id, source = null, start, end, figures }) => {
    const within = [...items, ...outside].filter((item) => start <= item.start && item.end <= end);
    const { note } = conventions.settingsAt(start).chartTolerance;
    const shift = shiftAt(conventions.stretches, start);
    return {
      chart: id,
      source,
      start,
      end,
      shift: isWhole(shift, { start, end }) ? `${shift.date}/${shift.name}` : null,
      ...comparedWith(figures, ledgerOf(within, inUse.lines), note),
    };
  });
}

function isWhole(shift: ShiftSpan, { start, end }: Period): boolean {
  return shift.start === start && shift.end === end;
}
