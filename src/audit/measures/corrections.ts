/** Corrections of what was charted of the shift, whenever they were made. */

import type { Audited } from "../audited.js";
import type { Measure } from "../measure.js";

const DEFINITION = "of what happened in the shift, or was first charted of it, whenever they were made";

const counted =
  (what: Audited["corrections"][number]) =>
  ({ corrections }: Audited) =>
    corrections.filter((one) => one === what).length;

export const CORRECTIONS: readonly Measure[] = [
  {
    key: "amendments",
    label: "Entries amended",
    form: "count",
    definition: `Entries that replace an earlier one, ${DEFINITION}.`,
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: counted("amended"),
  },
  {
    key: "voids",
    label: "Entries voided",
    form: "count",
    definition: `Entries that mark an earlier one, or a correction, as entered in error, ${DEFINITION}.`,
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: counted("voided"),
  },
];
