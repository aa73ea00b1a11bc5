/** What the heading of a chart's column means: an hour of the shift, a span of hours, or the total of what is there. */

import type { Interval } from "../api/shapes.js";
import { clock } from "../words/wall.js";
import { plain } from "./plain.js";

/** Whether "08:00" over a column is the hour that begins then, or the one that ends then. */
export type Heading = "begins" | "ends";

export type ColumnFault = "no-heading" | "not-of-the-shift" | "hour-twice" | "heading-twice";

export type Column =
  | { readonly start: string; readonly end: string; readonly total: boolean; readonly fault?: undefined }
  | { readonly fault: ColumnFault };

/** "total" in the languages that there are. */
const TOTALS = new Set(["total", "totals", "sum", "shift", "shift total", "suma", "turno", "total turno"]);
const HOUR = /^(\d{1,2})(?:[:.]?(\d{2}))?\s*h?$/;

interface Headed {
  readonly from: string;
  readonly to: string | null;
}

/** The columns of headings, in their order; `hours` are those of the shift. */
export function columnsOf(
  headings: readonly string[],
  hours: readonly Interval[],
  heading: Heading,
): Column[] {
  const taken = new Map<string, number>();
  const columns = headings.map((text): Column | "total" => {
    if (TOTALS.has(plain(text))) return "total";
    const headed = headedBy(text);
    if (headed === null) return { fault: "no-heading" };
    const before = taken.get(plain(text)) ?? 0;
    taken.set(plain(text), before + 1);
    const times = headings.filter((other) => plain(other) === plain(text)).length;
    return columnOf(headed, hours, heading, before, times);
  });
  const spans = columns.filter((column) => column !== "total" && column.fault === undefined) as Span[];
  const whole = spans.length > 0 ? spans : hours;
  const ends = { start: whole[0]?.start ?? "", end: whole.at(-1)?.end ?? "" };
  return columns.map((column, index) => {
    if (column !== "total") return column;
    const again = columns.indexOf("total") !== index;
    return again ? { fault: "heading-twice" } : { ...ends, total: true };
  });
}

type Span = Pick<Interval, "start" | "end">;

/** An hour that the clock shows twice stands there twice: the first is the first of them. */
function columnOf(
  { from, to }: Headed,
  hours: readonly Interval[],
  heading: Heading,
  before: number,
  times: number,
): Column {
  const beginning = hours.filter(({ start }) => clock(start) === from);
  const ending = hours.filter(({ end }) => clock(end) === (to ?? from));
  const possible = to === null ? (heading === "begins" ? beginning : ending) : spansOf(beginning, ending);
  if (possible.length === 0) return { fault: "not-of-the-shift" };
  if (times > possible.length) return { fault: "heading-twice" };
  if (possible.length > times) return { fault: "hour-twice" };
  const { start, end } = possible[before]!;
  return { start, end, total: false };
}

function spansOf(beginning: readonly Span[], ending: readonly Span[]): Span[] {
  return beginning.flatMap(({ start }) => {
    const end = ending.find((one) => Date.parse(one.end) > Date.parse(start))?.end;
    return end === undefined ? [] : [{ start, end }];
  });
}

/** "7", "07", "0700", "07:00", "07:00-08:00", "7 h". */
function headedBy(text: string): Headed | null {
  const [from, to, ...more] = text
    .trim()
    .split(/\s*[-–—]\s*/)
    .map(clockIn);
  if (from === undefined || from === null || to === null || more.length > 0) return null;
  return { from, to: to ?? null };
}

function clockIn(text: string): string | null {
  const [, hour = "", minute = "00"] = HOUR.exec(text.trim().toLowerCase()) ?? [];
  if (hour === "" || Number(hour) > 24 || Number(minute) > 59) return null;
  // Midnight at the end of a day is that at the beginning of the next.
  return `${String(Number(hour) % 24).padStart(2, "0")}:${minute}`;
}
