/**
 * A table of figures by the hour, on the axis of the picture: a row per line or category, a column per interval,
 * the shift on the right. Every figure is a button that asks why; arrow keys go from one to the next.
 */

import { useRef } from "react";
import type { ShiftFigures } from "../api/shapes.js";
import type { Axis } from "../picture/scale.js";
import { useSpeech } from "../words/language.js";
import { moment } from "../words/wall.js";
import type { Ask } from "./asked.js";
import { FigureButton } from "./figure-button.js";
import { moveFocus } from "./moving.js";
import type { TableRow } from "./table-rows.js";

interface FigureTableProps {
  readonly caption: string;
  /** Stands above the names of the rows. */
  readonly heading: string;
  readonly shift: ShiftFigures;
  readonly rows: readonly TableRow[];
  readonly axis: Axis;
  readonly ask: Ask;
}

export function FigureTable({ caption, heading, shift, rows, axis, ask }: FigureTableProps) {
  const { words } = useSpeech();
  const table = useRef<HTMLTableElement>(null);
  const widths = [axis.left, ...axis.columns, axis.right];
  const first = rows.findIndex(({ cells, total }) => [...cells, total].some((cell) => cell !== null));
  return (
    <table
      ref={table}
      className="hours"
      style={{ width: axis.left + axis.plot + axis.right }}
      onKeyDown={(event) => moveFocus(event, table.current)}
    >
      <caption className="unseen">
        {caption} {words.table.keys}
      </caption>
      <colgroup>
        {widths.map((width, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name than their place
          <col key={index} style={{ width }} />
        ))}
      </colgroup>
      <thead>
        <HeadRow heading={heading} shift={shift} />
      </thead>
      <tbody>
        {rows.map((row, index) => (
          <BodyRow key={row.key} row={row} shift={shift} ask={ask} entered={index === first} />
        ))}
      </tbody>
    </table>
  );
}

/** The hour each interval starts with in large, and what tells the two of a repeated hour apart. */
function HeadRow({ heading, shift }: { readonly heading: string; readonly shift: ShiftFigures }) {
  const { words } = useSpeech();
  const now = moment(shift.until);
  return (
    <tr>
      <th scope="col" className="name">
        {heading} <small>{words.table.unit}</small>
      </th>
      {shift.volumes.intervals.map(({ start, label, complete }) => {
        const [hours = "", ...offset] = label.split(" ");
        const [starts = "", ends] = hours.split("–");
        const future = moment(start) >= now;
        return (
          <th key={start} scope="col" className={future ? "future" : undefined}>
            {starts}
            {ends !== undefined && <small>–{ends}</small>}
            {offset.length > 0 && <small>{offset.join(" ")}</small>}
            {!complete && !future && <small>{words.table.soFar}</small>}
          </th>
        );
      })}
      <th scope="col" className="total">
        {words.table.total}
        {now < moment(shift.end) && <small>{words.table.soFar}</small>}
      </th>
    </tr>
  );
}

interface BodyRowProps {
  readonly row: TableRow;
  readonly shift: ShiftFigures;
  readonly ask: Ask;
  /** Whether the Tab key comes in at the first figure of this row. */
  readonly entered: boolean;
}

function BodyRow({ row, shift, ask, entered }: BodyRowProps) {
  const { words } = useSpeech();
  const firstCell = row.cells.findIndex((cell) => cell !== null);
  const labels = shift.volumes.intervals.map(({ label }) => label);
  return (
    <tr className={row.sum ? "sum" : undefined}>
      <th scope="row" className="name">
        {row.name}
      </th>
      {row.cells.map((cell, index) => (
        <td key={labels[index]}>
          {cell !== null && (
            <FigureButton
              cell={cell}
              name={row.name}
              interval={labels[index] ?? ""}
              ask={ask}
              tabbed={entered && index === firstCell}
            />
          )}
        </td>
      ))}
      <td className="total">
        {row.total !== null && (
          <FigureButton
            cell={row.total}
            name={row.name}
            interval={words.table.wholeShift}
            ask={ask}
            tabbed={entered && firstCell === -1}
          />
        )}
      </td>
    </tr>
  );
}
