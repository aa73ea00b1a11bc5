/** Which shifts a unit has: the one at a moment, and those before and after another, by the unit's own division of the day. */

import type { Unit } from "../api/shapes.js";
import { wallAt } from "../words/zone.js";

type Divided = Pick<Unit, "shifts" | "zone">;

/** "2026-03-04/night": the shift of a unit at a moment (ms since 1970). */
export function shiftAt({ shifts, zone }: Divided, moment: number): string {
  const wall = wallAt(zone, moment);
  const [date, time] = [wall.slice(0, 10), wall.slice(11)];
  const inOrder = [...shifts].sort((a, b) => a.starts.localeCompare(b.starts));
  const begun = inOrder.findLast(({ starts }) => starts <= time);
  // Before the first of a date's shifts the last one of the day before still goes on.
  return begun === undefined ? `${dayBeside(date, -1)}/${inOrder.at(-1)?.name}` : `${date}/${begun.name}`;
}

/** The shift just before (-1) or after (1) another of a unit; null for a shift the unit does not have. */
export function shiftBeside({ shifts }: Divided, shift: string, step: -1 | 1): string | null {
  const [date = "", name] = shift.split("/");
  const inOrder = [...shifts].sort((a, b) => a.starts.localeCompare(b.starts));
  const index = inOrder.findIndex((one) => one.name === name);
  if (index < 0) return null;
  const beside = inOrder[index + step];
  if (beside !== undefined) return `${date}/${beside.name}`;
  return `${dayBeside(date, step)}/${inOrder.at(step === 1 ? 0 : -1)?.name}`;
}

function dayBeside(date: string, days: number): string {
  return new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);
}
