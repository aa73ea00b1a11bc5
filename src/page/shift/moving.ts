/** Going from figure to figure in a table by keys: one stop of the Tab key, and arrows from there. */

import type { KeyboardEvent } from "react";

/** Arrow keys go to the next figure in that direction, Home and End to the ends of a row. */
export function moveFocus(event: KeyboardEvent, table: HTMLTableElement | null): void {
  const from = event.target as HTMLElement;
  const place = from.closest("td");
  const row = place?.parentElement as HTMLTableRowElement | null;
  if (table === null || place === null || row === null || !(from instanceof HTMLButtonElement)) return;
  const buttons = (cells: readonly (Element | undefined)[]) =>
    cells.flatMap((cell) => [...(cell?.querySelectorAll("button") ?? [])]);
  const inRow = buttons([...row.cells]);
  const inColumn = buttons([...table.rows].map((one) => one.cells[place.cellIndex]));
  const next: Partial<Record<string, HTMLButtonElement | undefined>> = {
    ArrowLeft: inRow[inRow.indexOf(from) - 1],
    ArrowRight: inRow[inRow.indexOf(from) + 1],
    ArrowUp: inColumn[inColumn.indexOf(from) - 1],
    ArrowDown: inColumn[inColumn.indexOf(from) + 1],
    Home: inRow[0],
    End: inRow.at(-1),
  };
  if (!(event.key in next)) return;
  event.preventDefault();
  const to = next[event.key];
  if (to === undefined) return;
  // The Tab key comes back to where it was left.
  for (const button of table.querySelectorAll("button")) button.tabIndex = -1;
  to.tabIndex = 0;
  to.focus();
}
