/** What was measured: an intake, an output, a weight. */

import type { Category, Entry, IntakeCategory, OutputCategory } from "../../api/shapes.js";
import type { Values } from "../draft.js";
import type { Field, Form } from "../form.js";
import { type Asking, volumeField } from "./asking.js";

/** What is measured by hand; what runs is computed. */
const INTAKE: readonly IntakeCategory[] = [
  "oral",
  "enteral-water",
  "enteral-feed",
  "iv-push",
  "iv-flush",
  "blood-product",
  "other-intake",
];

const OUTPUT: readonly OutputCategory[] = [
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

/** More than a person weighs. */
const KILOGRAMS = { most: 500, decimals: 3 };

export function intakeForm(asking: Asking): Form {
  const { words } = asking.speech;
  const item: Field = { is: "text", key: "item", label: words.record.item, optional: true };
  return {
    title: words.record.titles.intake,
    initial: {},
    timed: true,
    fields: () => [
      categoryField(asking, INTAKE),
      volumeField({ key: "volume", label: words.record.volume }),
      item,
    ],
    entries: (entered, at) => {
      const volume = entered.number("volume");
      const category = INTAKE.find((one) => one === entered.text("category"));
      if (volume === null || category === undefined) return null;
      const name = entered.text("item");
      return [{ kind: "intake-measured", at, category, volume, ...(name === "" ? {} : { item: name }) }];
    },
  };
}

export function outputForm(asking: Asking): Form {
  const { sheet, speech } = asking;
  const { words } = speech;
  const measured: Field = {
    is: "choice",
    key: "measured",
    label: words.record.measured,
    options: (["yes", "no"] as const).map((value) => ({ value, label: words.record.measuredAs[value] })),
  };
  const site: Field = {
    is: "text",
    key: "site",
    label: words.record.site,
    optional: true,
    ...hintOf(sitesIn(sheet.entries), words.record.sitesSoFar),
  };
  const fields = (values: Values) => [
    categoryField(asking, OUTPUT),
    ...(values.measured === "no"
      ? []
      : [volumeField({ key: "volume", label: words.record.volume, zero: true })]),
    measured,
    ...(BY_SITE.has(values.category ?? "") ? [site] : []),
  ];
  return {
    title: words.record.titles.output,
    initial: { measured: "yes" },
    timed: true,
    fields,
    entries: (entered, at) => {
      const volume = entered.number("volume");
      const category = OUTPUT.find((one) => one === entered.text("category"));
      if (category === undefined) return null;
      const where = entered.text("site");
      const base = {
        kind: "output-measured",
        at,
        category,
        ...(where === "" ? {} : { site: where }),
      } as const;
      if (entered.text("measured") === "no") return [{ ...base, occurrences: 1 }];
      return volume === null ? null : [{ ...base, volume }];
    },
  };
}

/** What may come by more than one way. */
const BY_SITE: ReadonlySet<string> = new Set(["drain", "chest-drain", "gastric", "urine"]);

function sitesIn(entries: readonly Entry[]): string[] {
  return [...new Set(entries.flatMap(({ site }) => (typeof site === "string" ? [site] : [])))];
}

function hintOf(sites: readonly string[], say: (sites: string) => string): { hint?: string } {
  return sites.length === 0 ? {} : { hint: say(sites.join(", ")) };
}

/** The categories that one may be taken for: those of its side. */
export function categoriesBeside(category: Category): readonly Category[] {
  return OUTPUT.some((one) => one === category) ? OUTPUT : [...new Set([category, ...INTAKE])];
}

export function categoryField({ speech: { words } }: Asking, values: readonly Category[]): Field {
  const out = values === OUTPUT;
  return {
    is: "choice",
    key: "category",
    label: out ? words.record.whatOut : words.record.whatIn,
    options: values.map((value) => ({ value, label: words.categories[value] })),
  };
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
