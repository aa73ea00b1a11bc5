/**
 * A chart beside the ledger: one that is kept, or one pasted or uploaded as comma-separated text. What is typed
 * stays; what cannot be read is named by its cell; a chart that was compared may be kept.
 */

import { useQuery } from "@tanstack/react-query";
import { useState } from "react";
import type { ShiftSheet } from "../api/sheet.js";
import { Failed, Loading } from "../ui/states.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { aboutChart, aboutCharts } from "./asking.js";
import { Beside } from "./beside.js";
import { NewChart } from "./new-chart.js";
import { ChartTable } from "./table.js";

interface ChartViewProps {
  readonly encounter: string;
  readonly sheet: ShiftSheet;
  readonly asOf: string | null;
}

export function ChartView({ encounter, sheet, asOf }: ChartViewProps) {
  const { words, clockSeenFrom, day } = useSpeech();
  const { shift } = sheet;
  const charts = useQuery(aboutCharts(encounter, asOf));
  const [chosen, choose] = useState<string | null>(null);
  const ofShift = (charts.data ?? []).filter(
    ({ start, end }) =>
      Date.parse(start) < Date.parse(shift.end) && Date.parse(end) > Date.parse(shift.start),
  );
  return (
    <section aria-labelledby="chart">
      <h2 id="chart">{words.chart.heading}</h2>
      {charts.error && <Failed failure={charts.error} staleFrom={null} again={() => void charts.refetch()} />}
      {ofShift.length > 0 && (
        <>
          <h3 className="gap">{words.chart.kept}</h3>
          <ul className="kept">
            {ofShift.map(({ id, source, start, end, recorded, latest, count }) => (
              <li key={id}>
                <button type="button" aria-pressed={chosen === id} onClick={() => choose(id)}>
                  {source ?? id}
                </button>
                <span className="soft">
                  {words.chart.keptBy(
                    `${day(start)}, ${clock(start)}–${clock(end)}`,
                    recorded.by.name,
                    clockSeenFrom(recorded.at, shift.until),
                    count,
                  )}
                  {!latest && ` ${words.chart.notLatest}`}
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
      {chosen !== null && <KeptChart encounter={encounter} chart={chosen} sheet={sheet} asOf={asOf} />}
      {chosen !== null && (
        <p className="controls">
          <button type="button" onClick={() => choose(null)}>
            {words.chart.another}
          </button>
        </p>
      )}
      {chosen === null && <NewChart encounter={encounter} sheet={sheet} asOf={asOf} kept={choose} />}
    </section>
  );
}

interface KeptChartProps extends ChartViewProps {
  readonly chart: string;
}

function KeptChart({ encounter, chart, sheet: { shift }, asOf }: KeptChartProps) {
  const asked = useQuery(aboutChart(encounter, chart, asOf));
  if (asked.error)
    return <Failed failure={asked.error} staleFrom={null} again={() => void asked.refetch()} />;
  if (asked.data === undefined) return <Loading />;
  const { chart: kept, answer } = asked.data;
  return (
    <>
      <Beside answer={answer} shift={shift} />
      <ChartTable figures={kept.figures} answer={answer} shift={shift} />
    </>
  );
}
