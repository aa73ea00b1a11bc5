/** Undoing: an entry is not taken out of the record, it is marked as made in error, with a reason. */

import type { Entry } from "../../api/shapes.js";
import { entrySentence } from "../../picture/sentences.js";
import type { Form } from "../form.js";
import type { Asking } from "./asking.js";
import { REASONS, reasonFields, reasonIn } from "./reasons.js";

export function voidForm(asking: Asking, entries: readonly Entry[]): Form {
  const { speech } = asking;
  return {
    title: speech.words.record.titles.void,
    told: entries.map((entry) => entrySentence(entry, speech)).join("; "),
    initial: {},
    timed: false,
    fields: (values) => reasonFields(asking, values, REASONS),
    entries: (entered) => {
      const reason = reasonIn(asking, entered);
      // The last first, so that nothing stands for a moment on what is gone already.
      return [...entries].reverse().map(({ id }) => ({ kind: "entry-voided", entry: id, reason }));
    },
  };
}
