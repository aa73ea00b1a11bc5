/** The pad: digits, the decimal sign of the language, and taking the last one back. Large enough for gloves. */

import { useSpeech } from "../words/language.js";
import { DECIMAL, type PadKey, RUB_OUT, usePad } from "./pad.js";

const DIGITS = ["7", "8", "9", "4", "5", "6", "1", "2", "3"] as const;

export function NumberPad() {
  const { words, decimal } = useSpeech();
  const { fields } = usePad();
  if (fields.length === 0) return null;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would group form fields, and these are keys
    <div className="pad" role="group" aria-label={words.record.pad}>
      {DIGITS.map((digit) => (
        <PadButton key={digit} press={digit} says={digit}>
          {digit}
        </PadButton>
      ))}
      <PadButton press={DECIMAL} says={words.record.decimal}>
        {decimal}
      </PadButton>
      <PadButton press="0" says="0">
        0
      </PadButton>
      <PadButton press={RUB_OUT} says={words.record.rubOut}>
        <svg aria-hidden="true" width="26" height="20" viewBox="0 0 26 20">
          <path className="stroke" d="M9 2h15v16H9L2 10zM12 6l8 8M20 6l-8 8" />
        </svg>
      </PadButton>
    </div>
  );
}

interface PadButtonProps {
  readonly press: PadKey;
  /** What it is called where it is not seen. */
  readonly says: string;
  readonly children: React.ReactNode;
}

function PadButton({ press, says, children }: PadButtonProps) {
  const pad = usePad();
  return (
    <button
      type="button"
      // Whoever has keys needs no buttons for them.
      tabIndex={-1}
      aria-label={says}
      // The field keeps the focus while it is typed into.
      onMouseDown={(event) => event.preventDefault()}
      onClick={() => pad.press(press)}
    >
      {children}
    </button>
  );
}
