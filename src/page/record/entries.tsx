/** What is recorded of the shift, the latest first, each with the ways to put it right and to undo it; laid out once it is asked for. */

import { useState } from "react";
import type { Entry } from "../api/shapes.js";
import type { ShiftSheet } from "../api/sheet.js";
import { entrySentence } from "../picture/sentences.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { clockAmong } from "../words/wall.js";
import { useRecorder } from "./recorder.js";

/** Kinds that the ledger writes itself: they are not undone. */
const ITS_OWN: ReadonlySet<Entry["kind"]> = new Set([
  "admitted",
  "moved",
  "discharged",
  "settings-changed",
  "finding-acknowledged",
  "shift-signed",
  "chart-posted",
]);

export function EntriesOfShift({ sheet }: { readonly sheet: ShiftSheet }) {
  const speech = useSpeech();
  const { words, clockSeenFrom } = speech;
  const open = useRecorder();
  const [shown, setShown] = useState(false);
  const entries = [...sheet.entries].reverse();
  const { intervals } = sheet.shift.volumes;
  if (entries.length === 0) return null;
  return (
    <section aria-labelledby="recorded">
      <h2 id="recorded">{words.record.entries.heading}</h2>
      <details onToggle={(event) => setShown(event.currentTarget.open)}>
        <summary>{words.record.entries.show(entries.length)}</summary>
        <ul className="recorded">
          {(shown ? entries : []).map((entry) => {
            const said = together(entrySentence(entry, speech));
            return (
              <li key={entry.id}>
                <span>
                  <strong>{clockAmong(entry.at ?? "", intervals)}</strong> {said}{" "}
                  <span className="soft">
                    {words.why.by(entry.recorded.by.name, clockSeenFrom(entry.recorded.at, entry.at ?? ""))}
                  </span>
                </span>
                {open !== null && !ITS_OWN.has(entry.kind) && (
                  <span className="entry-acts">
                    <button
                      type="button"
                      aria-label={words.record.entries.amendIt(said)}
                      onClick={() => open({ act: "amend", entry })}
                    >
                      {words.record.entries.amend}
                    </button>
                    <button
                      type="button"
                      aria-label={words.record.entries.undo(said)}
                      onClick={() => open({ act: "void", entries: [entry] })}
                    >
                      {words.record.undoIt}
                    </button>
                  </span>
                )}
              </li>
            );
          })}
        </ul>
      </details>
    </section>
  );
}
