/** A shift of the stay is over and nobody wrote down what the patient weighs: urine and balance cannot be related to it. */

import type { Rule } from "../finding.js";

export const weightMissing: Rule = {
  code: "weight-missing",
  runs: "asking",
  find: ({ entries, state, shiftEnds }) => {
    const admitted = entries.find(({ placed }) => placed.entry.kind === "admitted")?.placed;
    const [first] = shiftEnds;
    if (admitted === undefined || first === undefined || state.weight !== null) return [];
    return [
      {
        code: "weight-missing",
        severity: "attention",
        subject: admitted.id,
        channel: null,
        start: admitted.entry.at,
        entries: [admitted.id],
        volume: null,
        sentence:
          "No weight is known, so urine per kilogram and the balance as a share of the weight cannot be told.",
        settledBy: [{ text: "A weight, measured or as it was at admission." }],
      },
    ];
  },
};
