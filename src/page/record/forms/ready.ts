/** What settles a finding, as the ledger has it ready: all that is asked is what only a person can tell. */

import type { Finding } from "../../api/shapes.js";
import type { Field, Form } from "../form.js";
import { filledIn, isNumber, type Ready } from "../request.js";
import { type Asking, volumeField } from "./asking.js";

export type Settlement = Finding["settledBy"][number];

/** The entries of a settlement with what is to be filled in; null where none is ready. */
export function readyIn({ entry, entries, fill = [] }: Settlement): Ready | null {
  if (entries !== undefined) return { entries, fill, instead: [] };
  if (entry === undefined) return null;
  return { entries: [entry], fill: fill.map((pointer) => `/0${pointer}`), instead: [] };
}

export function readyForm(asking: Asking, title: string, text: string, ready: Ready): Form {
  return {
    title,
    told: text,
    toldByService: true,
    initial: {},
    timed: false,
    fields: () => ready.fill.map((pointer) => fillField(asking, ready, pointer)),
    entries: (entered) => {
      const values = ready.fill.map((pointer) => {
        const value = isNumber(pointer) ? entered.number(pointer) : entered.text(pointer);
        return [pointer, value ?? ""] as const;
      });
      return filledIn(ready, Object.fromEntries(values));
    },
  };
}

/** A field for what a pointer names: a number to be read off, or a reason. */
export function fillField({ speech }: Asking, ready: Ready, pointer: string): Field {
  const { words, clockSeenFrom } = speech;
  const entry = ready.entries[Number(pointer.split("/")[1])] as {
    readonly total?: "primary" | "secondary" | "combined";
    readonly channel?: string;
    readonly at?: string;
  };
  if (!isNumber(pointer)) return { is: "text", key: pointer, label: words.record.sayWhy };
  const label = entry.total === undefined ? words.record.volume : words.toWrite.totals[entry.total];
  const named = [label, entry.channel, entry.at && clockSeenFrom(entry.at, entry.at)].filter(Boolean);
  return volumeField({ key: pointer, label: named.join(", "), zero: true });
}
