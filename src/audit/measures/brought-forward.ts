/** The balance that the shift starts from: whether it is known, and from when on. */

import type { Measure } from "../measure.js";

const DEFINITION =
  "The ledger brings the balance forward since the admission. Left out or in doubt is what came out or went in unmeasured, time of which nobody knows what flowed, a loss of unknown volume, and what a disputed reading says";
const COUNTING = "Of the encounters that began before the shift";

export const BROUGHT_FORWARD: readonly Measure[] = [
  {
    key: "brought-forward-known",
    label: "Balance brought forward is known",
    form: "yes-no",
    definition: `${DEFINITION}. Nothing of that kind stands before the shift.`,
    counting: `${COUNTING}, those of which it is known.`,
    over: null,
    take: ({ broughtForward }) => broughtForward?.known ?? null,
  },
  {
    key: "brought-forward-since",
    label: "Balance known since",
    form: "instant",
    definition: `${DEFINITION}. From when on, up to the shift, nothing of that kind stands: the admission where it is known, else the end of the last of it.`,
    counting: `${COUNTING}, all.`,
    over: null,
    take: ({ broughtForward }) => broughtForward?.since ?? null,
  },
];
