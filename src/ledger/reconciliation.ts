/** A chart reconciled with the ledger: figures that are sent along, or those of a chart that was kept. */

import { type ChartFigure, isWithin } from "../balance/charts/chart.js";
import { reconcile } from "../balance/charts/reconcile.js";
import type { Inquiry } from "../store/store.js";
import { earliest, type Instant, latest, type Period } from "../time/instant.js";
import { formatInstant } from "../time/zone.js";
import type { ReconciliationBody } from "../wire/charts.js";
import { chainOf } from "./acknowledgements.js";
import { carriedInto } from "./carried-into.js";
import { type ChartSide, chartSide } from "./chart-side.js";
import { chartSpan, fault, spanNamed } from "./chart-span.js";
import { type Coordinates, coordinates, written } from "./coordinates.js";
import { chartsKept, figureOf, type KeptChart } from "./kept-charts.js";
import type { Asked } from "./ledger.js";
import { reconciliationText } from "./reconciliation-text.js";
import { done, type Outcome, refused } from "./refusal.js";
import { chartWords, wordsAt } from "./words.js";

export interface ReconciliationQuery extends Asked {
  readonly body: ReconciliationBody;
  /** Whole microlitres; absent, what the unit has set. */
  readonly precision?: number | undefined;
}

/** What matches, what differs and why, and what is not charted; as known and as far as the stay has come. */
export function* reconciliation(
  encounter: string,
  query: ReconciliationQuery,
  now: Instant,
): Inquiry<Outcome<object>> {
  const resolved = yield* coordinates(chainOf(encounter), query, now);
  if (resolved.refused) return resolved;
  const at = resolved.done;
  const asked = yield* chartOf(query.body, at, now);
  if (asked.refused) return asked;
  const { chart, figures, span } = asked.done;
  const begun = figures.filter(({ start }) => start < at.until);
  const { conventions } = at.facts;
  const { chartTolerance } = conventions.settingsAt(span.start);
  const zoneAt = (instant: Instant) => conventions.stretchAt(instant).zone;
  const side = begun.length === 0 ? null : yield* sideOf(at, begun, query.precision);
  const words = chartWords(wordsAt(span.start, zoneAt));
  const made = side && reconcile(begun, side, chartTolerance.note, words, side.doubts);
  const zone = zoneAt(span.start);
  return done({
    zone,
    from: formatInstant(span.start, zone),
    to: formatInstant(span.end, zone),
    ...written(at),
    chart: chart && { id: chart.id, ...(chart.source !== undefined && { source: chart.source }) },
    ...reconciliationText(made, side, {
      tolerance: chartTolerance,
      notBegun: figures.filter(({ start }) => start >= at.until),
      conventions,
      span,
      time: (instant) => formatInstant(instant, zoneAt(instant)),
    }),
  });
}

/** The ledger's side, with what was brought forward where a sum is charted that might have it. */
function* sideOf(at: Coordinates, figures: readonly ChartFigure[], precision?: number): Inquiry<ChartSide> {
  const side = yield* chartSide(at, figures, precision);
  if (!figures.some(({ row }) => "sum" in row)) return side;
  const span = {
    start: earliest(...figures.map(({ start }) => start)),
    end: latest(...figures.map(({ end }) => end)),
  };
  return { ...side, carried: yield* carriedInto(at, span, precision) };
}

interface AskedOf {
  readonly chart: KeptChart | null;
  readonly figures: readonly ChartFigure[];
  readonly span: Period;
}

/** The figures that are asked about, and their span. */
function* chartOf(body: ReconciliationBody, at: Coordinates, now: Instant): Inquiry<Outcome<AskedOf>> {
  const invalid = (errors: readonly ReturnType<typeof fault>[]) =>
    refused({ problem: "invalid-body", errors });
  if ("figures" in body) {
    const figures = body.figures.map(figureOf);
    const span = chartSpan(body, figures, at.facts, now);
    return span.faults ? invalid(span.faults) : done({ chart: null, figures, span: span.value });
  }
  const chart = (yield* chartsKept(at.known)).find(({ id }) => id === body.chart);
  const named = spanNamed(body, at.facts);
  const unknown =
    chart === undefined
      ? [fault("#/chart", "unknown-chart", `There is no chart "${body.chart}" of this encounter by then.`)]
      : [];
  if (chart === undefined || named.faults) return invalid([...unknown, ...(named.faults ?? [])]);
  const span = named.value ?? chart;
  const figures = chart.figures.filter((figure) => isWithin(figure, span));
  return done({ chart, figures, span: { start: span.start, end: span.end } });
}
