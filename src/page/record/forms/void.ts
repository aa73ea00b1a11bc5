/** Undoing: an entry is not taken out of the record, it is marked as made in error, with a reason. */

import type { Entry } from "../../api/shapes.js";
import { entrySentence } from "../../picture/sentences.js";
import type { Values } from "../draft.js";
import type { Field, Form } from "../form.js";
import type { Asking } from "./asking.js";

const REASONS = ["number", "channel", "time", "patient", "not-done", "twice"] as const;
const OTHER = "other";

export function voidForm({ speech }: Asking, entries: readonly Entry[]): Form {
  const { words } = speech;
  const reason: Field = {
    is: "choice",
    key: "reason",
    label: words.record.why,
    options: [
      ...REASONS.map((value) => ({ value, label: words.record.voidReasons[value] })),
      { value: OTHER, label: words.record.voidReasons.other },
    ],
  };
  const other: Field = { is: "text", key: "text", label: words.record.sayWhy };
  return {
    title: words.record.titles.void,
    told: entries.map((entry) => entrySentence(entry, speech)).join("; "),
    initial: {},
    timed: false,
    fields: (values: Values) => (values.reason === OTHER ? [reason, other] : [reason]),
    entries: (entered) => {
      const chosen = entered.text("reason");
      const known = REASONS.find((one) => one === chosen);
      const said = known === undefined ? entered.text("text") : words.record.voidReasons[known];
      // The last first, so that nothing stands for a moment on what is gone already.
      return [...entries].reverse().map(({ id }) => ({ kind: "entry-voided", entry: id, reason: said }));
    },
  };
}
