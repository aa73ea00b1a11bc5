/**
 * What a unit decides about its charts, in the units of the calculation: volumes in whole
 * microlitres, rates in whole microlitres per hour, times in milliseconds, shares in thousandths or
 * whole per cent. All are integers, so that the calculation stays exact. Every setting has a default.
 */

import { HOUR, MINUTE } from "../time/instant.js";

/** A step that shown volumes are rounded to, in whole microlitres (0.1 mL is 100). */
export type Step = number & { readonly step: true };

/** Makes a step of whole microlitres; throws a RangeError unless it is a whole number above 0. */
export function stepOf(microlitres: number): Step {
  if (!Number.isSafeInteger(microlitres) || microlitres <= 0) {
    throw new RangeError(`not a step in whole microlitres: ${microlitres}`);
  }
  return microlitres as Step;
}

export interface Settings {
  /** What shown volumes are rounded to. */
  readonly precision: Step;
  /** Which interval an amount charted exactly on a boundary belongs to: the one that ends or starts there. */
  readonly boundary: "ends" | "starts";
  /**
   * How far a reading may be from the computed volume and agree with it: the larger of a share (whole per
   * cent) and a floor by type of channel.
   */
  readonly readingTolerance: { readonly percent: number; readonly pump: number; readonly syringe: number };
  /** How far the level of a bag may be from the computed one, in whole per cent, by how it was read. */
  readonly levelTolerance: { readonly weighed: number; readonly scale: number };
  /** By how much a chart must differ from the ledger to be worth a note, and to need attention. */
  readonly chartTolerance: { readonly note: number; readonly attention: number };
  /** The span that a charted time stands for: one minute or five. */
  readonly chartingGrain: 60_000 | 300_000;
  /** What a bag may hold beyond its label, in thousandths of the label: 0 to 10,000. */
  readonly overfillAllowance: number;
  /** The volume of household measures by their lower-case names. */
  readonly household: Readonly<Record<string, number>>;
  /** The share of its volume that ice counts for, in thousandths. */
  readonly iceFraction: number;
  /** The share of its volume that a soft food counts for, in thousandths, by its lower-case name; others count whole. */
  readonly softFoods: Readonly<Record<string, number>>;
  /** What is inside the totals of the balance: each of these may be, or not. */
  readonly counts: {
    /** Blood products; they have a row of their own either way. */
    readonly bloodProducts: boolean;
    /** What flushes a line. */
    readonly flushes: boolean;
    /** What was given back of what came out (gastric residual): unless it counts, it is taken off. */
    readonly returned: boolean;
  };
  /** The question before a clear is asked when more than this is at risk. */
  readonly askAbove: number;
  /** Whether the primary was clamped is asked of a secondary above this rate. */
  readonly askClampedAbove: number;
  /** An entry is late when recorded this long after it happened. */
  readonly lateAfter: number;
  /** A running flow is unattended when nobody has recorded anything for this long, … */
  readonly unattendedAfter: number;
  /** … unless its rate is below this one. */
  readonly unattendedFrom: number;
  /** This long without any output is a gap. */
  readonly outputGapAfter: number;
  /** This long after its end a shift should have been signed. */
  readonly unsignedAfter: number;
  /** This long a flow may run at its keep-open rate. */
  readonly keepOpenAfter: number;
  /** This long a pause may last. */
  readonly pausedAfter: number;
  /** This long a bag may be dry before somebody should look. */
  readonly dryAfter: number;
  /** Within this time of a computed end an entry on the channel confirms it. */
  readonly endConfirmedWithin: number;
  /** What may be missing of a bag's contents: the larger of a volume and a share (whole per cent) of its label. */
  readonly unaccountedAbove: { readonly volume: number; readonly percent: number };
}

/**
 * What holds in a unit that has decided nothing. Household measures are the rounded ones of the bedside: a
 * cup is 8 ounces is 240 mL (LibreTexts, Home Health Aide), not the 236.6 mL of the exact table. That
 * ice counts half is common practice, and so are the tolerances and times. That gelatin, ice cream, broth and
 * soup count whole is from nursing examination banks that print the result (tests/check-values, IO-2, IO-3, IO-7).
 */
export const defaultSettings: Settings = {
  precision: stepOf(100),
  boundary: "ends",
  readingTolerance: { percent: 5, pump: 2_000, syringe: 200 },
  levelTolerance: { weighed: 5, scale: 20 },
  chartTolerance: { note: 10_000, attention: 50_000 },
  chartingGrain: MINUTE,
  overfillAllowance: 100,
  household: {
    cup: 240_000,
    ounce: 30_000,
    pint: 480_000,
    quart: 960_000,
    tablespoon: 15_000,
    teaspoon: 5_000,
  },
  iceFraction: 500,
  softFoods: { broth: 1_000, gelatin: 1_000, "ice cream": 1_000, soup: 1_000 },
  counts: { bloodProducts: true, flushes: true, returned: false },
  askAbove: 2_000,
  askClampedAbove: 300_000,
  lateAfter: 2 * HOUR,
  unattendedAfter: 4 * HOUR,
  unattendedFrom: 10_000,
  outputGapAfter: 8 * HOUR,
  unsignedAfter: 2 * HOUR,
  keepOpenAfter: HOUR,
  pausedAfter: HOUR,
  dryAfter: 15 * MINUTE,
  endConfirmedWithin: 15 * MINUTE,
  unaccountedAbove: { volume: 50_000, percent: 10 },
};

/** Some of the settings; of those that are groups (tolerances, household measures) some of the group. */
export type SomeSettings = {
  readonly [Key in keyof Settings]?:
    | (Settings[Key] extends number | string ? Settings[Key] : Partial<Settings[Key]>)
    | undefined;
};

/** The settings in force with some of them changed, key by key, in groups too; the others stay. */
export function withChanged(inForce: Settings, changed: SomeSettings): Settings {
  const result: Record<string, unknown> = { ...inForce };
  for (const [key, value] of Object.entries(changed)) {
    if (value === undefined) continue;
    result[key] = typeof value === "object" ? { ...(result[key] as object), ...withoutGaps(value) } : value;
  }
  return result as unknown as Settings;
}

function withoutGaps(group: object): object {
  return Object.fromEntries(Object.entries(group).filter(([, value]) => value !== undefined));
}

/** What a household measure holds, in whole microlitres; undefined for one the unit does not know. */
export function measureVolume(
  { household }: Pick<Settings, "household">,
  measure: string,
): number | undefined {
  return listedFor(household, measure);
}

/** The share that an item charted as taken in counts for, in thousandths; undefined for one the unit does not list. */
export function shareOfItem({ softFoods }: Pick<Settings, "softFoods">, item: string): number | undefined {
  return listedFor(softFoods, item);
}

/** Only what is in the table itself: every object also answers to names such as "constructor". */
function listedFor(table: Readonly<Record<string, number>>, name: string): number | undefined {
  const listed = name.trim().replace(/\s+/g, " ").toLowerCase();
  return Object.hasOwn(table, listed) ? table[listed] : undefined;
}
