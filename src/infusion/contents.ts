/**
 * What drugs a bag holds, and at what strength. A drug leaves a bag with the fluid and is otherwise conserved: what is
 * added to a bag dilutes it, and no looking at a bag makes more of it.
 *
 * By common practice the label's concentration goes on into what a bag is overfilled by. What it gives beyond all that
 * was put in is then the most it can have been.
 */

import { stepOf } from "../conventions/settings.js";
import { type Additive, type Concentration, concentrationFor } from "./concentration.js";
import { type DoseFault, doseFault, isDoseFault } from "./dose-fault.js";
import { greater, lesser, minus, NOTHING, plus, shownAs, type Volume } from "./quantity.js";
import { ONE, type Ratio, ratio, reduced, times } from "./ratio.js";

/** Of a bag with additives. Values are never changed in place, so that one stretch of flow has one of them. */
export interface Contents {
  readonly additives: readonly Additive[];
  /** What the label says the additives are in. */
  readonly label: Volume;
  /** The concentration as a share of the label's: 1 until something is added. */
  readonly strength: Ratio;
  /** Something was added of which nobody says whether it held drug. */
  readonly topped: boolean;
  /** What the bag still holds once all the drug that was put in has gone out: nothing, unless a level found more. */
  readonly spentAt: Volume;
  /** All the drug that was put in has gone out. */
  readonly spent: boolean;
}

/**
 * Of a bag that holds so much when it is hung; null where no additive is known. `before` is what is known of the same
 * bag: its additives need not be said again, and cannot be others.
 */
export function contentsHung(
  before: { readonly holds: Volume; readonly contents: Contents | null } | undefined,
  { additives, label }: { readonly additives: readonly Additive[] | undefined; readonly label: Volume },
  holds: Volume,
): Contents | null {
  if (before !== undefined && before.contents !== null) {
    return before.holds === holds ? before.contents : contentsFound(before.contents, before.holds, holds);
  }
  if (additives === undefined || additives.length === 0) return null;
  const spentAt = greater(minus(holds, label), NOTHING);
  return contentsAt(holds, { additives, label, strength: ONE, topped: false, spentAt, spent: false });
}

/** A level says that a bag holds `holds`, not `held`: what is missing took its drug along, what is too much brought none. */
export function contentsFound(contents: Contents, held: Volume, holds: Volume): Contents {
  const carrying = lesser(minus(held, contents.spentAt), holds);
  return contentsAt(holds, { ...contents, spentAt: greater(minus(holds, carrying), NOTHING) });
}

/** A bag that held `held` was added to, or (by less than nothing) taken from. */
export function contentsAdjusted(contents: Contents, held: Volume, change: Volume): Contents {
  const holds = plus(held, change);
  if (change <= NOTHING || holds <= NOTHING) return contentsAt(holds, contents);
  const carrying = greater(minus(held, contents.spentAt), NOTHING);
  const strength = reduced(times(contents.strength, ratio(carrying, holds)));
  return { ...contents, strength, topped: true, spentAt: NOTHING, spent: false };
}

/** What the contents are once a bag holds so much. */
export function contentsAt(holds: Volume, contents: Contents): Contents {
  const spent = holds <= contents.spentAt;
  return spent === contents.spent ? contents : { ...contents, spent };
}

/** What a volume carried of each additive, in millionths of the unit it was charted in. */
export function carriedBy(volume: Volume, { additives, label, strength }: Contents): [Additive, Ratio][] {
  if (label <= NOTHING) return [];
  return additives
    .filter(({ amount }) => amount > 0)
    .map((additive) => [additive, ratio(volume * BigInt(additive.amount) * strength.n, label * strength.d)]);
}

/** The concentration a dose is reckoned with, as `concentrationFor` finds it, by what was added since. */
export function concentrationIn(
  contents: Contents | null,
  of: string | undefined,
): Concentration | DoseFault {
  const { additives, label, strength } = contents ?? { additives: [], label: NOTHING, strength: ONE };
  const found = concentrationFor(of, additives, shownAs(label, stepOf(1)));
  if (isDoseFault(found)) return found;
  if (strength.n > 0n) return { ...found, perMillilitre: times(found.perMillilitre, strength) };
  const detail = "All of the drug had gone out of the bag before something was added to it.";
  return doseFault("dose-without-concentration", detail);
}

/** The volume that the additives as charted are in: the label's, and more by what was added since. */
export function dissolvedIn({ label, strength }: Contents): Volume {
  return strength.n > 0n ? (((label * strength.d) / strength.n) as Volume) : label;
}
