/** What stands beside the balance, in words: what nobody measured, what was lost, shares and changes of weight. */

import type { ShiftFigures } from "../api/shapes.js";
import { categoryName } from "../picture/sentences.js";
import type { Speech } from "../words/language.js";

export function besides(shift: ShiftFigures, speech: Speech): string[] {
  return [...notMeasured(shift, speech), ...lostAndWeighed(shift, speech)];
}

/** A sentence per category of which something was not measured. */
export function notMeasured({ balance }: ShiftFigures, speech: Speech): string[] {
  const { words } = speech;
  return balance.unmeasured.map(({ key, total }) =>
    words.balance.unmeasured(words.balance.times(total), categoryName(key, speech)),
  );
}

export function lostAndWeighed({ balance }: ShiftFigures, { words, figure, volume }: Speech): string[] {
  const { lost, shareOfAdmissionWeight: share, weightChange } = balance;
  return [
    ...lost.map(({ takenOff, channel }) => words.balance.lost(volume(takenOff), channel)),
    ...(share.percent === null ? [] : [`${words.balance.share}: ${figure(share.percent)}\u00a0%`]),
    ...(weightChange === null ? [] : [`${words.balance.weight}: ${figure(weightChange.kilograms)}\u00a0kg`]),
  ];
}
