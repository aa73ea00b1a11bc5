/** One cell that differs: by how much, and what may have happened, best first, with ties named and guesses said to be that. */

import type { ChartDifference, ChartExplanation, ShiftFigures } from "../api/shapes.js";
import { go } from "../ui/going.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { chartRowName, columnName } from "./names.js";

interface DifferenceItemProps {
  readonly number: number;
  readonly difference: ChartDifference;
  readonly name: string;
  readonly shift: ShiftFigures;
}

/** The sentences are the service's, which speaks English. */
export function DifferenceItem({ number, difference, name, shift }: DifferenceItemProps) {
  const speech = useSpeech();
  const { words, volume, figure } = speech;
  const {
    charted,
    ledger,
    difference: apart,
    certainty,
    takenFor,
    follows,
    explanations,
    sentence,
  } = difference;
  const signed = apart > 0 ? `+${volume(apart)}` : volume(apart);
  return (
    <li id={`difference-${number}`} className={difference.severity} tabIndex={-1}>
      <h4>
        ≠ {number} {name}, {columnName(difference, speech)}:{" "}
        {words.chart.apart(figure(charted), `${words.certainty[certainty]} ${figure(ledger)}`.trim(), signed)}
      </h4>
      <p lang="en">{together(sentence)}</p>
      {takenFor !== null && <p>{words.chart.takenFor(takenFor)}</p>}
      {follows.length > 0 && (
        <p>
          {words.chart.follows}:{" "}
          {follows
            .map((one) => `${chartRowName(one.row, shift, speech)}, ${columnName(one, speech)}`)
            .join("; ")}
        </p>
      )}
      {explanations.length > 0 && (
        <>
          <p className="soft">{hedge(explanations, words.chart)}</p>
          <ol className="explanations">
            {explanations.map((one) => (
              <ExplanationItem key={`${one.kind} ${one.sentence}`} explanation={one} />
            ))}
          </ol>
        </>
      )}
    </li>
  );
}

function hedge(
  explanations: readonly ChartExplanation[],
  words: { readonly hedged: string; readonly explained: string },
): string {
  return explanations.some(({ hedged }) => hedged) ? words.hedged : words.explained;
}

function ExplanationItem({ explanation }: { readonly explanation: ChartExplanation }) {
  const { words, volume } = useSpeech();
  const {
    kind,
    sentence,
    together: others,
    accountsFor,
    remaining,
    entries,
    tied,
    hedged,
    place,
  } = explanation;
  return (
    <li>
      <p>
        <strong>{words.chart.kinds[kind]}</strong>{" "}
        <span className="soft">{words.chart.accountsFor(volume(accountsFor), volume(remaining))}</span>
        {tied && !hedged && <em> {words.chart.tied(place)}</em>}
        {hedged && <em> {words.chart.perhaps}</em>}
      </p>
      <p lang="en">{together(sentence)}</p>
      {others.map((one) => (
        <p key={one.kind}>
          {words.chart.together} <strong>{words.chart.kinds[one.kind]}</strong>:{" "}
          <span lang="en">{together(one.sentence)}</span>
        </p>
      ))}
      {entries.length > 0 && (
        <div className="controls">
          {entries.map((entry, index) => (
            <button key={entry} type="button" onClick={() => go({ entry })}>
              {words.round.entryBehind(index + 1, entries.length)}
              <span className="unseen">: {sentence}</span>
            </button>
          ))}
        </div>
      )}
    </li>
  );
}
