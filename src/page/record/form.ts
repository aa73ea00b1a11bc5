/** What a sheet asks for: fields by what is chosen already, and the entries that they make. */

import type { Posted } from "../api/shapes.js";
import { type Limits, numberTyped } from "../words/typed.js";
import type { Values } from "./draft.js";
import type { TimeChoice } from "./time.js";

interface FieldOf {
  readonly key: string;
  readonly label: string;
  /** What may be left open. */
  readonly optional?: boolean;
  /** Whether that needs not be said beside it. */
  readonly quiet?: boolean;
  /** What stands beside it, such as the value there is now. */
  readonly hint?: string;
}

export interface NumberAsked extends FieldOf {
  readonly is: "number";
  readonly unit: string;
  readonly limits: Limits;
  /** Whether nothing at all is a value: a total may read 0, a rate may not. */
  readonly zero: boolean;
}

export interface ChoiceAsked extends FieldOf {
  readonly is: "choice";
  readonly options: readonly { readonly value: string; readonly label: string; readonly hint?: string }[];
}

export interface TextAsked extends FieldOf {
  readonly is: "text";
}

export type Field = NumberAsked | ChoiceAsked | TextAsked;

/** What was entered, as entries are made of it. */
export interface Entered {
  number(key: string): number | null;
  /** What was chosen or written; "" for nothing. */
  text(key: string): string;
}

export interface Form {
  readonly title: string;
  /** What is said first. */
  readonly told?: string;
  /** Whether that is the service's own sentence, which is English. */
  readonly toldByService?: boolean;
  readonly initial: Values;
  /** Whether it happens at a time that is chosen. */
  readonly timed: boolean;
  /** Which time stands there first; absent for now. */
  readonly time?: TimeChoice;
  fields(values: Values): readonly Field[];
  /** The entries, once nothing lacks; null where it still does. `at` is "" of what is not timed. */
  entries(entered: Entered, at: string): readonly Posted[] | null;
}

/** What was entered into the fields that are asked for now; what is no longer asked for is left out. */
export function enteredIn(fields: readonly Field[], values: Values, decimal: string): Entered {
  const held = (key: string) => (fields.some((field) => field.key === key) ? (values[key] ?? "") : "");
  return {
    number: (key) => numberTyped(held(key), decimal),
    text: (key) => held(key).trim(),
  };
}

/** The fields that still lack something. */
export function lacking(fields: readonly Field[], values: Values, decimal: string): Field[] {
  const entered = enteredIn(fields, values, decimal);
  return fields.filter((field) => {
    if (field.is !== "number") return !field.optional && entered.text(field.key) === "";
    const value = entered.number(field.key);
    return value === null ? !field.optional : value === 0 && !field.zero;
  });
}
