/** The values of an entry in words: what a field is called, and its value with its unit. */

import type { Speech } from "../words/language.js";
import { clock } from "../words/wall.js";
import type { FieldChange } from "./versions.js";

/** Fields in mL. */
const VOLUMES = new Set(["volume", "remaining", "amount.volume", "level", "instilled", "volumeToInfuse"]);
const INSTANT = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}/;

export function fieldName(field: string, { words }: Speech): string {
  const [first = "", ...rest] = field.split(".");
  const names: Readonly<Record<string, string>> = words.history.fields;
  const name = names[first] ?? first;
  return [name, ...rest.filter((part) => !/^\d+$/.test(part)).map((part) => names[part] ?? part)].join(", ");
}

export function fieldValue(field: FieldChange["field"], value: unknown, speech: Speech): string {
  const { words, volume, rate, figure, day } = speech;
  if (value === undefined || value === null) return words.history.nothing;
  if (typeof value === "boolean") return value ? words.round.yes : words.round.no;
  if (typeof value === "number") {
    if (VOLUMES.has(field)) return volume(value);
    return field === "rate" ? rate(value) : figure(value);
  }
  const text = String(value);
  if (INSTANT.test(text)) return words.shift.on(clock(text), day(text));
  const named: Readonly<Record<string, string>> = { ...words.categories, ...words.toWrite.totals };
  return named[text] ?? text;
}
