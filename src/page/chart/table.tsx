/**
 * A chart beside the ledger: its own rows and columns; a cell that differs says by a sign, a frame and a number what
 * the ledger has, and the explanations stand right under its row.
 */

import { Fragment } from "react";
import type { ChartFigure, Reconciliation, ShiftFigures } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { clock } from "../words/wall.js";
import { DifferenceItem } from "./difference.js";
import { type ChartCell, laidOut } from "./marks.js";
import { chartRowName, columnName } from "./names.js";

interface ChartTableProps {
  readonly figures: readonly ChartFigure[];
  /** Null before it is compared. */
  readonly answer: Reconciliation | null;
  readonly shift: ShiftFigures;
}

export function ChartTable({ figures, answer, shift }: ChartTableProps) {
  const speech = useSpeech();
  const { words } = speech;
  const { columns, rows } = laidOut(figures, answer);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys
    <section className="chart-room" tabIndex={0} aria-label={words.chart.caption}>
      <table className="chart">
        <caption className="unseen">{words.chart.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.chart.unit}</th>
            {columns.map((column) => (
              <th key={`${column.start} ${column.end}`} scope="col">
                <span className="unseen">{columnName(column, speech)}</span>
                <span aria-hidden="true">
                  {Date.parse(column.end) - Date.parse(column.start) > 3_600_000
                    ? words.chart.total
                    : clock(column.start)}
                </span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ row, cells }) => {
            const differing = cells.filter((cell) => cell?.difference);
            const name = chartRowName(row, shift, speech);
            return (
              <Fragment key={JSON.stringify(row)}>
                <tr>
                  <th scope="row">{name}</th>
                  {cells.map((cell, index) => (
                    <Cell key={columns[index]?.start + columns[index]!.end} cell={cell} />
                  ))}
                </tr>
                {differing.length > 0 && (
                  <tr className="explained">
                    <td colSpan={columns.length + 1}>
                      <ul>
                        {differing.map((cell) => (
                          <DifferenceItem
                            key={cell?.number}
                            number={cell?.number ?? 0}
                            difference={cell!.difference!}
                            name={name}
                            shift={shift}
                          />
                        ))}
                      </ul>
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

function Cell({ cell }: { readonly cell: ChartCell | null }) {
  const { words, figure } = useSpeech();
  if (cell === null) return <td />;
  const { figure: charted, mark, ledger, number, difference } = cell;
  const text = charted.volume === null ? "" : figure(charted.volume);
  return (
    <td className={`${mark} ${difference?.severity ?? ""}`}>
      {mark === "differs" && (
        <a href={`#difference-${number}`} className="mark">
          <span aria-hidden="true">≠</span>
          <span className="unseen">{words.chart.differs}</span>
          {number}
        </a>
      )}
      <span className="charted">{text}</span>
      {mark === "differs" && ledger !== null && <small>{words.chart.ledgerHas(figure(ledger))}</small>}
      {mark === "empty" && ledger !== null && <small>{words.chart.ledgerHas(figure(ledger))}</small>}
      {mark === "not-begun" && <small>{words.chart.notBegun}</small>}
      {mark === "not-in-use" && <small>{words.chart.notInUse}</small>}
    </td>
  );
}
