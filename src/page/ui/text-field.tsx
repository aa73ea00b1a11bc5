/** A few words: a reason, a name, a remark. */

import { useId } from "react";
import { useSpeech } from "../words/language.js";

/** The longest text the API takes. */
const MOST = 500;

interface TextFieldProps {
  readonly label: string;
  readonly text: string;
  readonly put: (text: string) => void;
  readonly hint?: string | undefined;
  readonly optional?: boolean | undefined;
  readonly wrong?: string | undefined;
}

export function TextField({ label, text, put, hint, optional, wrong }: TextFieldProps) {
  const { words } = useSpeech();
  const id = useId();
  return (
    <div className="text-field">
      <label htmlFor={id}>
        {label} {optional && <small className="soft">{words.record.optional}</small>}
      </label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        maxLength={MOST}
        value={text}
        aria-describedby={`${id}-said`}
        onChange={(event) => put(event.target.value)}
      />
      {hint !== undefined && <p className="soft">{hint}</p>}
      <p id={`${id}-said`} className="said" aria-live="polite">
        {wrong}
      </p>
    </div>
  );
}
