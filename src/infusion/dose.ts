/**
 * From a dose to what flows: dose × weight ÷ concentration, once, when the entry is recorded. The entry
 * keeps dose, weight, concentration and result, and is never computed again: a weight measured later
 * changes no flow of the past.
 *
 * Invariant: everything is a ratio of whole numbers until the one rounding, half up: a rate to the
 * channel's step, a bolus to a microlitre.
 */

import { type BodyWeight, kilograms } from "./body-weight.js";
import type { Concentration } from "./concentration.js";
import { type DoseFault, doseFault, isDoseFault } from "./dose-fault.js";
import { type DoseUnit, parseDoseUnit, type Substance } from "./dose-unit.js";
import type { Microlitres } from "./entry.js";
import type { Rate } from "./quantity.js";
import { DEFAULT_RATE_STEP, steppedRate } from "./rate-step.js";
import { dividedBy, nearestMultiple, type Ratio, ratio, times } from "./ratio.js";

export interface Dose {
  /** Whole millionths of the unit. */
  readonly value: number;
  /** UCUM, or a usual ward spelling of it. */
  readonly unit: string;
}

/** What a dose is reckoned with; each is needed only where the unit asks for it. */
export interface DoseBasis {
  readonly weight?: BodyWeight | undefined;
  readonly concentration?: Concentration | undefined;
}

/**
 * The rate of a dose per time (`ug/kg/min`, `[iU]/h`, `mL/kg/h`), half up to the step (whole
 * microlitres per hour). A dose in millilitres needs no concentration. Throws a RangeError for a dose
 * below zero.
 * Faults: every code but `dose-not-an-amount` and those of a volume.
 */
export function rateForDose(
  dose: Dose,
  basis: DoseBasis,
  step: number = DEFAULT_RATE_STEP,
): Rate | DoseFault {
  const unit = parseDoseUnit(dose.unit);
  if (isDoseFault(unit)) return unit;
  if (!unit.perTime) {
    return doseFault(
      "dose-not-a-rate",
      `${unit.code} has no time in it; a flow's dose is per time, like mg/h.`,
    );
  }
  const microlitresPerHour = microlitresOf(dose.value, unit, basis);
  return isDoseFault(microlitresPerHour) ? microlitresPerHour : steppedRate(microlitresPerHour, step);
}

/**
 * The volume of a single dose (`mg`, `[iU]/kg`, `mL/kg`), half up to a whole microlitre. Throws a
 * RangeError for a dose below zero.
 * Faults: every code but `dose-not-a-rate` and those of a rate.
 */
export function volumeForDose(dose: Dose, basis: DoseBasis): Microlitres | DoseFault {
  const unit = parseDoseUnit(dose.unit);
  if (isDoseFault(unit)) return unit;
  if (unit.perTime) {
    return doseFault(
      "dose-not-an-amount",
      `${unit.code} is per time; a bolus is an amount, like mg or [iU]/kg.`,
    );
  }
  const exact = microlitresOf(dose.value, unit, basis);
  if (isDoseFault(exact)) return exact;
  const volume = nearestMultiple(exact, 1);
  if (volume === 0n) {
    return doseFault("volume-rounds-to-zero", "The dose comes to less than half a microlitre.");
  }
  if (volume > BigInt(Number.MAX_SAFE_INTEGER)) {
    return doseFault(
      "volume-out-of-range",
      "The dose is beyond anything that can be counted in microlitres.",
    );
  }
  return Number(volume);
}

/** Microlitres, or microlitres per hour, of so many millionths of a unit: dose × weight ÷ concentration. */
function microlitresOf(millionths: number, unit: DoseUnit, basis: DoseBasis): Ratio | DoseFault {
  let amount = times(ratio(millionths, 1_000_000), unit.factor);
  if (unit.perWeight) {
    if (basis.weight === undefined || basis.weight.value <= 0) {
      return doseFault(
        "dose-without-weight",
        `A dose in ${unit.code} needs a body weight, and none is known.`,
      );
    }
    amount = times(amount, kilograms(basis.weight));
  }
  if (unit.substance === "volume") return times(amount, ratio(1_000));
  const { concentration } = basis;
  if (concentration === undefined) {
    const detail = `A dose in ${unit.code} needs to know how much of the drug the bag holds.`;
    return doseFault("dose-without-concentration", detail);
  }
  if (concentration.substance !== unit.substance) return mismatch(unit, concentration);
  return times(dividedBy(amount, concentration.perMillilitre), ratio(1_000));
}

const IN_WORDS: Readonly<Record<Substance, string>> = {
  mass: "mass",
  "arbitrary-unit": "international units",
  amount: "moles",
  equivalent: "equivalents",
  volume: "volume",
};

function mismatch(unit: DoseUnit, concentration: Concentration): DoseFault {
  return doseFault(
    "dose-unit-mismatch",
    `The dose is in ${IN_WORDS[unit.substance]} (${unit.code}) and the bag's drug in ` +
      `${IN_WORDS[concentration.substance]}; one is not converted into the other.`,
  );
}
