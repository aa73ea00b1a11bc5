/** How the shift is signed: what of it nobody has signed, and what was signed and is another now. */

import { type Audited, within } from "../audited.js";
import type { Measure } from "../measure.js";

/** Spans that stand do not overlap. */
function unsigned(audited: Audited): number {
  const { span, signed } = audited;
  return span.end - span.start - signed.reduce((sum, part) => sum + within(audited, part), 0);
}

export const SIGNATURES: readonly Measure[] = [
  {
    key: "unsigned-minutes",
    label: "Time not signed",
    form: "duration",
    definition:
      "How much of the time of the shift that has passed no signature covers. Of a running shift that is usually all.",
    counting: "Of all encounters, those with any.",
    over: "sum",
    take: unsigned,
  },
  {
    key: "signed-spans",
    label: "Spans signed",
    form: "count",
    definition: "Spans of the shift that a signature stands for.",
    counting: "Of all encounters, those with at least one.",
    over: "sum",
    take: ({ signed }) => signed.length,
  },
  {
    key: "changed-spans",
    label: "Spans changed after signing",
    form: "count",
    definition: "Signed spans of which a figure is another now, and that nobody has signed again.",
    counting: "Of the encounters of which something is signed, those with at least one.",
    over: "sum",
    take: ({ signed }) => (signed.length === 0 ? null : signed.filter(({ moved }) => moved > 0).length),
  },
];
