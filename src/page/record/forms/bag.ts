/** What hangs: a bag for the primary, or a secondary with its bag or out of the primary's. */

import type { BalanceRow, Entry, IntakeCategory, Posted } from "../../api/shapes.js";
import type { Values } from "../draft.js";
import type { Field, Form } from "../form.js";
import { type Asking, channelNamed, rateField, volumeField } from "./asking.js";

/** A fluid as it is hung: what is on its label but for the volume. */
interface Hung {
  readonly value: string;
  readonly label: string;
  readonly hint: string | undefined;
  readonly fluid: { readonly name: string; readonly category: IntakeCategory };
  readonly additives: readonly object[];
}

const ANOTHER = "another";
const FLUSH = "flush";

/** Categories that a bag may hold. */
const IN_BAGS: readonly IntakeCategory[] = [
  "iv-fluid",
  "iv-medication",
  "blood-product",
  "parenteral-nutrition",
  "enteral-feed",
  "enteral-water",
  "iv-flush",
];

export function bagForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const starts = channelNamed(asking, channel)?.delivering === "nothing";
  const fluids = fluidsKnown(asking, "primary");
  return {
    title: words.record.titles.bag(channel),
    initial: {},
    timed: true,
    fields: (values) => [
      ...fluidFields(asking, fluids, values, false),
      volumeField({ key: "volume", label: words.record.labelled }),
      ...(starts
        ? [
            rateField({
              key: "rate",
              label: words.record.startAt,
              optional: true,
              hint: words.record.onlyHung,
            }),
          ]
        : []),
    ],
    entries: (entered, at) => {
      const [volume, rate] = [entered.number("volume"), entered.number("rate")];
      const fluid = chosenFluid(fluids, entered.text);
      if (volume === null || fluid === null) return null;
      const hung = { at, channel, volume, ...fluid, bag: bagKey(asking, fluid.fluid.name) };
      const started: Posted[] = rate === null ? [] : [{ kind: "flow-started", at, channel, rate }];
      return [{ kind: "bag-hung", role: "primary", ...hung } as Posted, ...started];
    },
  };
}

export function secondaryForm(asking: Asking, channel: string): Form {
  const { words } = asking.speech;
  const fluids = fluidsKnown(asking, "secondary");
  const askAbove = asking.settings?.askClampedAbove ?? 300;
  const clamped: Field = {
    is: "choice",
    key: "clamped",
    label: words.record.clamped,
    options: (["yes", "no"] as const).map((value) => ({ value, label: words.record.answers[value] })),
  };
  return {
    title: words.record.titles.secondary(channel),
    initial: {},
    timed: true,
    fields: (values) => [
      ...fluidFields(asking, fluids, values, true),
      volumeField({ key: "volume", label: words.record.volume }),
      rateField({ key: "rate", label: words.record.rate }),
      // Both may flow where a fast secondary leaves the primary's line open.
      ...(Number((values.rate ?? "").replace(",", ".")) > askAbove ? [clamped] : []),
    ],
    entries: (entered, at) => {
      const [volume, rate] = [entered.number("volume"), entered.number("rate")];
      if (volume === null || rate === null) return null;
      const seen = entered.text("clamped");
      const started: Posted = {
        ...{ kind: "secondary-started", at, channel, rate, volumeToInfuse: volume },
        ...(seen === "" ? {} : { primaryClamped: seen === "yes" }),
      };
      if (entered.text("fluid") === FLUSH) return [started];
      const fluid = chosenFluid(fluids, entered.text);
      if (fluid === null) return null;
      const hung = { at, channel, volume, ...fluid, bag: bagKey(asking, fluid.fluid.name) };
      return [{ kind: "bag-hung", role: "secondary", ...hung } as Posted, started];
    },
  };
}

/** Fluids hung in this stay first, as they were hung last, then those that hang on any ward. */
function fluidsKnown({ sheet, speech: { words } }: Asking, role: "primary" | "secondary"): Hung[] {
  const hung = new Map<string, Hung>();
  for (const entry of [...sheet.hangings].reverse()) {
    const { fluid, additives } = entry as unknown as Pick<Hung, "fluid"> & Partial<Hung>;
    if (((entry.role as string | undefined) ?? "primary") !== role || hung.has(fluid.name)) continue;
    const hint = additivesText(entry);
    hung.set(fluid.name, { value: fluid.name, label: fluid.name, hint, fluid, additives: additives ?? [] });
  }
  for (const { name, category } of role === "primary" ? words.record.fluids : words.record.carriers) {
    if (hung.has(name)) continue;
    const fluid = { name, category: category as IntakeCategory };
    hung.set(name, { value: name, label: name, hint: undefined, fluid, additives: [] });
  }
  return [...hung.values()];
}

function additivesText({ additives }: Entry): string | undefined {
  if (!Array.isArray(additives)) return undefined;
  return (additives as { name: string; amount: number; unit: string }[])
    .map(({ name, amount, unit }) => `${name} ${amount} ${unit}`)
    .join(", ");
}

function fluidFields(asking: Asking, fluids: readonly Hung[], values: Values, flush: boolean): Field[] {
  const { words } = asking.speech;
  const options = [
    ...fluids.map(({ value, label, hint }) => ({ value, label, ...(hint === undefined ? {} : { hint }) })),
    ...(flush ? [{ value: FLUSH, label: words.record.flush }] : []),
    { value: ANOTHER, label: words.record.anotherFluid },
  ];
  const chosen: Field = { is: "choice", key: "fluid", label: words.record.fluid, options };
  if (values.fluid !== ANOTHER) return [chosen];
  return [
    chosen,
    { is: "text", key: "name", label: words.record.onTheLabel },
    {
      is: "choice",
      key: "category",
      label: words.record.category,
      options: IN_BAGS.map((value) => ({
        value,
        label: words.categories[value as NonNullable<BalanceRow["key"]>],
      })),
    },
  ];
}

function chosenFluid(fluids: readonly Hung[], text: (key: string) => string) {
  if (text("fluid") === ANOTHER) {
    const [name, category] = [text("name"), text("category") as IntakeCategory];
    return name === "" ? null : { fluid: { name, category } };
  }
  const known = fluids.find(({ value }) => value === text("fluid"));
  if (known === undefined) return null;
  return { fluid: known.fluid, ...(known.additives.length > 0 ? { additives: known.additives } : {}) };
}

/** A short key of a bag: the first word of its fluid, and a number that no bag of this stay has. */
export function bagKey({ sheet }: Asking, fluid: string): string {
  const word = fluid
    .normalize("NFD")
    .toLowerCase()
    .match(/[a-z]{3,}/)?.[0];
  const taken = new Set(sheet.hangings.map(({ bag }) => bag));
  let number = 1;
  while (taken.has(`${word ?? "bag"}-${number}`)) number += 1;
  return `${word ?? "bag"}-${number}`;
}
