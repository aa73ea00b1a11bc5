/** What of a pasted chart cannot be read, cell by cell, so that it can be put right where it stands. */

import { type Speech, useSpeech } from "../words/language.js";
import type { Fault } from "./read.js";

export function Faults({ faults }: { readonly faults: readonly Fault[] }) {
  const speech = useSpeech();
  return (
    <div className="notice" role="alert">
      <div>
        <p>
          <strong>{speech.words.chart.unread(faults.length)}</strong>
        </p>
        <ul className="sentences bulleted">
          {faults.map((fault) => (
            <li key={`${fault.what} ${fault.line} ${fault.column} ${fault.text}`}>
              {sentence(fault, speech)}
            </li>
          ))}
        </ul>
      </div>
    </div>
  );
}

/** "Line 3, Urine, 09:00: “2l” is no volume in mL.": where, what stands there, and what is wrong with it. */
function sentence({ what, row, line, column, text }: Fault, { words }: Speech): string {
  const said = words.chart.faults[what](text);
  // A heading is named by what is said of it.
  if (line === null && column === text) return said;
  const where = [line === null ? null : words.chart.line(line), row, column].filter(
    (one) => one !== null && one !== "",
  );
  return where.length === 0 ? said : `${where.join(", ")}: ${said}`;
}
