/** The charts that were kept beside the ledger: of each span the last one, as far as its intervals have ended. */

import type { ChartBeside } from "../audit/audited.js";
import { isWithin, ledgerOf } from "../balance/charts/chart.js";
import { comparedWith } from "../balance/charts/compared.js";
import type { ChartCompared } from "../findings/finding.js";
import type { Inquiry } from "../store/store.js";
import type { Period } from "../time/instant.js";
import { type ShiftSpan, shiftAt } from "../time/shifts.js";
import { chartSide } from "./chart-side.js";
import type { Moment } from "./coordinates.js";
import { chartsKept, type KeptChart } from "./kept-charts.js";

/** Those that a span touches, or every one. */
export function* chartsCompared(at: Moment, touching?: Period): Inquiry<ChartCompared[]> {
  const { conventions } = at.facts;
  const charts = (yield* endedCharts(at)).filter(
    ({ start, end }) => touching === undefined || (start < touching.end && touching.start <= end),
  );
  const beside = yield* besideLedger(at, charts);
  return beside.map(({ chart: { id, source = null, start, end, figures }, items, outside, lines }) => {
    const { note } = conventions.settingsAt(start).chartTolerance;
    const shift = shiftAt(conventions.stretches, start);
    return {
      chart: id,
      source,
      start,
      end,
      shift: isWhole(shift, { start, end }) ? `${shift.date}/${shift.name}` : null,
      ...comparedWith(figures, ledgerOf([...items, ...outside], lines), note),
    };
  });
}

/** The charts of a stay that say something of a period, each with its figures in it beside the ledger's. */
export function* chartsWithin(at: Moment, period: Period): Inquiry<ChartBeside[]> {
  const charts = (yield* endedCharts(at))
    .map((chart) => ({ ...chart, figures: chart.figures.filter((figure) => isWithin(figure, period)) }))
    .filter(({ figures }) => figures.length > 0);
  const beside = yield* besideLedger(at, charts);
  return beside.map(({ chart, items, lines }) => {
    const ledger = ledgerOf(items, lines);
    const figures = chart.figures.map((one) => {
      const volume = one.volume!;
      return { ...one, volume, difference: volume - ledger.figure(one.row, one.start, one.end, volume) };
    });
    return { figures, items };
  });
}

/** The last chart of every span, with those of its figures that were written and whose intervals have ended. */
function* endedCharts({ known, until }: Moment): Inquiry<KeptChart[]> {
  return (yield* chartsKept(known))
    .filter(({ latest }) => latest)
    .map((chart) => ({
      ...chart,
      figures: chart.figures.filter(({ end, volume }) => volume !== null && end <= until),
    }));
}

/** Charts with what the ledger has in their spans. All in one, since charts of a stay mostly follow one another. */
function* besideLedger(at: Moment, charts: readonly KeptChart[]) {
  const figures = charts.flatMap((chart) => chart.figures);
  if (figures.length === 0) return [];
  const {
    items,
    outside,
    inUse: { lines },
  } = yield* chartSide(at, figures);
  return charts.map((chart) => {
    const within = (item: Period) => isWithin(item, chart);
    return { chart, items: items.filter(within), outside: outside.filter(within), lines };
  });
}

function isWhole(shift: ShiftSpan, { start, end }: Period): boolean {
  return shift.start === start && shift.end === end;
}
