/**
 * What stands around every view: the title, the language, who is signed in, what there is to act on, the
 * banner over invented data, and the caution.
 */

import { useQuery } from "@tanstack/react-query";
import type { ReactNode } from "react";
import { aboutWho } from "../sign-in/who.js";
import { useLanguage } from "../words/language.js";
import { LANGUAGES, type Language } from "../words/speech.js";

export function Frame({ children }: { readonly children: ReactNode }) {
  const { words } = useLanguage().speech;
  return (
    <>
      {children}
      <footer>
        <p>{words.caution}</p>
      </footer>
    </>
  );
}

interface TopProps {
  /** The unit's name, which says itself that its data are invented. */
  readonly unit: string | null;
  /** A quiet word beside the title; not read out, since it changes every minute. */
  readonly told: string | null;
  readonly children?: ReactNode;
}

export function Top({ unit, told, children }: TopProps) {
  const { words } = useLanguage().speech;
  // On a shared workstation whoever is about to act must see as whom.
  const name = useQuery({ ...aboutWho, enabled: false }).data?.me?.name;
  return (
    <header>
      {unit?.toLowerCase().includes("invented") && <p className="banner">{words.invented}</p>}
      <div className="top">
        <p className="title">{words.title}</p>
        <p className="soft">{told}</p>
        {name !== undefined && <p className="soft who">{words.signIn.as(name)}</p>}
        <div className="acts">
          {children}
          <LanguageChoice />
        </div>
      </div>
    </header>
  );
}

function LanguageChoice() {
  const { speech, choose } = useLanguage();
  return (
    <label className="language">
      <span className="unseen">{speech.words.languageChoice}</span>
      <select value={speech.language} onChange={(event) => choose(event.target.value as Language)}>
        {Object.entries(LANGUAGES).map(([language, { language: name }]) => (
          <option key={language} value={language} lang={language}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
