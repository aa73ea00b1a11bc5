/** Which fluid hangs: one hung in this stay before, one that hangs on any ward, or another by its label. */

import type { BalanceRow, Entry, IntakeCategory } from "../../api/shapes.js";
import type { Words } from "../../words/en.js";
import type { Speech } from "../../words/speech.js";
import type { Values } from "../draft.js";
import type { Entered, Field } from "../form.js";
import type { Asking } from "./asking.js";

/** A fluid as it is hung: what is on its label but for the volume. */
interface Hung {
  readonly value: string;
  readonly label: string;
  readonly hint: string | undefined;
  readonly fluid: { readonly name: string; readonly category: IntakeCategory };
  readonly additives: readonly object[];
  /** What a drug is put into, where it is asked which. */
  readonly carrier?: string;
}

const ANOTHER = "another";
/** Out of the primary's bag. */
export const FLUSH = "flush";

/** An amount of drug in a bag, in any unit. */
const AMOUNT = { most: 1_000_000, decimals: 3 };

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

/** Fluids hung in this stay first, as they were hung last, then those that hang on any ward. */
export function fluidsKnown({ sheet, speech }: Asking, role: "primary" | "secondary"): Hung[] {
  const { words } = speech;
  const hung = new Map<string, Hung>();
  for (const entry of [...sheet.hangings].reverse()) {
    const { fluid, additives } = entry as unknown as Pick<Hung, "fluid"> & Partial<Hung>;
    if (((entry.role as string | undefined) ?? "primary") !== role || hung.has(fluid.name)) continue;
    const hint = additivesText(entry, speech);
    hung.set(fluid.name, { value: fluid.name, label: fluid.name, hint, fluid, additives: additives ?? [] });
  }
  if (role === "secondary") return [...hung.values(), ...words.record.carriers.map(asCarrier(words.record))];
  for (const { name, category } of words.record.fluids) {
    if (hung.has(name)) continue;
    const fluid = { name, category: category as IntakeCategory };
    hung.set(name, { value: name, label: name, hint: undefined, fluid, additives: [] });
  }
  return [...hung.values()];
}

function asCarrier({ drugIn }: Words["record"]) {
  return (carrier: string): Hung => {
    const label = drugIn(null, carrier);
    const fluid = { name: label, category: "iv-medication" } as const;
    return { value: label, label, hint: undefined, fluid, additives: [], carrier };
  };
}

/** "norepinephrine 8 mg", with units as the trade says them. */
function additivesText({ additives }: Entry, { words, figure }: Speech): string | undefined {
  if (!Array.isArray(additives)) return undefined;
  const units: Readonly<Record<string, string>> = words.record.units;
  return (additives as { name: string; amount: number; unit: string }[])
    .map(({ name, amount, unit }) => `${name} ${figure(amount)} ${units[unit] ?? unit}`)
    .join(", ");
}

export function fluidFields(
  asking: Asking,
  fluids: readonly Hung[],
  values: Values,
  flush: boolean,
): Field[] {
  const { words } = asking.speech;
  const options = [
    ...fluids.map(({ value, label, hint }) => ({ value, label, ...(hint === undefined ? {} : { hint }) })),
    ...(flush ? [{ value: FLUSH, label: words.record.flush }] : []),
    { value: ANOTHER, label: words.record.anotherFluid },
  ];
  const chosen: Field = { is: "choice", key: "fluid", label: words.record.fluid, options };
  const carrier = fluids.find(({ value }) => value === values.fluid)?.carrier;
  if (carrier !== undefined) return [chosen, ...drugFields(asking, values)];
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

/** Which drug, and how much of it where that is known. */
function drugFields({ speech: { words } }: Asking, values: Values): Field[] {
  const unit: Field = {
    is: "choice",
    key: "unit",
    label: words.record.amountUnit,
    options: Object.entries(words.record.units).map(([value, label]) => ({ value, label })),
  };
  return [
    { is: "text", key: "drug", label: words.record.drug },
    {
      ...{ is: "number", key: "amount", label: words.record.amount, unit: "", limits: AMOUNT },
      ...{ zero: false, optional: true },
    } as Field,
    ...((values.amount ?? "") === "" ? [] : [unit]),
  ];
}

/** What hangs, of what was entered; null where it is not said. */
export function chosenFluid(fluids: readonly Hung[], entered: Entered, { words }: Speech) {
  if (entered.text("fluid") === ANOTHER) {
    const [name, category] = [entered.text("name"), entered.text("category") as IntakeCategory];
    return name === "" ? null : { fluid: { name, category } };
  }
  const known = fluids.find(({ value }) => value === entered.text("fluid"));
  if (known === undefined) return null;
  if (known.carrier === undefined) {
    return { fluid: known.fluid, ...(known.additives.length > 0 ? { additives: known.additives } : {}) };
  }
  const [drug, amount, unit] = [entered.text("drug"), entered.number("amount"), entered.text("unit")];
  if (drug === "") return null;
  const fluid = { ...known.fluid, name: words.record.drugIn(drug, known.carrier) };
  return amount === null ? { fluid } : { fluid, additives: [{ name: drug, amount, unit }] };
}
