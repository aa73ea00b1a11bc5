/** What recording would do, said before it is done. */

import { Refused } from "../api/problems.js";
import type { Tried } from "../api/record.js";
import type { ShiftSheet } from "../api/sheet.js";
import { type Speech, useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { effectsOf } from "./effects.js";

interface EffectProps {
  readonly tried: Tried | undefined;
  readonly trying: boolean;
  /** Why it is not known. */
  readonly untried: unknown;
  readonly sheet: ShiftSheet;
  /** Whether all that is asked for is there. */
  readonly whole: boolean;
}

export function EffectShown({ tried, trying, untried, sheet, whole }: EffectProps) {
  const speech = useSpeech();
  const { words } = speech;
  const known = whole && tried !== undefined && untried === null;
  return (
    <div className="effect" aria-live="polite" aria-busy={trying}>
      <h3>{words.record.effect.heading}</h3>
      {!known && whole && trying && <p className="soft">{words.record.effect.waiting}…</p>}
      {untried !== null && <Untried failure={untried} />}
      {known && <ul className="sentences">{told(tried, sheet, speech)}</ul>}
    </div>
  );
}

function told({ would, asked }: Tried, sheet: ShiftSheet, speech: Speech) {
  const { words, inTenths } = speech;
  if (asked !== null) {
    return asked.disagreements.map(({ entry, channel, difference, expected }) => {
      const { apart, more, less } = words.record.effect;
      const by = (difference < 0 ? less : more)(inTenths(Math.abs(difference)));
      return (
        <li key={entry}>
          {channel}: {apart(by, inTenths(expected))}
        </li>
      );
    });
  }
  const effects = effectsOf(would, sheet, speech);
  if (effects.length === 0) return <li>{words.record.effect.none}</li>;
  return effects.map(({ text, byService }) => (
    <li key={text}>
      {together(text)}
      {byService !== undefined && (
        <small lang="en" className="soft own-words">
          {together(byService)}
        </small>
      )}
    </li>
  ));
}

/** Why nobody knows what it would do: no answer, or what is wrong with it. */
export function Untried({ failure }: { readonly failure: unknown }) {
  const { words } = useSpeech();
  if (!(failure instanceof Refused)) return <p>{words.record.effect.noAnswer}</p>;
  return (
    <p role="alert">
      <strong>{words.record.failed}</strong> <span lang="en">{wrongIn(failure)}</span>
    </p>
  );
}

/** What is wrong with what was sent, in the service's own words. */
export function wrongIn({ problem, message }: Refused): string {
  const { errors } = problem as { readonly errors?: readonly { readonly detail: string }[] };
  return errors === undefined ? message : errors.map(({ detail }) => detail).join(" ");
}
