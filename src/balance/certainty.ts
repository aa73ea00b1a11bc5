/**
 * How sure a figure is. What nobody measured may make it more, what was lost may make it less; neither is
 * ever guessed at. A sum may be more where any part may.
 */

export interface Certainty {
  /** The true figure may be more: something is left out. */
  readonly more: boolean;
  /** The true figure may be less: something in it may not have been. */
  readonly less: boolean;
}

export const CERTAIN: Certainty = { more: false, less: false };

/** Of what is in dispute: a reading that a person confirmed and that what was charted does not explain. */
export const UNCERTAIN: Certainty = { more: true, less: true };

/** Of a sum. */
export function together(a: Certainty, b: Certainty): Certainty {
  return { more: a.more || b.more, less: a.less || b.less };
}

/** Of a difference: what may make the subtrahend more makes it less. */
export function difference(from: Certainty, taken: Certainty): Certainty {
  return { more: from.more || taken.less, less: from.less || taken.more };
}

export function isCertain({ more, less }: Certainty): boolean {
  return !more && !less;
}
