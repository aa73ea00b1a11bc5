/** What comparing a chart came to, in a few words, and what the ledger has that the chart does not. */

import type { Reconciliation, ShiftFigures } from "../api/shapes.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { chartRowName, columnName } from "./names.js";

interface BesideProps {
  readonly answer: Reconciliation;
  readonly shift: ShiftFigures;
}

export function Beside({ answer, shift }: BesideProps) {
  const speech = useSpeech();
  const { words, volume } = speech;
  const { matches, differences, notCharted, notInUse, tolerance } = answer;
  return (
    <>
      <p role="note" className="came-to">
        <strong>{words.chart.cameTo(differences.length, matches.length + differences.length)}</strong>{" "}
        <span className="soft">
          {words.chart.tolerance(volume(tolerance.note), volume(tolerance.attention))}
        </span>
      </p>
      {notCharted.length > 0 && (
        <details>
          <summary>{words.chart.notCharted(notCharted.length)}</summary>
          <ul className="sentences bulleted">
            {notCharted.map((one) => (
              <li key={`${JSON.stringify(one.row)} ${one.start} ${one.end}`}>
                {chartRowName(one.row, shift, speech)}, {columnName(one, speech)}: {volume(one.ledger)}
                {one.standsIn !== null && <span lang="en"> ({one.standsIn})</span>}
              </li>
            ))}
          </ul>
        </details>
      )}
      {notInUse.length > 0 && (
        <ul className="sentences" lang="en">
          {notInUse.map(({ sentence, start }) => (
            <li key={`${sentence} ${start}`}>{together(sentence)}</li>
          ))}
        </ul>
      )}
    </>
  );
}
