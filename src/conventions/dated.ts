/**
 * Which unit, shifts and settings hold for a patient, and when. A stay is a list of stations, one per
 * unit; what a unit changes while the patient is there applies from the date it gives, in the order
 * of those dates. At every instant exactly one set of conventions is in force.
 */

import { earliest, type Instant, later, latest, type Period } from "../time/instant.js";
import type { ShiftPattern } from "../time/shift-pattern.js";
import type { Stretch } from "../time/shifts.js";
import { type Settings, type SomeSettings, withChanged } from "./settings.js";

/** A decision of a unit, in force from an instant on. */
export interface SettingsChange {
  readonly effectiveFrom: Instant;
  /** What changes; the rest stays as it was. */
  readonly settings: SomeSettings;
  /** The whole list, where the shifts change. */
  readonly shifts?: readonly ShiftPattern[];
}

/** A patient's time in one unit, from an instant until the next station. */
export interface Station {
  readonly from: Instant;
  readonly unit: string;
  readonly zone: string;
  /** What the unit had before any of `changes`. */
  readonly shifts: readonly ShiftPattern[];
  readonly settings: Settings;
  /** The unit's changes in the order in which they were recorded; those for after the station are left out. */
  readonly changes: readonly SettingsChange[];
}

/** Settings and the span in which they are in force. */
export interface SettingsSpan extends Period {
  readonly settings: Settings;
}

/** The conventions of a stay. What holds where it begins holds before that as well. */
export interface Conventions {
  readonly stretches: readonly Stretch[];
  /** Where the patient is at an instant, and the shifts there. */
  stretchAt(at: Instant): Stretch;
  settingsAt(at: Instant): Settings;
  /**
   * The settings for an amount at an instant. Where something changes at that very instant, the rule of the
   * boundary until then says whether it belongs to what ends there, and so to what held before.
   */
  settingsOfAmount(at: Instant): Settings;
  /** The settings in force over a period, in order; they tile it. */
  settingsIn(period: Period): readonly SettingsSpan[];
}

/** What is in force from an instant on. */
interface Regime extends Stretch {
  readonly settings: Settings;
}

/**
 * The conventions of a stay from its stations, in any order; of two that begin at one instant the one
 * that stands later in the list counts. Throws a RangeError when there are none.
 */
export function conventionsOf(stations: readonly Station[]): Conventions {
  const inOrder = stations.toSorted((a, b) => a.from - b.from);
  const lasting = inOrder.filter((station, place) => station.from !== inOrder[place + 1]?.from);
  const regimes = lasting.flatMap((station, place) =>
    regimesOf(station, lasting[place + 1]?.from ?? Infinity),
  );
  if (regimes.length === 0) throw new RangeError("a stay has at least one station");
  return {
    stretches: regimes.map(({ from, unit, zone, shifts }) => ({ from, unit, zone, shifts })),
    stretchAt: (at) => inForce(regimes, at),
    settingsAt: (at) => inForce(regimes, at).settings,
    settingsOfAmount: (at) => amountSettings((instant) => inForce(regimes, instant).settings, at),
    settingsIn: (period) =>
      regimes
        .map(({ from, settings }, place) => ({
          start: place === 0 ? period.start : latest(period.start, from),
          end: earliest(period.end, regimes[place + 1]?.from ?? period.end),
          settings,
        }))
        .filter(({ start, end }) => start < end),
  };
}

/** What counts for an amount at an instant, of settings that hold from an instant on. */
export function amountSettings<T extends Pick<Settings, "boundary">>(
  settingsAt: (at: Instant) => T,
  at: Instant,
): T {
  const before = settingsAt(later(at, -1));
  return before.boundary === "ends" ? before : { ...settingsAt(at), boundary: before.boundary };
}

/** What holds during a station that lasts until `end`, one regime for each instant at which something changes. */
function regimesOf(station: Station, end: number): readonly Regime[] {
  const { from, unit, zone, shifts, settings } = station;
  const regimes: Regime[] = [{ from, unit, zone, shifts, settings }];
  // The sort is stable: changes from one instant on apply in the order in which they were recorded.
  for (const change of station.changes.toSorted((a, b) => a.effectiveFrom - b.effectiveFrom)) {
    const last = regimes.at(-1) as Regime;
    if (change.effectiveFrom >= end) break;
    if (change.effectiveFrom <= last.from) regimes.pop();
    regimes.push({
      ...last,
      from: latest(last.from, change.effectiveFrom),
      settings: withChanged(last.settings, change.settings),
      shifts: change.shifts ?? last.shifts,
    });
  }
  return regimes;
}

/** The last regime that began by `at`, by halving; the first one for what came before. */
function inForce(regimes: readonly Regime[], at: Instant): Regime {
  let [low, high] = [0, regimes.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((regimes[middle] as Regime).from <= at) low = middle;
    else high = middle;
  }
  return regimes[low] as Regime;
}
