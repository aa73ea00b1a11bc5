/** A number with its unit, typed on the pad or on keys; what it does not take it says, and why. */

import { useState } from "react";
import { useSpeech } from "../words/language.js";
import { type Limits, type NotTaken, typing } from "../words/typed.js";
import { DECIMAL, type PadKey, RUB_OUT, usePadField } from "./pad.js";

interface NumberFieldProps {
  readonly label: string;
  readonly unit: string;
  readonly limits: Limits;
  readonly text: string;
  readonly put: (text: string) => void;
  /** What stands beside it, such as the value there is now. */
  readonly hint?: string | undefined;
  readonly optional?: boolean | undefined;
  /** What is wrong with what is typed. */
  readonly wrong?: string | undefined;
}

export function NumberField({ label, unit, limits, text, put, hint, optional, wrong }: NumberFieldProps) {
  const { words, decimal, figure } = useSpeech();
  const [notTaken, setNotTaken] = useState<NotTaken | null>(null);
  const type = (after: string) => {
    const typed = typing(text, after, decimal, limits);
    setNotTaken(typed.notTaken);
    put(typed.text);
  };
  const { id, active, activate } = usePadField((key) => type(pressed(text, key, decimal)));
  const said = {
    sign: limits.decimals === 0 ? words.record.notTaken.whole : words.record.notTaken.sign,
    decimals: words.record.notTaken.decimals(String(limits.decimals)),
    most: words.record.notTaken.most(`${figure(limits.most)} ${unit}`),
  };
  return (
    <div className={active ? "number active" : "number"}>
      <label htmlFor={id}>
        {label} {optional && <small className="soft">{words.record.optional}</small>}
      </label>
      <div className="number-row">
        <input
          id={id}
          type="text"
          // The pad is beside it: a keyboard of the system would cover the rest.
          inputMode="none"
          autoComplete="off"
          size={8}
          value={text}
          aria-describedby={`${id}-unit ${id}-said`}
          aria-invalid={wrong !== undefined}
          onFocus={activate}
          onChange={(event) => type(event.target.value)}
        />
        <span id={`${id}-unit`} className="unit">
          {unit}
        </span>
      </div>
      {hint !== undefined && <p className="soft">{hint}</p>}
      <p id={`${id}-said`} className="said" aria-live="polite">
        {notTaken === null ? wrong : said[notTaken]}
      </p>
    </div>
  );
}

function pressed(text: string, key: PadKey, decimal: string): string {
  if (key === RUB_OUT) return text.slice(0, -1);
  return text + (key === DECIMAL ? decimal : key);
}
