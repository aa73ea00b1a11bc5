/**
 * Totals against recomputation: the figures that somebody signed beside what is computed now. They were
 * computed as well when they were signed, so where they differ something was charted or corrected since, or
 * another version of the calculation makes them otherwise.
 */

import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";
import { ATTENTION, NOTE } from "../tolerance.js";

const DEFINITION =
  "Every figure of the shift that is signed (volumes by line and hour, intake, output and net) is computed again from all that is known";
const COUNTING = "Of the encounters of which something is signed, those of which that holds";

function furthest({ signed }: Audited): number | null {
  return signed.length === 0 ? null : Math.max(...signed.map(({ most }) => most));
}

const within = (most: number) => (audited: Audited) => {
  const off = furthest(audited);
  return off === null ? null : off <= most;
};

export const SIGNED_TOTALS: readonly Measure[] = [
  {
    key: "signed-within-10",
    label: "Signed figures right within 10 mL",
    form: "yes-no",
    definition: `${DEFINITION}, and none differs by more than 10 mL.`,
    counting: `${COUNTING}.`,
    over: null,
    take: within(NOTE),
  },
  {
    key: "signed-within-50",
    label: "Signed figures right within 50 mL",
    form: "yes-no",
    definition: `${DEFINITION}, and none differs by more than 50 mL.`,
    counting: `${COUNTING}.`,
    over: null,
    take: within(ATTENTION),
  },
  {
    key: "signed-furthest",
    label: "Signed figure furthest off",
    form: "volume",
    definition: `${DEFINITION}: by how much the one differs that differs most.`,
    counting: "Of the encounters of which something is signed, those of which a figure differs.",
    over: "most",
    take: furthest,
  },
];
