/** Which fluid hangs: one hung in this stay before, one that hangs on any ward, or another by its label. */

import type { BalanceRow, Entry, IntakeCategory } from "../../api/shapes.js";
import type { Values } from "../draft.js";
import type { Field } from "../form.js";
import type { Asking } from "./asking.js";

/** A fluid as it is hung: what is on its label but for the volume. */
interface Hung {
  readonly value: string;
  readonly label: string;
  readonly hint: string | undefined;
  readonly fluid: { readonly name: string; readonly category: IntakeCategory };
  readonly additives: readonly object[];
}

const ANOTHER = "another";
/** Out of the primary's bag. */
export const FLUSH = "flush";

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
export function fluidsKnown({ sheet, speech: { words } }: Asking, role: "primary" | "secondary"): Hung[] {
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

export function chosenFluid(fluids: readonly Hung[], text: (key: string) => string) {
  if (text("fluid") === ANOTHER) {
    const [name, category] = [text("name"), text("category") as IntakeCategory];
    return name === "" ? null : { fluid: { name, category } };
  }
  const known = fluids.find(({ value }) => value === text("fluid"));
  if (known === undefined) return null;
  return { fluid: known.fluid, ...(known.additives.length > 0 ? { additives: known.additives } : {}) };
}
