/**
 * A chart as the charge nurse copied it off another record: rows by the hour, each with the total that stands
 * there. What is wrong in it was planted, for somebody to find.
 */

import type { StoryTime } from "./story.js";

/** A row: its figures hour by hour (null where the record is empty), and its total. */
export interface CopiedRow {
  readonly row: { readonly category: string } | { readonly sum: "intake" | "output" | "net" };
  readonly hours: readonly (number | null)[];
  readonly total: number;
}

export interface Copied {
  readonly id: string;
  readonly recordedAt: StoryTime;
  readonly source: string;
  /** The start of the first hour; all hours lie in the same shift. */
  readonly from: StoryTime;
  readonly rows: readonly CopiedRow[];
}

export function row(category: string, hours: CopiedRow["hours"], total: number): CopiedRow {
  return { row: { category }, hours, total };
}

/** A sum that stands under the whole chart alone. */
export function sum(of: "intake" | "output" | "net", total: number): CopiedRow {
  return { row: { sum: of }, hours: [], total };
}

/** The start of the n-th hour after a time of the story. */
export function hourAfter(from: StoryTime, hours: number): StoryTime {
  const [, shift, hour, minutes] = /^([123])\+(\d\d):(\d\d)$/.exec(from)!;
  return `${shift}+${String(Number(hour) + hours).padStart(2, "0")}:${minutes}` as StoryTime;
}

/** How many hours a chart has. */
export function hoursOf({ rows }: Copied): number {
  return Math.max(...rows.map(({ hours }) => hours.length));
}
