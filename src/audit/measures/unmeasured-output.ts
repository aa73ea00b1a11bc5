/** What came out and nobody measured: the output is at least what is shown. */

import type { Measure } from "../measure.js";

export const UNMEASURED_OUTPUT: readonly Measure[] = [
  {
    key: "unmeasured-output",
    label: "Output not measured",
    form: "count",
    definition:
      "How often something came out in the shift that nobody measured: charted as having happened, or out of a chamber that was emptied unread.",
    counting: "Of all encounters, those of which something came out unmeasured.",
    over: "sum",
    take: ({ postings }) =>
      postings
        .filter(({ side, interval }) => side === "output" && interval !== null)
        .reduce((sum, { leftOut }) => sum + leftOut, 0),
  },
];
