/** Every measure of the audit, in the order in which they are answered: totals first, then what they rest on. */

import type { Audited } from "./audited.js";
import type { Measure, Value } from "./measure.js";
import { BROUGHT_FORWARD } from "./measures/brought-forward.js";
import { CARRIERS } from "./measures/carriers.js";
import { CHARTED_TOTALS } from "./measures/charted-totals.js";
import { CLEARS } from "./measures/clears.js";
import { CORRECTIONS } from "./measures/corrections.js";
import { IRRIGATION } from "./measures/irrigation.js";
import { LATE_ENTRIES } from "./measures/late-entries.js";
import { LINES } from "./measures/lines.js";
import { READINGS } from "./measures/readings.js";
import { SIGNATURES } from "./measures/signatures.js";
import { SIGNED_TOTALS } from "./measures/signed-totals.js";
import { UNKNOWN_TIME } from "./measures/unknown-time.js";
import { UNMEASURED_OUTPUT } from "./measures/unmeasured-output.js";
import { WEIGHT } from "./measures/weight.js";

export const MEASURES: readonly Measure[] = [
  ...SIGNED_TOTALS,
  ...READINGS,
  ...CHARTED_TOTALS,
  ...LINES,
  ...UNKNOWN_TIME,
  ...CLEARS,
  ...UNMEASURED_OUTPUT,
  ...IRRIGATION,
  ...LATE_ENTRIES,
  ...CORRECTIONS,
  ...SIGNATURES,
  ...CARRIERS,
  ...WEIGHT,
  ...BROUGHT_FORWARD,
];

/** The value of every measure, in their order. */
export function measured(audited: Audited): Value[] {
  return MEASURES.map(({ take }) => take(audited));
}
