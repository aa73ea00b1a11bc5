/** Time of which nobody knows what flowed: the figures over it are lower bounds. */

import { within } from "../audited.js";
import type { Measure } from "../measure.js";

export const UNKNOWN_TIME: readonly Measure[] = [
  {
    key: "unknown-minutes",
    label: "Time unknown",
    form: "duration",
    definition:
      "How long nobody knows what a channel delivered: after an end that no entry confirmed, at a rate nobody knew and no reading tells, or while the patient was away and nobody knows of the flows. Added up over channels.",
    counting: "Of all encounters, those with any such time.",
    over: "sum",
    take: (audited) => audited.unknown.reduce((sum, span) => sum + within(audited, span), 0),
  },
];
