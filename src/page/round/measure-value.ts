/** A value of a measure as it is read: a volume, a time, a number, yes or no; a dash where it cannot be told. */

import type { Measure } from "../api/shapes.js";
import type { Speech } from "../words/language.js";
import { duration } from "../words/numbers.js";
import { clock } from "../words/wall.js";

const MINUTE = 60_000;

export function measureValue(
  value: number | boolean | string | null,
  unit: Measure["unit"],
  { words, figure, volume, day }: Speech,
): string {
  if (value === null) return "–";
  if (typeof value === "boolean") return value ? words.round.yes : words.round.no;
  if (typeof value === "string") return words.shift.on(clock(value), day(value));
  if (unit === "mL") return volume(value);
  if (unit === "min") return value === 0 ? "0\u00a0min" : duration(value * MINUTE);
  return figure(value);
}
