/** Every kind of slip, in no order that matters: they are ranked by what they explain. */

import type { Figure } from "./figure.js";
import { additionSlip } from "./kinds/addition-slip.js";
import { bagForDelivered } from "./kinds/bag-for-delivered.js";
import { carrierLeftOut } from "./kinds/carrier-left-out.js";
import { countedTwice } from "./kinds/counted-twice.js";
import { iceWhole } from "./kinds/ice-whole.js";
import { leftOut } from "./kinds/left-out.js";
import { neighbouringInterval } from "./kinds/neighbouring-interval.js";
import { otherSide } from "./kinds/other-side.js";
import { outputWhole } from "./kinds/output-whole.js";
import { readingNotDifferenced } from "./kinds/reading-not-differenced.js";
import { secondaryInPrimary } from "./kinds/secondary-in-primary.js";
import { transposedDigits, transposedDigitsOf } from "./kinds/transposed-digits.js";
import { unitSlip, unitSlipOf } from "./kinds/unit-slip.js";
import type { FindSlips, Slip, SlipKind } from "./slip.js";

const KINDS: Readonly<Record<SlipKind, FindSlips>> = {
  "left-out": leftOut,
  "carrier-left-out": carrierLeftOut,
  "counted-twice": countedTwice,
  "neighbouring-interval": neighbouringInterval,
  "other-side": otherSide,
  "bag-for-delivered": bagForDelivered,
  "ice-whole": iceWhole,
  "output-whole": outputWhole,
  "secondary-in-primary": secondaryInPrimary,
  "unit-slip": unitSlip,
  "transposed-digits": transposedDigits,
  "reading-not-differenced": readingNotDifferenced,
  "addition-slip": additionSlip,
};

/** All that may have gone wrong with what a figure holds. */
export const slipsIn: FindSlips = function* (asked) {
  for (const find of Object.values(KINDS)) yield* find(asked);
};

/** What may have gone wrong when the figure as a whole was written down, which should have been `right`, in µL. */
export function* slipsOfWriting(figure: Figure, right: number, step: number): Iterable<Slip> {
  yield* unitSlipOf(figure, right);
  yield* transposedDigitsOf(figure, right, step);
}
