/** What a sheet is made of, and how it says when something was: on paper a clock time has nothing else beside it. */

import type { Unit } from "../api/shapes.js";
import type { ShiftSheet, StaySheet } from "../api/sheet.js";
import type { PrintWords } from "../words/en-print.js";
import type { Speech } from "../words/speech.js";
import { clockAmong, dateOf, moment } from "../words/wall.js";

export interface Source {
  readonly stay: StaySheet["stay"];
  readonly sheet: ShiftSheet;
  /** The unit the patient is in; null while nobody knows its name. */
  readonly unit: Unit | null;
  /** Who prints it; null where nobody is named. */
  readonly by: string | null;
  readonly speech: Speech;
  readonly words: PrintWords;
}

/**
 * The clock time; its offset within an hour that the clock shows twice; its date when it is not within the shift,
 * whose own date stands at the head of the page.
 */
export function whenOf({ sheet: { shift }, speech }: Source, instant: string): string {
  const { intervals } = shift.volumes;
  const clock = clockAmong(instant, intervals);
  const within = moment(shift.start) <= moment(instant) && moment(instant) <= moment(shift.end);
  return within ? clock : `${clock} (${shortDate(instant, speech.language)})`;
}

/** "Mar 4": without a year, since a shift and what is beside it lie within days of each other. */
function shortDate(instant: string, language: string): string {
  const format = { timeZone: "UTC", day: "numeric", month: "short" } as const;
  return new Intl.DateTimeFormat(language, format).format(new Date(`${dateOf(instant)}T00:00:00Z`));
}

/** "2026-03-04 18:40 (UTC-06:00)": an instant that means the same wherever the sheet goes. */
export function stamp(instant: string): string {
  return `${dateOf(instant)} ${clockAmong(instant, [])} (UTC${offset(instant)})`;
}

/** "−06:00" with a real minus sign. */
export function offset(instant: string): string {
  const [text = "+00:00"] = /[+-]\d\d:\d\d$/.exec(instant) ?? [];
  return text.replace("-", "\u2212");
}

/** A figure with how sure it is before it: "at least 412.5 mL". */
export function sure(text: string, certainty: keyof Speech["words"]["certainty"], speech: Speech): string {
  return `${speech.words.certainty[certainty]} ${text}`.trim();
}
