/**
 * The hours as a table: a row per line, a column per interval standing exactly under its part of the
 * picture, the shift on the right, sums at the foot. Every number is shown as the API rounded it.
 */

import type { Volumes } from "./answers.js";
import { element } from "./elements.js";
import { figure } from "./numbers.js";
import type { Axis } from "./scale.js";
import { moment } from "./wall.js";
import { words } from "./words.js";

/** The table of a shift, its columns as wide as the axis says. */
export function hoursTable(volumes: Volumes, axis: Axis): HTMLTableElement {
  const table = element(
    "table",
    { class: "hours" },
    element("caption", { class: "unseen" }, words.hours.caption),
    element("colgroup", {}, ...widths(axis)),
    element("thead", {}, heading(volumes)),
    element("tbody", {}, ...volumes.rows.map((row) => bodyRow(row))),
    element("tfoot", {}, footRow(volumes)),
  );
  table.style.width = `${axis.left + axis.plot + axis.right}px`;
  return table;
}

function widths(axis: Axis): HTMLElement[] {
  return [axis.left, ...axis.columns, axis.right].map((width) => {
    const column = element("col");
    column.style.width = `${width}px`;
    return column;
  });
}

/** The API's own label of each interval ("01:00–02:00 -05:00"), the hour it starts with in large. */
function heading(volumes: Volumes): HTMLElement {
  const now = moment(volumes.until);
  const running = now < moment(volumes.to);
  const columns = volumes.intervals.map((interval) => {
    const begun = !interval.complete && moment(interval.start) < now;
    const future = moment(interval.start) >= now;
    const [hours = "", ...offset] = interval.label.split(" ");
    const [starts = "", ends] = hours.split("–");
    return element(
      "th",
      { scope: "col", class: future ? "future" : null },
      starts,
      ends !== undefined && element("small", {}, `–${ends}`),
      offset.length > 0 && element("small", {}, offset.join(" ")),
      begun && element("small", {}, words.hours.soFar),
    );
  });
  const total = element(
    "th",
    { scope: "col", class: "total" },
    words.hours.total,
    running && element("small", {}, words.hours.soFar),
  );
  return element(
    "tr",
    {},
    element("th", { scope: "col", class: "name" }, words.hours.line),
    ...columns,
    total,
  );
}

function bodyRow(row: Volumes["rows"][number]): HTMLElement {
  const cells = row.volumes.map((volume, index) => cell(volume, (row.unknown[index] ?? 0) > 0));
  const total = cell(row.total, anyUnknown(row.unknown), "total");
  const name = row.key === null && row.label === "" ? words.hours.noLine : row.label;
  return element("tr", {}, element("th", { scope: "row", class: "name" }, name), ...cells, total);
}

function footRow({ rows, sums, total }: Volumes): HTMLElement {
  const cells = sums.map((sum, index) =>
    cell(
      sum,
      rows.some((row) => (row.unknown[index] ?? 0) > 0),
    ),
  );
  const all = cell(
    total,
    rows.some((row) => anyUnknown(row.unknown)),
    "total",
  );
  return element("tr", {}, element("th", { scope: "row", class: "name" }, words.hours.sum), ...cells, all);
}

function anyUnknown(minutes: readonly number[]): boolean {
  return minutes.some((count) => count > 0);
}

/** Blank for an hour still to come; "at least" before what unknown minutes make a lower bound. */
function cell(volume: number | null, lowerBound: boolean, kind: string | null = null): HTMLElement {
  if (volume === null) return element("td", { class: kind });
  return element(
    "td",
    { class: kind },
    lowerBound && element("small", {}, words.hours.atLeast),
    " ",
    figure(volume),
  );
}
