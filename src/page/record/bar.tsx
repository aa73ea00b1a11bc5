/** What is recorded of the patient and of no channel, and the signature: always where the thumb is. */

import { useSpeech } from "../words/language.js";
import { useRecorder } from "./recorder.js";

export function RecordBar({ shift }: { readonly shift: string }) {
  const { words } = useSpeech();
  const open = useRecorder();
  if (open === null) return null;
  return (
    <nav className="bar" aria-label={words.record.bar}>
      {(["intake", "output", "weight", "connect"] as const).map((act) => (
        <button key={act} type="button" onClick={() => open({ act })}>
          {words.record.titles[act]}
        </button>
      ))}
      <button type="button" className="last" onClick={() => open({ act: "sign", shift })}>
        {words.sign.open}
      </button>
    </nav>
  );
}
