/** Every kind of slip, in no order that matters: they are ranked by what they explain. */

import type { Microlitres } from "../../infusion/entry.js";
import type { Figure } from "./figure.js";
import { additionSlip } from "./kinds/addition-slip.js";
import { bagForDelivered } from "./kinds/bag-for-delivered.js";
import { broughtForward } from "./kinds/brought-forward.js";
import { carrierLeftOut } from "./kinds/carrier-left-out.js";
import { countedTwice } from "./kinds/counted-twice.js";
import { iceWhole } from "./kinds/ice-whole.js";
import { leftOut } from "./kinds/left-out.js";
import { neighbouringInterval } from "./kinds/neighbouring-interval.js";
import { notInTotals } from "./kinds/not-in-totals.js";
import { otherRow } from "./kinds/other-row.js";
import { otherSide } from "./kinds/other-side.js";
import { outputWhole } from "./kinds/output-whole.js";
import { outsideHours } from "./kinds/outside-hours.js";
import { readingNotDifferenced } from "./kinds/reading-not-differenced.js";
import { secondaryInPrimary } from "./kinds/secondary-in-primary.js";
import { signTurned } from "./kinds/sign-turned.js";
import { transposedDigits, transposedDigitsOf } from "./kinds/transposed-digits.js";
import { unitSlip, unitSlipOf } from "./kinds/unit-slip.js";
import { portionsOf } from "./portions.js";
import type { Sheet } from "./sheet.js";
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
  "outside-hours": outsideHours,
  "not-in-totals": notInTotals,
  "other-row": otherRow,
  "sign-turned": signTurned,
  "brought-forward": broughtForward,
};

const found = new WeakMap<Figure, readonly Slip[]>();

/** Everything that may have gone wrong with a figure, as far as it would show; looked for once. */
export function slipsOf(figure: Figure, sheet: Sheet): readonly Slip[] {
  const known = found.get(figure) ?? slipsIn(figure, sheet);
  found.set(figure, known);
  return known;
}

function slipsIn(figure: Figure, sheet: Sheet): Slip[] {
  const asked = { figure, portions: portionsOf(figure, sheet.row(figure)), sheet };
  const right = figure.charted - figure.difference;
  const slips = [
    ...Object.values(KINDS).flatMap((find) => [...find(asked)]),
    ...slipsOfWriting(figure, right, sheet.step),
  ];
  return slips.filter(({ effects }) => Math.abs(effects.get(figure) ?? 0) > figure.fit);
}

/** What may have gone wrong when the figure as a whole was written down, which should have been `right`. */
export function* slipsOfWriting(figure: Figure, right: Microlitres, step: Microlitres): Iterable<Slip> {
  yield* unitSlipOf(figure, right);
  yield* transposedDigitsOf(figure, right, step);
}
