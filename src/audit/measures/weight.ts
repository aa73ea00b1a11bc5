/** Whether urine per kilogram and the share of the weight can be told. */

import type { Measure } from "../measure.js";

export const WEIGHT: readonly Measure[] = [
  {
    key: "weight-missing",
    label: "Weight missing",
    form: "yes-no",
    definition: "Nobody has written down what the patient weighs by the end of the shift, nor at admission.",
    counting: "Of all encounters, those without a weight.",
    over: null,
    take: ({ weightMissing }) => weightMissing,
  },
];
