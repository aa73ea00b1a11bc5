/** Running totals that were read, beside what is computed of the same span. */

import type { TotalJudged } from "../../infusion/evidence.js";
import { greater, minus, shownAs, type Volume } from "../../infusion/quantity.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

/** Readings of the span that are judged: a sum read on a channel that keeps its totals apart is only a check. */
function readIn({ collected, has }: Audited): TotalJudged[] {
  return collected.readings.filter(({ at, checkOnly }) => !checkOnly && has(at));
}

function off({ comparison: { increment, computed } }: TotalJudged): Volume {
  return greater(minus(increment, computed), minus(computed, increment));
}

const DEFINITION =
  "A running total read in the shift is judged by what it gained since the reading or clear before it, against what is computed of that time";
const COUNTING = "Of the encounters with a running total read in the shift, those with";

export const READINGS: readonly Measure[] = [
  {
    key: "readings",
    label: "Running totals read",
    form: "count",
    definition: "How many running totals of devices were read in the shift and written down.",
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: (audited) => readIn(audited).length,
  },
  {
    key: "readings-apart",
    label: "Running totals that disagree",
    form: "count",
    definition: `${DEFINITION}: how many do not agree by the unit's tolerance, whatever was decided about them since.`,
    counting: `${COUNTING} at least one that disagrees.`,
    over: "sum",
    take: (audited) => {
      const read = readIn(audited);
      return read.length === 0 ? null : read.filter(({ comparison }) => !comparison.agrees).length;
    },
  },
  {
    key: "readings-furthest",
    label: "Running total furthest off",
    form: "volume",
    definition: `${DEFINITION}: by how much the one is apart that is furthest, whether it agrees or not.`,
    counting: `${COUNTING} one that is not exactly what is computed.`,
    over: "most",
    take: (audited) => {
      const read = readIn(audited);
      if (read.length === 0) return null;
      return shownAs(read.map(off).reduce(greater), audited.settings.precision);
    },
  },
];
