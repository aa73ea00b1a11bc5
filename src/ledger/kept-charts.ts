/** Charts as they stand in an encounter's chain: the figures another record holds of a span, never changed. */

import type { ChartFigure } from "../balance/charts/chart.js";
import { ask, type Inquiry, type Row } from "../store/store.js";
import type { Period } from "../time/instant.js";
import type { ChartFigureText } from "../wire/charts.js";
import { readInstant } from "../wire/instant.js";
import { microlitres } from "../wire/quantity.js";
import type { ChartPostedText } from "../wire/stored.js";
import { recordedOf } from "./families.js";
import { remembering } from "./remembering.js";
import type { Known } from "./replay.js";

export interface KeptChart extends Period {
  readonly id: string;
  readonly source: string | undefined;
  readonly figures: readonly ChartFigure[];
  readonly body: ChartPostedText;
  readonly row: Row;
  /** No chart of the same span was kept after it. */
  readonly latest: boolean;
}

/** The charts kept of a stay, in the order of recording. */
export function* chartsKept({ chain, upTo }: Known): Inquiry<KeptChart[]> {
  const rows = yield* ask({ ask: "kinds", chain, kinds: ["chart-posted"], upTo });
  const charts = rows.map(chartOf);
  const last = new Map(charts.map((chart) => [spanOf(chart), chart.id]));
  return charts.map((chart) => ({ ...chart, latest: last.get(spanOf(chart)) === chart.id }));
}

const spanOf = ({ start, end }: Period) => `${start} ${end}`;

const chartOf = remembering((row: Row): Omit<KeptChart, "latest"> => {
  const body = recordedOf(row).body as ChartPostedText;
  return {
    id: row.id,
    source: body.chart.source,
    start: readInstant(body.start),
    end: readInstant(body.end),
    figures: body.chart.figures.map(figureOf),
    body,
    row,
  };
});

/** A figure as the calculation has it, of one whose form is right. */
export function figureOf({ row, start, end, volume }: ChartFigureText): ChartFigure {
  return {
    row,
    start: readInstant(start),
    end: readInstant(end),
    volume: volume === null ? null : microlitres(volume),
  };
}
