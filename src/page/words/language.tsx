/**
 * The language of the page: what the browser prefers unless somebody chose, kept for this browser. It gives the
 * words, and numbers and dates as that language writes them; times are by the ward's clock, units in symbols.
 */

import { createContext, type ReactNode, useContext, useEffect, useMemo, useState } from "react";
import { en, type Words } from "./en.js";
import { es } from "./es.js";
import { numbersIn } from "./numbers.js";
import { clock, dateOf, dayName } from "./wall.js";

export const LANGUAGES = { en, es };
export type Language = keyof typeof LANGUAGES;

const KEPT = "language";

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

interface Chosen {
  readonly speech: Speech;
  choose(language: Language): void;
}

const Spoken = createContext<Chosen | null>(null);

export function SpeakingLanguage({ children }: { readonly children: ReactNode }) {
  const [language, setLanguage] = useState(() =>
    languageAmong(localStorage.getItem(KEPT), navigator.languages),
  );
  useEffect(() => {
    document.documentElement.lang = language;
    document.title = LANGUAGES[language].title;
  }, [language]);
  const chosen = useMemo(
    () => ({
      speech: speechIn(language, navigator.languages),
      choose(next: Language) {
        localStorage.setItem(KEPT, next);
        setLanguage(next);
      },
    }),
    [language],
  );
  return <Spoken.Provider value={chosen}>{children}</Spoken.Provider>;
}

export function useLanguage(): Chosen {
  const chosen = useContext(Spoken);
  if (chosen === null) throw new Error("nothing speaks here");
  return chosen;
}

export function useSpeech(): Speech {
  return useLanguage().speech;
}

/** What was chosen, else the first language of the browser that there is, else English. */
function languageAmong(kept: string | null, preferred: readonly string[]): Language {
  const wanted = [kept ?? "", ...preferred].map((tag) => tag.split("-")[0] ?? "");
  return wanted.find((tag): tag is Language => tag in LANGUAGES) ?? "en";
}

function speechIn(language: Language, preferred: readonly string[]): Speech {
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
