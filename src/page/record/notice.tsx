/** What was just recorded, as it stands in the record. It stays until it is closed or something else is recorded. */

import type { Entry } from "../api/shapes.js";
import { entrySentence } from "../picture/sentences.js";
import { useSpeech } from "../words/language.js";
import { together } from "../words/numbers.js";
import { clock } from "../words/wall.js";
import { type Done, useRecorder } from "./recorder.js";

interface NoticeProps {
  readonly done: Done;
  readonly dismiss: () => void;
}

export function Notice({ done: { recorded, undid }, dismiss }: NoticeProps) {
  const speech = useSpeech();
  const { words } = speech;
  const open = useRecorder();
  const shown = undid.length > 0 ? undid : recorded.entries;
  const sentence = (entry: Entry) =>
    together(`${entry.at === undefined ? "" : `${clock(entry.at)}: `}${entrySentence(entry, speech)}`);
  return (
    <section className="notice just" aria-label={words.record.notices} aria-live="polite">
      <div>
        <strong>{undid.length > 0 ? words.record.undone : words.record.recorded}</strong>
        <ul>
          {shown.map((entry) => (
            <li key={entry.id}>{sentence(entry)}</li>
          ))}
        </ul>
      </div>
      <div className="controls">
        <button type="button" onClick={() => open?.({ act: "void", entries: recorded.entries })}>
          {words.record.undoIt}
        </button>
        <button type="button" className="plain" onClick={dismiss}>
          {words.record.dismiss}
        </button>
      </div>
    </section>
  );
}
