/**
 * Why a unit's change of its conventions may not be. The rule of a boundary and the shifts decide which
 * interval an amount belongs to, so they change only where one shift ends and the next starts; every
 * other setting may change at any instant, also a past one.
 */

import type { Instant } from "../time/instant.js";
import { checkShifts, type ShiftFault, sameShifts } from "../time/shift-pattern.js";
import { shiftAt } from "../time/shifts.js";
import { formatInstant } from "../time/zone.js";
import type { Conventions, SettingsChange } from "./dated.js";

/** What is wrong with a change, and with which part of it. */
export interface ChangeFault {
  readonly concerns: "boundary" | "shifts";
  readonly code: "not-a-shift-start" | ShiftFault["code"];
  readonly detail: string;
  /** The place in the list (from 0) of a shift that is wrong in itself. */
  readonly shift?: number;
  /** The shift starts before and after, either of which would do. */
  readonly nearest?: readonly [Instant, Instant];
}

/**
 * What is wrong with a change proposed to a unit whose conventions are `unit`; nothing when it may be
 * made. A boundary or shifts that are those in force already change nothing, and are free.
 */
export function changeFaults(change: SettingsChange, unit: Conventions): ChangeFault[] {
  const { effectiveFrom, settings, shifts } = change;
  const running = shiftAt(unit.stretches, effectiveFrom);
  const faults: ChangeFault[] = [];
  const onlyAtAShiftStart = (concerns: ChangeFault["concerns"]) => {
    if (running.start === effectiveFrom) return;
    const [before, after] = [running.start, running.end].map((at) => formatInstant(at, running.zone));
    const detail = `The ${concerns} may change only where a shift starts, such as ${before} or ${after}.`;
    faults.push({ concerns, code: "not-a-shift-start", detail, nearest: [running.start, running.end] });
  };
  const { boundary } = unit.settingsAt(effectiveFrom);
  if (settings.boundary !== undefined && settings.boundary !== boundary) onlyAtAShiftStart("boundary");
  if (shifts !== undefined) {
    faults.push(...checkShifts(shifts).map((fault) => ({ concerns: "shifts" as const, ...fault })));
    if (!sameShifts(shifts, unit.stretchAt(effectiveFrom).shifts)) onlyAtAShiftStart("shifts");
  }
  return faults;
}
