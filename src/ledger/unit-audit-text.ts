/** Values of the audit as they are answered: volumes in mL, times in minutes, counts, yes or no, instants. */

import type { Measure, Value } from "../audit/measure.js";
import { type Instant, instant } from "../time/instant.js";
import { millilitres } from "../wire/quantity.js";
import { minutesOf } from "./figures.js";

/** A value in the unit of its measure. */
export function valueText({ form }: Measure, value: Value, time: (at: Instant) => string) {
  if (value === null || typeof value === "boolean") return value;
  switch (form) {
    case "volume":
      return millilitres(value);
    case "duration":
      return minutesOf(value);
    case "instant":
      return time(instant(value));
    default:
      return value;
  }
}
