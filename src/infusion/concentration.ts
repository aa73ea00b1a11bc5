/**
 * How much of a drug a bag holds per volume. By convention it is the additive over the label volume:
 * what the bag is overfilled by, and the volume the additive itself brings, are left out, as the label
 * of a made-up bag leaves them out.
 */

import { type DoseFault, doseFault, isDoseFault } from "./dose-fault.js";
import { parseDoseUnit, type Substance } from "./dose-unit.js";
import type { Microlitres } from "./entry.js";
import { type Ratio, ratio, times } from "./ratio.js";

/** A drug in a bag, as charted when the bag was hung. */
export interface Additive {
  readonly name: string;
  /** Whole millionths of the unit. */
  readonly amount: number;
  readonly unit: string;
}

export interface Concentration {
  readonly substance: Substance;
  /** g, [iU], mol, eq or mL per millilitre. */
  readonly perMillilitre: Ratio;
}

/**
 * The concentration of one additive in a bag of a label volume (whole microlitres).
 * Faults: `dose-unit-unknown`; `dose-not-an-amount` for an additive per time or weight;
 * `dose-without-concentration` where the amount or the volume is not above zero.
 */
export function concentrationOf(
  additive: Omit<Additive, "name">,
  labelVolume: Microlitres,
): Concentration | DoseFault {
  const unit = parseDoseUnit(additive.unit);
  if (isDoseFault(unit)) return unit;
  if (unit.perWeight || unit.perTime) {
    return doseFault("dose-not-an-amount", `A bag holds an amount such as mg or [iU], not ${unit.code}.`);
  }
  if (additive.amount <= 0 || labelVolume <= 0) {
    return doseFault(
      "dose-without-concentration",
      "A bag without volume or without drug has no concentration.",
    );
  }
  // Millionths of the unit over microlitres: millionths and the thousand microlitres of a millilitre.
  const perMillilitre = times(ratio(additive.amount, labelVolume), ratio(1_000, 1_000_000));
  return { substance: unit.substance, perMillilitre: times(perMillilitre, unit.factor) };
}

/**
 * The concentration a dose is reckoned with: of the additive it names (capitals aside), or of the bag's
 * only one. Where the choice is open it is refused, never guessed.
 * Faults: `dose-without-concentration`, and those of `concentrationOf`.
 */
export function concentrationFor(
  of: string | undefined,
  additives: readonly Additive[],
  labelVolume: Microlitres,
): Concentration | DoseFault {
  const meant = of === undefined ? additives : additives.filter((each) => sameDrug(each.name, of));
  const [only, another] = meant;
  if (only !== undefined && another === undefined) return concentrationOf(only, labelVolume);
  const which = of === undefined ? "" : ` called "${of}"`;
  const detail =
    only === undefined
      ? `The bag has no additive${which}, so the dose gives no rate.`
      : `The bag has several additives${which}; the dose must name one of them and only that one.`;
  return doseFault("dose-without-concentration", detail);
}

/** Whether two names are charted for one drug: capitals and spaces aside. */
export function sameDrug(a: string, b: string): boolean {
  return drugKey(a) === drugKey(b);
}

/** What all spellings of a drug's name have in common. */
export function drugKey(name: string): string {
  return name.trim().replace(/\s+/g, " ").toLowerCase();
}
