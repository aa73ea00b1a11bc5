/** The fields of a form, each by what it is. */

import { Choice } from "../ui/choice.js";
import { NumberField } from "../ui/number-field.js";
import { TextField } from "../ui/text-field.js";
import { useSpeech } from "../words/language.js";
import { numberTyped } from "../words/typed.js";
import type { Values } from "./draft.js";
import type { Field } from "./form.js";

interface FieldsProps {
  readonly fields: readonly Field[];
  readonly values: Values;
  readonly put: (field: string, text: string) => void;
}

export function Fields({ fields, values, put }: FieldsProps) {
  return fields.map((field) => (
    <FieldShown
      key={field.key}
      field={field}
      text={values[field.key] ?? ""}
      put={(text) => put(field.key, text)}
    />
  ));
}

interface FieldShownProps {
  readonly field: Field;
  readonly text: string;
  readonly put: (text: string) => void;
}

export function FieldShown({ field, text, put }: FieldShownProps) {
  const { words, decimal } = useSpeech();
  const { label, hint } = field;
  const optional = field.optional && !field.quiet;
  switch (field.is) {
    case "choice":
      return <Choice label={label} options={field.options} value={text} choose={put} />;
    case "text":
      return <TextField label={label} text={text} put={put} hint={hint} optional={optional} />;
    case "number": {
      // "0." may still become more.
      const nothing = numberTyped(text, decimal) === 0 && text === "0" && !field.zero;
      return (
        <NumberField
          label={label}
          unit={field.unit}
          limits={field.limits}
          text={text}
          put={put}
          hint={hint}
          optional={optional}
          wrong={nothing ? words.record.aboveZero : undefined}
        />
      );
    }
    default:
      return field satisfies never;
  }
}
