/** What went in or came out: the categories of the balance, as they are charted by hand. */

import type { Category, IntakeCategory, OutputCategory } from "../../api/shapes.js";
import type { ChoiceAsked } from "../form.js";
import type { Asking } from "./asking.js";

/** What is measured by hand; what runs is computed. */
export const INTAKE: readonly IntakeCategory[] = [
  "oral",
  "enteral-water",
  "enteral-feed",
  "iv-push",
  "iv-flush",
  "blood-product",
  "other-intake",
];

export const OUTPUT: readonly OutputCategory[] = [
  "urine",
  "gastric",
  "emesis",
  "stool",
  "drain",
  "chest-drain",
  "blood-loss",
  "fluid-removal",
  "other-output",
];

/** The categories that one may be taken for: those of its side. */
export function categoriesBeside(category: Category): readonly Category[] {
  return OUTPUT.some((one) => one === category) ? OUTPUT : [...new Set([category, ...INTAKE])];
}

export function categoryField({ speech: { words } }: Asking, values: readonly Category[]): ChoiceAsked {
  return {
    is: "choice",
    key: "category",
    label: values === OUTPUT ? words.record.whatOut : words.record.whatIn,
    options: values.map((value) => ({ value, label: words.categories[value] })),
  };
}
