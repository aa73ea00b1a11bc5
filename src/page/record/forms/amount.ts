/** What was measured: an intake, in millilitres or by a measure of the household, and a weight. */

import type { Values } from "../draft.js";
import type { Field, Form } from "../form.js";
import { type Asking, volumeField } from "./asking.js";
import { categoryField, INTAKE } from "./categories.js";

const MILLILITRES = "mL";
/** So many cups or glasses. */
const COUNT = { most: 100, decimals: 3 };
/** More than a person weighs. */
const KILOGRAMS = { most: 500, decimals: 3 };

export function intakeForm(asking: Asking): Form {
  const { words } = asking.speech;
  const item: Field = { is: "text", key: "item", label: words.record.item, optional: true };
  return {
    title: words.record.titles.intake,
    initial: { measure: MILLILITRES },
    timed: true,
    fields: (values) => [categoryField(asking, INTAKE), ...howMuch(asking, values), item],
    entries: (entered, at) => {
      const [volume, count] = [entered.number("volume"), entered.number("count")];
      const category = INTAKE.find((one) => one === entered.text("category"));
      if (category === undefined) return null;
      const name = entered.text("item");
      const base = { kind: "intake-measured", at, category, ...(name === "" ? {} : { item: name }) } as const;
      if (count !== null) return [{ ...base, measure: { name: entered.text("measure"), count } }];
      return volume === null ? null : [{ ...base, volume }];
    },
  };
}

/** A volume; of what is taken by mouth also so many of a measure, by the unit's own table. */
function howMuch({ settings, speech }: Asking, values: Values): Field[] {
  const { words, volume } = speech;
  const household = values.category === "oral" ? Object.entries(settings?.household ?? {}) : [];
  const names: Readonly<Record<string, string>> = words.record.household;
  const measure: Field = {
    is: "choice",
    key: "measure",
    label: words.record.measuredIn,
    options: [
      { value: MILLILITRES, label: MILLILITRES },
      ...household.map(([name, holds]) => ({ value: name, label: names[name] ?? name, hint: volume(holds) })),
    ],
  };
  const chosen = household.find(([name]) => name === values.measure);
  const number: Field =
    chosen === undefined
      ? volumeField({ key: "volume", label: words.record.volume })
      : {
          ...{ is: "number", key: "count", label: words.record.howMany, unit: names[chosen[0]] ?? chosen[0] },
          ...{ limits: COUNT, zero: false },
        };
  return household.length === 0 ? [number] : [number, measure];
}

export function weightForm({ speech: { words } }: Asking): Form {
  return {
    title: words.record.titles.weight,
    initial: {},
    timed: true,
    fields: () => [
      { is: "number", key: "weight", label: words.record.weight, unit: "kg", limits: KILOGRAMS, zero: false },
    ],
    entries: (entered, at) => {
      const value = entered.number("weight");
      return value === null ? null : [{ kind: "weight-measured", at, weight: { value, unit: "kg" } }];
    },
  };
}
