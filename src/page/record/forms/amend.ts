/** Putting an entry right: as it was charted, with the numbers, the category and the time to change, and why. */

import type { Category, Entry, Posted } from "../../api/shapes.js";
import { entrySentence } from "../../picture/sentences.js";
import { asTyped } from "../../words/typed.js";
import { clock, dateOf, moment } from "../../words/wall.js";
import { instantsOf } from "../../words/zone.js";
import type { Field, Form } from "../form.js";
import { type Asking, rateField, volumeField } from "./asking.js";
import { categoriesBeside, categoryField } from "./categories.js";
import { reasonFields, reasonIn } from "./reasons.js";

/** What is a number in entries of any kind, and is a volume unless it is a rate. */
const NUMBERS = ["volume", "rate", "volumeToInfuse", "remaining", "level"] as const;

export function amendForm(asking: Asking, entry: Entry): Form {
  const { speech } = asking;
  const { words, decimal } = speech;
  const numbers = NUMBERS.filter((key) => typeof entry[key] === "number");
  const category = typeof entry.category === "string" ? (entry.category as Category) : null;
  const field = (key: (typeof NUMBERS)[number]): Field =>
    key === "rate"
      ? rateField({ key, label: words.record.rate })
      : volumeField({ key, label: key === "volume" ? words.record.volume : words.record[key], zero: true });
  const at = entry.at ?? "";
  const typed = clock(at);
  const twice = instantsOf(asking.sheet.shift.zone, dateOf(at), typed);
  const which = twice.length > 1 ? twice.findIndex((one) => moment(one) === atMinute(at)) : null;
  return {
    title: words.record.titles.amend,
    told: entrySentence(entry, speech),
    initial: {
      ...Object.fromEntries(numbers.map((key) => [key, asTyped(entry[key] as number, decimal)])),
      ...(category === null ? {} : { category }),
    },
    timed: true,
    time: { date: dateOf(at), typed, which },
    fields: (values) => [
      ...(category === null ? [] : [categoryField(asking, categoriesBeside(category))]),
      ...numbers.map(field),
      ...reasonFields(asking, values, ["number", "time"]),
    ],
    entries: (entered, chosen) => {
      const { id, recorded: _, confirmed: __, ...posted } = entry;
      const replacement = {
        ...posted,
        // Charted to the second it stays so, unless the minute is another.
        at: moment(chosen) === atMinute(at) ? at : chosen,
        ...Object.fromEntries(numbers.map((key) => [key, entered.number(key)])),
        ...(category === null ? {} : { category: entered.text("category") }),
      };
      const reason = reasonIn(asking, entered);
      return [{ kind: "entry-amended", entry: id, reason, replacement }] as unknown as Posted[];
    },
  };
}

function atMinute(instant: string): number {
  return Math.floor(moment(instant) / 60_000) * 60_000;
}
