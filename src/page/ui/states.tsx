/** What stands where figures would: loading, nothing, or what went wrong with a way to try again. */

import type { ReactNode } from "react";
import { NoAnswer, Refused } from "../api/problems.js";
import { type Speech, useSpeech } from "../words/language.js";

export function Loading() {
  const { words } = useSpeech();
  return (
    <p className="empty" role="status">
      {words.loading}…
    </p>
  );
}

export function Empty({ children }: { readonly children: ReactNode }) {
  return <p className="empty">{children}</p>;
}

interface FailedProps {
  readonly failure: unknown;
  /** The clock time of the figures that still stand below; null where none do. */
  readonly staleFrom: string | null;
  readonly again: () => void;
}

export function Failed({ failure, staleFrom, again }: FailedProps) {
  const speech = useSpeech();
  const { words } = speech;
  return (
    <div className="notice" role="alert">
      <p>
        <strong>{words.failed.title}</strong> {detailOf(failure, speech)}
        {staleFrom !== null && ` ${words.failed.stale(staleFrom)}`}
      </p>
      <button type="button" onClick={again}>
        {words.failed.again}
      </button>
    </div>
  );
}

/** What a failure means, in the language of the page; what only the service knows, in its own words. */
function detailOf(failure: unknown, { words, language }: Speech): string {
  if (failure instanceof NoAnswer) return words.failed.noAnswer;
  if (!(failure instanceof Refused)) return words.failed.unread;
  if (failure.status === 404) return words.failed.notFound;
  if (failure.status === 403) return words.failed.forbidden;
  const { detail } = failure.problem;
  return language === "en" && detail !== undefined ? detail : words.failed.status(String(failure.status));
}
