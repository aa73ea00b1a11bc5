/** How a language says what the API sends: its words, its numbers, its days; units in symbols that are the same in all. */

import { en, type Words } from "./en.js";
import { es } from "./es.js";
import { numbersIn } from "./numbers.js";
import { clock, dateOf, dayName } from "./wall.js";

export const LANGUAGES = { en, es };
export type Language = keyof typeof LANGUAGES;

/** The words of a language, and how it writes what the API sends. */
export interface Speech {
  readonly language: Language;
  readonly words: Words;
  /** The sign between whole and parts. */
  readonly decimal: string;
  figure(value: number): string;
  tenths(value: number): string;
  /** A volume with its unit, never parted from it. */
  volume(value: number): string;
  /** The same to a tenth of a millilitre. */
  inTenths(value: number): string;
  rate(value: number): string;
  /** The day of a date or instant. */
  day(text: string): string;
  /** The clock time, with its day when that is not the day of `reference`. */
  clockSeenFrom(instant: string, reference: string): string;
}

/** The speech of a language, for who prefers these: how numbers are written depends on where it is spoken. */
export function speechIn(language: Language, preferred: readonly string[]): Speech {
  const locale = preferred.find((tag) => tag.split("-")[0] === language) ?? language;
  const words = LANGUAGES[language];
  const { figure, tenths, decimal } = numbersIn(locale);
  const day = (text: string) => dayName(dateOf(text), locale);
  return {
    language,
    words,
    decimal,
    figure,
    tenths,
    volume: (value) => `${figure(value)}\u00a0mL`,
    inTenths: (value) => `${tenths(value)}\u00a0mL`,
    rate: (value) => `${figure(value)}\u00a0mL/h`,
    day,
    clockSeenFrom: (instant, reference) =>
      dateOf(instant) === dateOf(reference) ? clock(instant) : words.shift.on(clock(instant), day(instant)),
  };
}
