/** What the rows and columns of a chart are called where it is shown. */

import type { ChartRow, ShiftFigures } from "../api/shapes.js";
import { categoryName } from "../picture/sentences.js";
import type { Speech } from "../words/language.js";
import { clock, moment } from "../words/wall.js";

const HOUR = 3_600_000;

export function chartRowName(row: ChartRow, shift: ShiftFigures, speech: Speech): string {
  const { words } = speech;
  if ("sum" in row) return words.balance[row.sum];
  if ("category" in row) return categoryName(row.category, speech);
  if ("item" in row) return row.item;
  return shift.volumes.rows.find(({ key }) => key === row.line)?.label ?? row.line;
}

/** "09:00" over an hour, "Total 07:00–19:00" over more. */
export function columnName({ start, end }: { start: string; end: string }, { words }: Speech): string {
  const longer = moment(end) - moment(start) > HOUR;
  return longer ? words.chart.totalOf(clock(start), clock(end)) : `${clock(start)}–${clock(end)}`;
}
