/** Why an entry was wrong: one of the usual reasons, or another in words. It stands in the record beside both. */

import type { Values } from "../draft.js";
import type { Entered, Field } from "../form.js";
import type { Asking } from "./asking.js";

export const REASONS = ["number", "channel", "time", "patient", "not-done", "twice"] as const;
type Reason = (typeof REASONS)[number];
const OTHER = "other";

export function reasonFields(
  { speech: { words } }: Asking,
  values: Values,
  reasons: readonly Reason[],
): Field[] {
  const reason: Field = {
    is: "choice",
    key: "reason",
    label: words.record.why,
    options: [
      ...reasons.map((value) => ({ value, label: words.record.voidReasons[value] })),
      { value: OTHER, label: words.record.voidReasons.other },
    ],
  };
  const other: Field = { is: "text", key: "text", label: words.record.sayWhy };
  return values.reason === OTHER ? [reason, other] : [reason];
}

/** The reason as it is kept. */
export function reasonIn({ speech: { words } }: Asking, entered: Entered): string {
  const known = REASONS.find((one) => one === entered.text("reason"));
  return known === undefined ? entered.text("text") : words.record.voidReasons[known];
}
