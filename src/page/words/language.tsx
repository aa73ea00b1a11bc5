/**
 * The language of the page: what the browser prefers unless somebody chose, kept for this browser. It gives the
 * words, and numbers and dates as that language writes them; times are by the ward's clock, units in symbols.
 */

import { createContext, type ReactNode, useContext, useEffect, useMemo, useState } from "react";
import { LANGUAGES, type Language, type Speech, speechIn } from "./speech.js";

export type { Speech } from "./speech.js";

const KEPT = "language";

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
