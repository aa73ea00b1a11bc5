/** One of several, each a target of its own: nothing has to be opened first. */

import { Label, Radio, RadioGroup } from "react-aria-components";

interface ChoiceProps {
  readonly label: string;
  readonly options: readonly {
    readonly value: string;
    readonly label: string;
    readonly hint?: string | undefined;
    /** The language of the hint, where it is another than the page's. */
    readonly hintLanguage?: string | undefined;
  }[];
  /** "" for none yet. */
  readonly value: string;
  readonly choose: (value: string) => void;
  readonly className?: string;
}

export function Choice({ label, options, value, choose, className = "" }: ChoiceProps) {
  return (
    <RadioGroup className={`choice ${className}`} value={value === "" ? null : value} onChange={choose}>
      <Label>{label}</Label>
      <div className="options">
        {options.map((option) => (
          <Radio key={option.value} value={option.value} className="option">
            {option.label}
            {option.hint !== undefined && <small lang={option.hintLanguage}>{option.hint}</small>}
          </Radio>
        ))}
      </div>
    </RadioGroup>
  );
}
