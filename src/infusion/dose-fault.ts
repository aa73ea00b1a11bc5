/**
 * Why a dose, a drip rate or a duration cannot be turned into a rate or a volume. A fault is a value,
 * never thrown: `code` is for programs to switch on, `detail` one plain sentence for the person who
 * charted it.
 */

export type DoseFaultCode =
  /** The unit is none of a dose: not UCUM, an enzyme unit, drops, or a unit nobody doses in. */
  | "dose-unit-unknown"
  /** The dose is per body weight and no weight is known. */
  | "dose-without-weight"
  /** The dose is of a drug and nothing says how much of it the bag holds. */
  | "dose-without-concentration"
  /** Dose and bag speak of different things: mass, international units, moles, equivalents. */
  | "dose-unit-mismatch"
  /** A rate was wanted and the unit has no time in it. */
  | "dose-not-a-rate"
  /** An amount was wanted (a bolus, an additive) and the unit is a rate or per body weight. */
  | "dose-not-an-amount"
  | "rate-rounds-to-zero"
  | "volume-rounds-to-zero"
  /** Beyond what can be counted exactly in whole microlitres (2^53 - 1). */
  | "rate-out-of-range"
  | "volume-out-of-range";

export interface DoseFault {
  readonly code: DoseFaultCode;
  readonly detail: string;
}

export function doseFault(code: DoseFaultCode, detail: string): DoseFault {
  return { code, detail };
}

/** Tells a fault from whatever else a function of this folder answers with. */
export function isDoseFault(answer: unknown): answer is DoseFault {
  return typeof answer === "object" && answer !== null && "code" in answer && "detail" in answer;
}
