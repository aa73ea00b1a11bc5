/** What was recorded long after it happened. */

import { delayOf, isLate } from "../../findings/rules/late-entry.js";
import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

function delays({ entries, settingsAt }: Audited): number[] {
  return entries.filter((one) => isLate(one, settingsAt)).map(delayOf);
}

const DEFINITION =
  "Entries by people of what happened in the shift that were recorded later than the unit allows (2 hours unless it has set otherwise)";

export const LATE_ENTRIES: readonly Measure[] = [
  {
    key: "late-entries",
    label: "Late entries",
    form: "count",
    definition: `${DEFINITION}. Of a corrected entry the original's time of recording counts.`,
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: (audited) => delays(audited).length,
  },
  {
    key: "longest-delay",
    label: "Longest delay",
    form: "duration",
    definition: `${DEFINITION}: how long after the fact the latest of them was recorded.`,
    counting: "Of the encounters with late entries, all.",
    over: "most",
    take: (audited) => {
      const late = delays(audited);
      return late.length === 0 ? null : Math.max(...late);
    },
  },
];
